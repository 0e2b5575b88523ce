//! Why a text was not taken, in one plain sentence: what was found, and what was expected.

use super::{Dimension, plain};
use std::fmt;

/// A text that was not taken. Its [`Display`](fmt::Display) is the sentence to show beside the field.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// What was typed (in a list: the item at fault), shortened if it is very long.
    pub found: String,
    /// What was to be read.
    pub expected: Dimension,
    /// What is wrong with it.
    pub why: Why,
}

impl std::error::Error for Refusal {}

/// What is wrong with a text.
#[derive(Clone, Debug, PartialEq)]
pub enum Why {
    /// Nothing but white space.
    Empty,
    /// Longer than any quantity is.
    TooLong,
    /// Does not begin with a number.
    NotANumber,
    /// More than one number where one belongs.
    TwoNumbers,
    /// `1.234,5`, `1,234.5`, `1.234.567`: thousands signs, or decimal signs that contradict each other.
    Separators,
    /// `1,234`: one and a bit with a decimal comma, or twelve hundred with a thousands sign.
    CommaOrThousands,
    /// A fraction that is not found on an inch rule, or whose numerator is too large.
    Fraction,
    /// Too large or too small for any number, such as `1e999`.
    Beyond,
    /// A unit nobody here knows.
    UnknownUnit(String),
    /// A unit, but of another dimension.
    Is(Dimension),
    /// A currency sign; the currency is the workshop's.
    Currency,
    /// A whole number was wanted.
    NotWhole,
    /// Outside what is sane for the field.
    OutOfRange {
        /// What it would have been, in the house unit.
        value: f64,
        /// The smallest that is taken.
        low: f64,
        /// The largest that is taken.
        high: f64,
    },
    /// In a list: commas that could part values or be decimal commas.
    ListCommas,
    /// In a list: two separators with nothing between them.
    ListGap,
    /// In a list: some values carry a unit, others do not.
    ListUnits,
    /// In a list: more values than anything here needs.
    ListTooMany,
    /// In a range: no step was given.
    StepMissing,
    /// In a range: the step is not more than zero.
    StepNotPositive,
    /// In a range: the end comes before the beginning.
    RangeBackwards,
    /// In a range: steps from the beginning do not land on the end.
    StepMissesEnd {
        /// The last value that the steps do reach.
        last: f64,
    },
}

/// The most values a list or a range may hold.
pub(super) const MOST_VALUES: usize = 1_000;
/// The most characters one text may hold: a list of [`MOST_VALUES`] with its units has room.
pub(super) const MOST_CHARACTERS: usize = 20_000;
/// How much of a text a sentence repeats.
const SHOWN_CHARACTERS: usize = 40;

impl Refusal {
    pub(super) fn new(text: &str, expected: Dimension, why: Why) -> Self {
        let text = text.trim();
        let mut found: String = text.chars().take(SHOWN_CHARACTERS).map(printable).collect();
        if text.chars().nth(SHOWN_CHARACTERS).is_some() {
            found.push('…');
        }
        let why = match why {
            Why::UnknownUnit(unit) => Why::UnknownUnit(unit.chars().map(printable).collect()),
            other => other,
        };
        Self { found, expected, why }
    }
}

/// A character as a one-line sentence can show it.
fn printable(c: char) -> char {
    if c.is_whitespace() {
        ' '
    } else if c.is_control() {
        '\u{fffd}'
    } else {
        c
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { found, expected, why } = self;
        let wanted = format!("{} was expected, such as {}", expected.noun(), expected.examples());
        match why {
            Why::Empty => write!(f, "nothing was typed; {wanted}"),
            Why::TooLong => write!(f, "“{found}” is far too long; {wanted}"),
            Why::NotANumber => write!(f, "“{found}” is not a number; {wanted}"),
            Why::TwoNumbers => write!(f, "“{found}” holds more than one number; {wanted}"),
            Why::Separators => write!(
                f,
                "“{found}” has more than one decimal or thousands sign; write it with one decimal sign at most, such as 1234.5"
            ),
            Why::CommaOrThousands => write!(
                f,
                "“{found}” can be read in two ways; write {} or {}",
                found.replace(',', "."),
                found.replace(',', "")
            ),
            Why::Fraction => write!(
                f,
                "“{found}” has a fraction that is on no inch rule; halves, quarters, eighths and so on to sixty-fourths were expected, such as 1 1/8, or a decimal"
            ),
            Why::Beyond => write!(f, "“{found}” is too large or too small to be a number here; {wanted}"),
            Why::UnknownUnit(unit) => write!(f, "“{found}” has a unit that is not known, “{unit}”; {wanted}"),
            Why::Is(dimension) => write!(f, "“{found}” is {}; {wanted}", dimension.noun()),
            Why::Currency => write!(
                f,
                "“{found}” has a currency sign; the currency is the workshop's own, and the number alone was expected, such as {}",
                expected.examples()
            ),
            Why::NotWhole => write!(f, "“{found}” is not whole; {wanted}"),
            Why::OutOfRange { value, low, high } => write!(
                f,
                "“{found}” is {}; {} between {} and {} was expected",
                with_unit(*value, *expected),
                expected.noun(),
                with_unit(*low, *expected),
                with_unit(*high, *expected)
            ),
            Why::ListCommas => write!(
                f,
                "“{found}” has commas that may be decimal commas or part the values; part the values with semicolons, such as 1,5; 2,5"
            ),
            Why::ListGap => {
                write!(f, "“{found}” has nothing between two separators; values were expected, such as 5; 10; 15")
            }
            Why::ListUnits => write!(
                f,
                "“{found}” has a unit on some values only; a unit was expected on all, on none, or on the last for all, such as 5; 10; 15 mm"
            ),
            Why::ListTooMany => write!(f, "“{found}” makes too many values; {MOST_VALUES} at most were expected"),
            Why::StepMissing => {
                write!(f, "“{found}” is a range without a step; a step was expected, such as 0..40 step 5")
            }
            Why::StepNotPositive => write!(
                f,
                "“{found}” has a step that leads nowhere; a step above zero was expected, such as 0..40 step 5"
            ),
            Why::RangeBackwards => {
                write!(f, "“{found}” ends before it begins; the smaller value was expected first, such as 0..40 step 5")
            }
            Why::StepMissesEnd { last } => write!(
                f,
                "“{found}” does not land on its end, the last step reaches {}; an end that the steps reach was expected, such as 0..40 step 5",
                with_unit(*last, *expected)
            ),
        }
    }
}

/// A value as a sentence shows it, with its unit.
fn with_unit(value: f64, dimension: Dimension) -> String {
    let number = plain(value, dimension).replace('-', "−");
    match dimension.unit() {
        "" => number,
        unit @ ("°" | "%") => format!("{number}{unit}"),
        unit => format!("{number} {unit}"),
    }
}
