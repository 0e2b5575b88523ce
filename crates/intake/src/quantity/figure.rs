//! The figure at the beginning of a text: `35`, `3,5`, `.5`, `1 1/8`, `1⅛`, `-2e-3`.

use super::refusal::Why;

/// A figure and what stands behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Figure<'t> {
    /// Its value, sign included.
    pub(super) value: f64,
    /// The text behind it, as it stands.
    pub(super) rest: &'t str,
}

/// The same text in the few signs the rest of this room knows.
///
/// White space of every width becomes a plain space, the several minus signs, quotes and middle dots become one each,
/// and both ends are trimmed.
pub(super) fn tidied(text: &str) -> String {
    let text: String = text.chars().filter(|&c| !is_invisible(c)).map(plain_sign).collect();
    text.trim().to_owned()
}

/// Marks that are pasted along unseen: byte-order mark, zero-width space and joiners, direction marks.
fn is_invisible(c: char) -> bool {
    matches!(c, '\u{feff}' | '\u{200b}'..='\u{200f}' | '\u{2060}')
}

fn plain_sign(c: char) -> char {
    match c {
        c if c.is_whitespace() => ' ',
        '−' | '–' | '‐' | '‑' => '-',
        '″' | '”' | '“' | '„' => '"',
        '′' | '’' | '‘' => '\'',
        '⁄' | '∕' => '/',
        '⋅' | '•' | '∙' | '*' | '×' => '·',
        'º' | '˚' => '°',
        c => c,
    }
}

/// Reads the figure that `text` (already [`tidied`]) begins with; refuses a text that begins with none.
pub(super) fn take(text: &str) -> Result<Figure<'_>, Why> {
    let (negative, unsigned) = match text.as_bytes().first() {
        Some(b'-') => (true, text[1..].trim_start()),
        Some(b'+') => (false, text[1..].trim_start()),
        _ => (false, text),
    };
    let Figure { value, rest } = take_unsigned(unsigned)?;
    Ok(Figure { value: if negative { -value } else { value }, rest })
}

fn take_unsigned(text: &str) -> Result<Figure<'_>, Why> {
    if let Some(fraction) = take_fraction(text)? {
        return Ok(fraction);
    }
    let (digits, rest) = split_where(text, |c| !(c.is_ascii_digit() || c == '.' || c == ','));
    if !digits.bytes().any(|b| b.is_ascii_digit()) {
        return Err(Why::NotANumber);
    }
    let decimal = with_decimal_point(digits)?;
    let (exponent, rest) = split_exponent(rest);
    let value: f64 = format!("{decimal}{exponent}").parse().map_err(|_| Why::NotANumber)?;
    let is_zero = !digits.bytes().any(|b| (b'1'..=b'9').contains(&b));
    if !value.is_finite() || (value == 0.0 && !is_zero) {
        return Err(Why::Beyond);
    }

    let whole = exponent.is_empty() && digits.bytes().all(|b| b.is_ascii_digit());
    if whole {
        // `1 1/8`, `1-1/8`, `1⅛`: a whole number, then a fraction of one.
        let behind = rest.trim_start();
        if let Some(part) = take_fraction(behind.strip_prefix('-').unwrap_or(behind))? {
            if part.value >= 1.0 {
                return Err(Why::Fraction);
            }
            return Ok(Figure { value: value + part.value, rest: part.rest });
        }
    }
    Ok(Figure { value, rest })
}

/// `3,5` and `3.5` alike; refuses what could be thousands.
///
/// A point is always a decimal point, because documents are written with it. A comma is a decimal comma, save where
/// exactly three digits follow one to three that do not begin with zero: `1,234` is 1234 to one reader and 1.234 to the
/// next, a thousandfold difference that nobody here may decide.
fn with_decimal_point(digits: &str) -> Result<String, Why> {
    if digits.contains("..") {
        return Err(Why::TwoNumbers);
    }
    if digits.bytes().filter(|b| !b.is_ascii_digit()).count() > 1 {
        return Err(Why::Separators);
    }
    if let Some((before, after)) = digits.split_once(',')
        && after.len() == 3
        && (1..=3).contains(&before.len())
        && !before.starts_with('0')
    {
        return Err(Why::CommaOrThousands);
    }
    Ok(digits.replace(',', "."))
}

/// `e-7` of `e-7 mm`; empty when an `e` is not followed by digits (it is then part of a unit).
fn split_exponent(text: &str) -> (&str, &str) {
    let Some(behind) = text.strip_prefix(['e', 'E']) else {
        return ("", text);
    };
    let digits = behind.strip_prefix(['+', '-']).unwrap_or(behind);
    let (digits, rest) = split_where(digits, |c| !c.is_ascii_digit());
    if digits.is_empty() { ("", text) } else { (&text[..text.len() - rest.len()], rest) }
}

/// `1/8` or `⅛`, if the text begins with one; refuses fractions that are not on an inch rule.
///
/// Only powers of two are taken, so the value is exact, and a pair of teeth such as `50/34` does not pass for a number.
fn take_fraction(text: &str) -> Result<Option<Figure<'_>>, Why> {
    if let Some(first) = text.chars().next()
        && let Some(value) = vulgar(first)
    {
        return Ok(Some(Figure { value, rest: &text[first.len_utf8()..] }));
    }
    let (above, rest) = split_where(text, |c| !c.is_ascii_digit());
    let Some(rest) = rest.trim_start().strip_prefix('/') else {
        return Ok(None);
    };
    let (below, rest) = split_where(rest.trim_start(), |c| !c.is_ascii_digit());
    if above.is_empty() || below.is_empty() {
        return Ok(None);
    }
    let (Ok(above), Ok(below)) = (above.parse::<u16>(), below.parse::<u16>()) else {
        return Err(Why::Fraction);
    };
    if !matches!(below, 2 | 4 | 8 | 16 | 32 | 64) || rest.starts_with('/') {
        return Err(Why::Fraction);
    }
    Ok(Some(Figure { value: f64::from(above) / f64::from(below), rest }))
}

/// The value of a fraction that is one character.
pub(super) fn vulgar(c: char) -> Option<f64> {
    match c {
        '½' => Some(0.5),
        '¼' => Some(0.25),
        '¾' => Some(0.75),
        '⅛' => Some(0.125),
        '⅜' => Some(0.375),
        '⅝' => Some(0.625),
        '⅞' => Some(0.875),
        _ => None,
    }
}

/// Cuts before the first character that `is_end`.
pub(super) fn split_where(text: &str, is_end: impl Fn(char) -> bool) -> (&str, &str) {
    text.split_at(text.find(is_end).unwrap_or(text.len()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> Result<f64, Why> {
        take(&tidied(text)).map(|figure| figure.value)
    }

    #[test]
    fn figures_are_read_as_they_are_written_on_a_bench() {
        let table = [
            ("35", 35.0),
            ("+35", 35.0),
            ("- 3", -3.0),
            ("\u{2212}3,5", -3.5),
            ("\u{a0}3.5\u{202f}", 3.5),
            (".5", 0.5),
            (",5", 0.5),
            ("5.", 5.0),
            ("1/8", 0.125),
            ("1 1/8", 1.125),
            ("1-1/8", 1.125),
            ("1⅛", 1.125),
            ("1 ⅛", 1.125),
            ("¾", 0.75),
            ("27/64", 0.421_875),
            ("9/8", 1.125),
            ("-1 1/2", -1.5),
            ("1\u{2044}2", 0.5),
            ("2e3", 2_000.0),
            ("2,5E-1", 0.25),
            ("0,125", 0.125),
            ("1234,567", 1_234.567),
            ("1.234", 1.234),
            ("007", 7.0),
        ];
        for (text, expected) in table {
            assert_eq!(value(text), Ok(expected), "{text}");
        }
    }

    #[test]
    fn what_could_be_thousands_is_never_guessed() {
        for text in ["1.234,5", "1,234.5", "1.234.567", "1,234,567", "1,2,3", "1.2.3"] {
            assert_eq!(value(text), Err(Why::Separators), "{text}");
        }
        for text in ["1,234", "12,345", "999,000"] {
            assert_eq!(value(text), Err(Why::CommaOrThousands), "{text}");
        }
    }

    #[test]
    fn a_fraction_off_the_inch_rule_is_refused() {
        for text in ["1/3", "50/34", "1/0", "1 9/8", "1/128", "99999999/2", "1/2/4"] {
            assert_eq!(value(text), Err(Why::Fraction), "{text}");
        }
    }

    #[test]
    fn a_text_that_begins_with_no_figure_is_no_number() {
        for text in ["", "mm", "NaN", "inf", "-inf", "--5", "+-5", "±5", "e5", ".", ",", "-", "/8", "€5", "３"] {
            assert_eq!(value(text), Err(Why::NotANumber), "{text}");
        }
    }

    #[test]
    fn a_number_beyond_all_numbers_is_refused_and_not_rounded_to_nothing() {
        for text in ["1e999", "-1e999", "1e-999", "1e99999999999999999999"] {
            assert_eq!(value(text), Err(Why::Beyond), "{text}");
        }
        assert_eq!(value("0e999"), Ok(0.0));
    }

    #[test]
    fn what_stands_behind_the_figure_is_left_alone() {
        assert_eq!(take("5 e").map(|figure| figure.rest), Ok(" e"));
        assert_eq!(take("5e").map(|figure| figure.rest), Ok("e"));
        assert_eq!(take("1 1/8 in").map(|figure| figure.rest), Ok(" in"));
        assert_eq!(take("5 / 11").map(|figure| figure.rest), Err(Why::Fraction));
    }
}
