//! A build back into the text of a file: what [`document`](crate::document) reads, with every value as it was typed.

use std::fmt::Write as _;
use toml::Value;
use toml::de::DeValue;
use witnessmark_core::Build;
use witnessmark_core::build::FORM;

/// Writes a build as a TOML document. Reading it back gives the same build, to the letter of what was typed.
pub fn write(build: &Build) -> String {
    let mut text = format!("form = {FORM}\n");
    let mut open_table = String::new();
    let leaves = build.leaves();
    let mut rest = leaves.iter().peekable();
    while let Some((path, leaf)) = rest.next() {
        let (table, key) = path.rsplit_once('.').unwrap_or(("", path));
        if table != open_table {
            table.clone_into(&mut open_table);
            let _ = write!(text, "\n[{table}]\n");
        }
        // A text stays a text even where it looks like a number: a screw's class «12.9», a name «2027».
        let value = match leaf.value {
            witnessmark_core::field::Value::Text(_) => Value::String(leaf.typed.clone()).to_string(),
            _ => as_toml(&leaf.typed),
        };
        // An origin follows its fact at once: the two stand in one inline table.
        let origin = rest.next_if(|(next, _)| next.strip_suffix(".from") == Some(path));
        let _ = match origin {
            Some((_, origin)) => writeln!(text, "{key} = {{ value = {value}, from = {} }}", as_toml(&origin.typed)),
            None => writeln!(text, "{key} = {value}"),
        };
    }
    text
}

/// A typed text as a TOML value: bare where that reads back to the same text, in quotes otherwise.
pub(crate) fn as_toml(typed: &str) -> String {
    let bare = DeValue::parse(typed).is_ok_and(|value| match value.get_ref() {
        DeValue::Integer(_) | DeValue::Float(_) | DeValue::Datetime(_) => value.span() == (0..typed.len()),
        _ => false,
    });
    if bare { typed.to_owned() } else { Value::String(typed.to_owned()).to_string() }
}
