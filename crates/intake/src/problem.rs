//! A problem: where, what was found, what was expected, and the nearest right word.

use std::fmt;
use witnessmark_core::build::Unknown;

/// What is wrong with a text that came in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problem {
    /// The file it stands in, where it came from a file.
    pub file: Option<String>,
    /// Line and column, counted from 1, where it came from a file.
    pub place: Option<(usize, usize)>,
    /// The path of the field: `settings.spacers_under`; empty where the text never became fields.
    pub path: String,
    /// What was found and what was expected, as one sentence without its full stop.
    pub says: String,
    /// The nearest right word, where a word is unknown and one is near.
    pub nearest: Option<String>,
}

impl Problem {
    /// A problem of a field.
    pub(crate) fn at(path: &str, says: impl Into<String>) -> Self {
        Problem { path: path.to_owned(), says: on_one_line(&says.into()), ..Problem::default() }
    }

    /// An unknown key, with the nearest right one.
    pub(crate) fn unknown(path: &str, unknown: &Unknown) -> Self {
        let nearest = nearest(&unknown.key, &unknown.candidates);
        let depth = unknown.at;
        let table: Vec<&str> = path.split('.').take(depth).collect();
        let place = if table.is_empty() { "the document".to_owned() } else { format!("[{}]", table.join(".")) };
        let says = if unknown.key.is_empty() {
            format!("{place} is a table, and a value stands in its place")
        } else if unknown.candidates.is_empty() {
            format!("“{}” stands below {place}, which is a field and has nothing below it", unknown.key)
        } else {
            let known = listed(&unknown.candidates);
            format!("{place} has no “{}”; it may have {known}", unknown.key)
        };
        Problem { nearest, ..Problem::at(path, says) }
    }

    /// The sentence for beside a field: without file and path.
    pub fn sentence(&self) -> String {
        let hint = self.nearest.as_ref().map_or_else(String::new, |word| format!(" — did you mean “{word}”?"));
        format!("{}{hint}", self.says)
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(file) = &self.file {
            write!(f, "{}:", on_one_line(file))?;
        }
        if let Some((line, column)) = self.place {
            write!(f, "{line}:{column}:")?;
        }
        if self.file.is_some() || self.place.is_some() {
            f.write_str(" ")?;
        }
        if !self.path.is_empty() {
            write!(f, "{}: ", on_one_line(&self.path))?;
        }
        f.write_str(&self.sentence())
    }
}

impl std::error::Error for Problem {}

/// Text that came from outside, as a message on one line can repeat it: a bell or a line's end in it is shown as a sign.
fn on_one_line(text: &str) -> String {
    text.chars().map(|sign| if sign.is_control() { '\u{fffd}' } else { sign }).collect()
}

/// The first few candidates, and whether there are more.
fn listed(candidates: &[String]) -> String {
    const SHOWN: usize = 6;
    let shown: Vec<&str> = candidates.iter().take(SHOWN).map(String::as_str).collect();
    let more = if candidates.len() > SHOWN { " and more" } else { "" };
    format!("{}{more}", shown.join(", "))
}

/// The candidate that is most like the word, where one is like it at all.
pub(crate) fn nearest(word: &str, candidates: &[String]) -> Option<String> {
    // Half-way between "another word" and "the same word with a slip": found by trying slips of the keys there are.
    const ALIKE: f64 = 0.6;
    candidates
        .iter()
        .map(|candidate| (strsim::normalized_damerau_levenshtein(word, candidate), candidate))
        .filter(|(likeness, _)| *likeness >= ALIKE)
        .max_by(|(a, _), (b, _)| a.total_cmp(b))
        .map(|(_, candidate)| candidate.clone())
}
