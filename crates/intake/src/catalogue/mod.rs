//! Parts for the catalogue: tables of one kind as CSV, many kinds as TOML, and both back into text.
//!
//! A table is read row by row ([`CsvRows`]), so that a file of any length takes the memory of one row and of the ids seen.
//! Every slip in a row is reported, with row, column, what was found and what was expected, and reading goes on; only what
//! makes the rest unreadable ends it. A writer stands beside each reader here, because the two must be each other's inverse:
//! what was written reads back as the same parts.

mod cell;
mod csv;
mod decode;
mod guide;
mod heading;
mod toml;

pub use csv::{CsvRows, LONGEST_ROW, MOST_COLUMNS, MOST_ROWS, kind_of_file, write_csv, write_template};
pub use decode::Encoding;
pub use guide::guide;
pub use toml::{LARGEST_TOML, read_toml, write_toml};

use crate::Problem;
use crate::field::value;
use witnessmark_core::catalogue::{Column, Entry, Incoming, column};
use witnessmark_core::field::{Given, Leaf};
use witnessmark_core::part::{self, PartKind};

/// What a file says about one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// The line it begins on, counted from 1.
    pub line: u64,
    /// The part as the file has it, and what it says is not known.
    pub incoming: Incoming,
}

/// What a person writes where a fact is known not to be known: the one that is kept goes.
pub const NOT_KNOWN: &str = "?";

/// A part as it is kept: from its leaves. A leaf that cannot be read is left out and reported.
///
/// ```
/// let leaves = [("name", "Plain stem"), ("length", "11 cm"), ("length.from", "measured here")];
/// let (entry, problems) = witnessmark_intake::catalogue::entry("stem", "plain", leaves).expect("stems are a kind");
/// assert!(problems.is_empty());
/// assert_eq!(entry.number("length_mm"), Some(110.0));
/// ```
pub fn entry<K, T>(kind: &str, id: &str, leaves: impl IntoIterator<Item = (K, T)>) -> Option<(Entry, Vec<Problem>)>
where
    K: AsRef<str>,
    T: AsRef<str>,
{
    let kind = part::kind(kind)?;
    let mut entry = Entry::new(kind, id);
    let mut problems = Vec::new();
    for (key, typed) in leaves {
        let (key, typed) = (key.as_ref(), typed.as_ref());
        let read = match column(kind, key) {
            None => Err((format!("a {} has no “{key}”", words(kind)), None)),
            Some(column) => leaf(kind, column, typed).map(|leaf| entry.set(column, leaf)),
        };
        if let Err((says, nearest)) = read {
            problems.push(Problem { nearest, ..Problem::at(&format!("{}.{id}.{key}", kind.key), says) });
        }
    }
    Some((entry, problems))
}

/// Reads a text for a column.
fn leaf(kind: &'static PartKind, column: Column, typed: &str) -> Result<Leaf, (String, Option<String>)> {
    if let Some(sign) = typed.chars().find(|sign| sign.is_control()) {
        let code = u32::from(sign);
        let says = match sign {
            '\n' | '\r' => "the text goes on on another line; text on one line was expected".to_owned(),
            _ => format!("the text holds the control character U+{code:04X}; text on one line was expected"),
        };
        return Err((says, None));
    }
    let value = value(&column.field(kind), typed)?;
    Ok(Given { value, typed: typed.to_owned(), origin: None })
}

/// A kind in a sentence: `front_derailleur` reads "front derailleur".
fn words(kind: &PartKind) -> String {
    kind.key.replace('_', " ")
}

/// An id made of what was written instead of one, where all of it can be used.
fn slug(written: &str) -> Option<String> {
    if !written.is_ascii() {
        return None;
    }
    let mut slug = String::new();
    for sign in written.to_lowercase().chars() {
        if sign.is_ascii_alphanumeric() {
            slug.push(sign);
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    slug.truncate(part::LONGEST_NAME);
    let slug = slug.trim_end_matches('-');
    part::is_name(slug).then(|| slug.to_owned())
}
