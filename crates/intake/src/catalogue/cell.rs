//! A cell of a table: guarded against spreadsheets that take a text for a formula.
//!
//! A spreadsheet runs a cell that begins with `=`, `+`, `-` or `@`; a part named `=…` would be a program on somebody's
//! desk. On the way out such a text gets an apostrophe before it, which spreadsheets take for "this is text"; on the way in
//! it is taken off. A plain number with its sign is left alone: it is a number to the spreadsheet too.

use std::borrow::Cow;

const STARTS_A_FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// A text as it is written into a cell.
pub(super) fn guarded(text: &str) -> Cow<'_, str> {
    let bare = text.trim_start_matches('\'');
    let is_number = bare.len() == text.len() && is_plain_number(text);
    if bare.starts_with(STARTS_A_FORMULA) && !is_number { Cow::Owned(format!("'{text}")) } else { Cow::Borrowed(text) }
}

/// The text that was meant by a cell.
pub(super) fn unguarded(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(text) if text.trim_start_matches('\'').starts_with(STARTS_A_FORMULA) => text,
        _ => cell,
    }
}

fn is_plain_number(text: &str) -> bool {
    let digits = text.strip_prefix(['-', '+']).unwrap_or(text);
    digits.starts_with(|c: char| c.is_ascii_digit())
        && digits.chars().all(|c| c.is_ascii_digit() || c == '.')
        && digits.matches('.').count() <= 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_formula_is_written_as_text_and_a_number_as_a_number() {
        assert_eq!(guarded("=cmd()"), "'=cmd()");
        assert_eq!(guarded("@SUM(A1)"), "'@SUM(A1)");
        assert_eq!(guarded("-6 degrees"), "'-6 degrees");
        assert_eq!(guarded("-2+3"), "'-2+3");
        assert_eq!(guarded("-6"), "-6");
        assert_eq!(guarded("+5.5"), "+5.5");
        assert_eq!(guarded("plain = good"), "plain = good");
        assert_eq!(unguarded("'round 7"), "'round 7");
    }

    proptest! {
        #[test]
        fn no_cell_begins_a_formula_and_every_text_comes_back(text in "['=+@\\-0-9a-z. ]{0,8}|\\PC*") {
            let cell = guarded(&text);
            prop_assert!(!cell.starts_with(STARTS_A_FORMULA) || is_plain_number(&cell), "{cell}");
            prop_assert_eq!(unguarded(&cell), text.as_str());
        }
    }
}
