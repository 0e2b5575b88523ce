//! What people type in a field, as one number in the unit this house keeps: `3.5 cm`, `1 1/8 in`, `72 psi`, `5,2 Nm`.
//!
//! Units are converted here and only here; past this door every length is in millimetres, every angle in degrees, and
//! so on ([`Dimension::unit`]). A text that can be read in two ways is refused with a sentence that says both, because
//! a wrong guess ends up in a cut steerer.
//!
//! - [`read`] takes one quantity, [`read_within`] one in a field's own range, [`read_list`] several.
//! - [`plain`] writes a value so that [`read`] gives the same value back, to the last bit.

mod dimension;
mod figure;
mod list;
mod refusal;
mod unit;

pub use dimension::Dimension;
pub use list::read_list;
pub use refusal::{Refusal, Why};

use figure::{Figure, split_where, take, tidied, vulgar};
use std::ops::RangeInclusive;
use unit::{Unit, is_foot, is_inch};

/// The most characters one quantity may have.
const LONGEST: usize = 100;

/// Reads one quantity in the house unit of `dimension`; refuses what is no such quantity, or beyond what is sane.
///
/// A figure without a unit is in the house unit. Decimal point and decimal comma are alike, save that a comma before
/// exactly three digits (`1,234`) is refused, because it may part thousands. Fractions are those of an inch rule, and
/// feet may be followed by inches.
///
/// ```
/// use witnessmark_intake::quantity::{Dimension, read};
/// assert_eq!(read("35", Dimension::Length)?, 35.0);
/// assert_eq!(read("3,5 cm", Dimension::Length)?, 35.0);
/// assert_eq!(read("1 1/8 in", Dimension::Length)?, 28.575);
/// assert_eq!(read("5' 11\"", Dimension::Length)?, 1803.4);
/// assert_eq!(read("5 bar", Dimension::Pressure)?, 500.0);
/// assert_eq!(
///     read("82 kg", Dimension::Length).unwrap_err().to_string(),
///     "“82 kg” is a mass; a length was expected, such as 35, 35 mm or 3.5 cm"
/// );
/// # Ok::<(), witnessmark_intake::quantity::Refusal>(())
/// ```
pub fn read(text: &str, dimension: Dimension) -> Result<f64, Refusal> {
    read_within(text, dimension, dimension.sane())
}

/// Reads one quantity for a field that knows its own range; refuses what [`read`] refuses, and what is out of the range.
///
/// The range, in the house unit and both ends included, stands in the place of [`Dimension::sane`]: it may be narrower
/// (a spacer stack) or wider (a hose as sold).
///
/// ```
/// use witnessmark_intake::quantity::{Dimension, read_within};
/// assert_eq!(read_within("6 cm", Dimension::Length, 0.0..=60.0)?, 60.0);
/// assert_eq!(
///     read_within("61", Dimension::Length, 0.0..=60.0).unwrap_err().to_string(),
///     "“61” is 61 mm; a length between 0 mm and 60 mm was expected"
/// );
/// # Ok::<(), witnessmark_intake::quantity::Refusal>(())
/// ```
pub fn read_within(text: &str, dimension: Dimension, range: RangeInclusive<f64>) -> Result<f64, Refusal> {
    one(text, dimension, &range).map_err(|why| Refusal::new(text, dimension, why))
}

/// Writes a value, held in the house unit, as the shortest decimal text that [`read`] turns into the same number.
///
/// No unit is written: it is in the field's name. Money is written with its cents. Tiny numbers that would need a long
/// row of zeros get an exponent. What is not a number has no text that reads back: `NaN` and `inf` are written as such,
/// and refused on the way in.
///
/// ```
/// use witnessmark_intake::quantity::{Dimension, plain};
/// assert_eq!(plain(28.6, Dimension::Length), "28.6");
/// assert_eq!(plain(35.0, Dimension::Length), "35");
/// assert_eq!(plain(149.5, Dimension::Money), "149.50");
/// assert_eq!(plain(1e-9, Dimension::Plain), "1e-9");
/// ```
pub fn plain(value: f64, dimension: Dimension) -> String {
    let value = without_negative_zero(value);
    let short = value.to_string();
    if dimension == Dimension::Money {
        let cents = format!("{value:.2}");
        if cents.parse() == Ok(value) {
            return cents;
        }
    }
    let is_tiny = value != 0.0 && value.abs() < 1e-6;
    if is_tiny { format!("{value:e}") } else { short }
}

/// A figure with the unit that was typed behind it.
#[derive(Clone, Copy, Debug)]
struct Typed {
    figure: f64,
    unit: Option<&'static Unit>,
}

fn one(text: &str, dimension: Dimension, range: &RangeInclusive<f64>) -> Result<f64, Why> {
    if text.chars().nth(LONGEST).is_some() {
        return Err(Why::TooLong);
    }
    let tidy = tidied(text);
    if tidy.is_empty() {
        return Err(Why::Empty);
    }
    in_house(&typed(&tidy)?, dimension, range)
}

/// Takes a tidied text apart, whatever it measures.
fn typed(text: &str) -> Result<Typed, Why> {
    if text.chars().nth(LONGEST).is_some() {
        return Err(Why::TooLong);
    }
    if text.contains(['€', '$', '£', '¥']) {
        return Err(Why::Currency);
    }
    let Figure { value, rest } = take(text)?;
    let (name, behind) = split_where(rest, |c| c.is_numeric() || vulgar(c).is_some());
    let name = name.trim();
    if !behind.is_empty() {
        return feet_and_inches(value, text.starts_with('-'), name, behind).ok_or(Why::TwoNumbers);
    }
    if name.is_empty() {
        return Ok(Typed { figure: value, unit: None });
    }
    match unit::find(name) {
        Some(unit) => Ok(Typed { figure: value, unit: Some(unit) }),
        None => Err(Why::UnknownUnit(name.to_owned())),
    }
}

/// `5' 11"` and `5 ft 11 1/2 in`: whole feet, then less than a foot of inches, both with their signs.
fn feet_and_inches(feet: f64, is_negative: bool, foot_name: &str, behind: &str) -> Option<Typed> {
    unit::find(foot_name).filter(|unit| is_foot(unit))?;
    let Figure { value: inches, rest } = take(behind).ok()?;
    let inch = unit::find(rest.trim()).filter(|unit| is_inch(unit))?;
    if feet.fract() != 0.0 || inches >= 12.0 {
        return None;
    }
    let inches = feet.abs() * 12.0 + inches;
    Some(Typed { figure: if is_negative { -inches } else { inches }, unit: Some(inch) })
}

/// The one conversion of the whole program.
fn in_house(typed: &Typed, dimension: Dimension, range: &RangeInclusive<f64>) -> Result<f64, Why> {
    let value = match typed.unit {
        None => typed.figure,
        Some(unit) if unit.dimension == dimension => unit.to_house(typed.figure),
        Some(unit) => return Err(Why::Is(unit.dimension)),
    };
    if dimension == Dimension::Count && value.fract() != 0.0 {
        return Err(Why::NotWhole);
    }
    if !value.is_finite() {
        return Err(Why::Beyond);
    }
    if !range.contains(&value) {
        return Err(Why::OutOfRange { value, low: *range.start(), high: *range.end() });
    }
    Ok(without_negative_zero(value))
}

fn without_negative_zero(value: f64) -> f64 {
    if value == 0.0 { 0.0 } else { value }
}

#[cfg(test)]
mod tests {
    #![allow(
        clippy::float_cmp,
        clippy::unwrap_used,
        reason = "what is read back must be the same number, and a refusal here is the test failing"
    )]
    use super::*;
    use proptest::prelude::*;

    fn why(text: &str, dimension: Dimension) -> Why {
        read(text, dimension).unwrap_err().why
    }

    #[test]
    fn quantities_are_read_as_they_are_typed() {
        use Dimension::{Angle, Count, Force, Length, Mass, Money, Percent, Plain, Pressure, Time, Torque};
        // Metric rows are identities; the others follow from the factors that `unit` checks against the printed table.
        let table = [
            ("35", Length, 35.0),
            ("28.6mm", Length, 28.6),
            (" 28,6\u{a0}mm ", Length, 28.6),
            ("3.5 cm", Length, 35.0),
            ("1,2 m", Length, 1_200.0),
            ("1 1/8 in", Length, 28.575),
            ("1⅛\"", Length, 28.575),
            ("1-1/8″", Length, 28.575),
            ("½ in.", Length, 12.7),
            ("2 inches", Length, 50.8),
            ("5'", Length, 1_524.0),
            ("5' 11\"", Length, 1_803.4),
            ("5’11”", Length, 1_803.4),
            ("5 ft 11 1/2 in", Length, 1_816.1),
            ("-1' 6\"", Length, -457.2),
            ("-0' 6\"", Length, -152.4),
            ("\u{2212}3 mm", Length, -3.0),
            ("+3", Length, 3.0),
            ("- 3", Length, -3.0),
            ("73.5°", Angle, 73.5),
            ("73,5 deg", Angle, 73.5),
            ("6.8 kg", Mass, 6_800.0),
            ("1 lb", Mass, 453.592_37),
            ("8 oz", Mass, 226.796_185),
            ("5,2 Nm", Torque, 5.2),
            ("5 N·m", Torque, 5.0),
            ("5 N*m", Torque, 5.0),
            ("50 kgf·cm", Torque, 4.903_325),
            ("5 bar", Pressure, 500.0),
            ("0.5 MPa", Pressure, 500.0),
            ("500 kPa", Pressure, 500.0),
            ("100 kgf", Force, 980.665),
            ("1.1 kN", Force, 1_100.0),
            ("1.5 h", Time, 5_400.0),
            ("1.25", Plain, 1.25),
            ("12 %", Percent, 12.0),
            ("50", Count, 50.0),
            ("149,50", Money, 149.5),
        ];
        for (text, dimension, expected) in table {
            assert_eq!(read(text, dimension), Ok(expected), "{text} as {dimension:?}");
        }
    }

    #[test]
    fn nothing_has_no_sign() {
        for text in ["-0", "\u{2212}0.0 mm", "-0' 0\""] {
            assert!(read(text, Dimension::Length).unwrap().is_sign_positive(), "{text}");
        }
        assert_eq!(plain(-0.0, Dimension::Length), "0");
    }

    #[test]
    fn a_quantity_of_another_kind_is_named() {
        for (text, dimension, found) in [
            ("82 kg", Dimension::Length, Dimension::Mass),
            ("35 mm", Dimension::Angle, Dimension::Length),
            ("90 lb", Dimension::Pressure, Dimension::Mass),
            ("110 kg", Dimension::Force, Dimension::Mass),
            ("5 N", Dimension::Torque, Dimension::Force),
            ("5 mm", Dimension::Plain, Dimension::Length),
            ("5 %", Dimension::Count, Dimension::Percent),
        ] {
            assert_eq!(why(text, dimension), Why::Is(found), "{text} as {dimension:?}");
        }
    }

    #[test]
    fn two_numbers_are_not_one() {
        for text in [
            "35 40",
            "35-40",
            "35 mm 40 mm",
            "1 005",
            "1'005",
            "5' 12\"",
            "5' -1\"",
            "5.5' 1\"",
            "5 m 3 in",
            "½ ½",
            "0..40",
        ] {
            assert_eq!(why(text, Dimension::Length), Why::TwoNumbers, "{text}");
        }
    }

    #[test]
    fn what_holds_no_sane_number_is_refused_by_name() {
        let unknown = |unit: &str| Why::UnknownUnit(unit.to_owned());
        for (text, dimension, expected) in [
            ("", Dimension::Length, Why::Empty),
            (" \u{a0}\t", Dimension::Length, Why::Empty),
            ("NaN", Dimension::Length, Why::NotANumber),
            ("inf", Dimension::Plain, Why::NotANumber),
            ("infinity", Dimension::Plain, Why::NotANumber),
            ("about 35", Dimension::Length, Why::NotANumber),
            ("1e999", Dimension::Length, Why::Beyond),
            ("1e308 m", Dimension::Length, Why::Beyond),
            ("1.234,5", Dimension::Length, Why::Separators),
            ("1,234", Dimension::Money, Why::CommaOrThousands),
            ("1/3 in", Dimension::Length, Why::Fraction),
            ("5 furlongs", Dimension::Length, unknown("furlongs")),
            ("5 mPa", Dimension::Pressure, unknown("mPa")),
            ("€ 12", Dimension::Money, Why::Currency),
            ("12 €", Dimension::Money, Why::Currency),
            ("1.5", Dimension::Count, Why::NotWhole),
        ] {
            assert_eq!(why(text, dimension), expected, "{text} as {dimension:?}");
        }
        assert_eq!(why(&"1".repeat(LONGEST + 1), Dimension::Plain), Why::TooLong);
    }

    #[test]
    fn each_dimension_ends_where_its_range_says() {
        for dimension in Dimension::ALL {
            let (low, high) = dimension.sane().into_inner();
            assert_eq!(read(&plain(low, dimension), dimension), Ok(low));
            assert_eq!(read(&plain(high, dimension), dimension), Ok(high));
            for value in [low - 1.0, high + 1.0] {
                let expected = Why::OutOfRange { value, low, high };
                assert_eq!(why(&plain(value, dimension), dimension), expected, "{dimension:?}");
            }
        }
    }

    /// Every refusal, as a person reads it. Read them aloud once in a while.
    #[test]
    fn refusals_are_plain_sentences() {
        use Dimension::{Count, Length, Money, Pressure};
        let one = [
            ("", Length, "nothing was typed; a length was expected, such as 35, 35 mm or 3.5 cm"),
            ("about 35", Length, "“about 35” is not a number; a length was expected, such as 35, 35 mm or 3.5 cm"),
            ("35 40", Length, "“35 40” holds more than one number; a length was expected, such as 35, 35 mm or 3.5 cm"),
            ("82 kg", Length, "“82 kg” is a mass; a length was expected, such as 35, 35 mm or 3.5 cm"),
            (
                "5 furlongs",
                Length,
                "“5 furlongs” has a unit that is not known, “furlongs”; a length was expected, such as 35, 35 mm or 3.5 cm",
            ),
            (
                "1.234,5",
                Length,
                "“1.234,5” has more than one decimal or thousands sign; write it with one decimal sign at most, such as 1234.5",
            ),
            ("1,234 mm", Length, "“1,234 mm” can be read in two ways; write 1.234 mm or 1234 mm"),
            (
                "1/3 in",
                Length,
                "“1/3 in” has a fraction that is on no inch rule; halves, quarters, eighths and so on to sixty-fourths were expected, such as 1 1/8, or a decimal",
            ),
            (
                "1e999",
                Length,
                "“1e999” is too large or too small to be a number here; a length was expected, such as 35, 35 mm or 3.5 cm",
            ),
            ("9 m", Length, "“9 m” is 9000 mm; a length between −5000 mm and 5000 mm was expected"),
            ("-1", Pressure, "“-1” is −1 kPa; a pressure between 0 kPa and 2000 kPa was expected"),
            ("1.5", Count, "“1.5” is not whole; a whole number was expected, such as 12"),
            (
                "€12",
                Money,
                "“€12” has a currency sign; the currency is the workshop's own, and the number alone was expected, such as 149.50",
            ),
        ];
        for (text, dimension, sentence) in one {
            assert_eq!(read(text, dimension).unwrap_err().to_string(), sentence);
        }
        assert_eq!(
            read(&"x".repeat(5_000), Length).unwrap_err().to_string(),
            format!("“{}…” is far too long; a length was expected, such as 35, 35 mm or 3.5 cm", "x".repeat(40))
        );
    }

    #[test]
    fn refusals_of_lists_are_plain_sentences() {
        let list = [
            (
                "0,5,10",
                "“0,5,10” has commas that may be decimal commas or part the values; part the values with semicolons, such as 1,5; 2,5",
            ),
            ("5;;6", "“5;;6” has nothing between two separators; values were expected, such as 5; 10; 15"),
            (
                "1 in; 2; 3",
                "“1 in; 2; 3” has a unit on some values only; a unit was expected on all, on none, or on the last for all, such as 5; 10; 15 mm",
            ),
            ("0..4000 step 1", "“0..4000 step 1” makes too many values; 1000 at most were expected"),
            ("0..40", "“0..40” is a range without a step; a step was expected, such as 0..40 step 5"),
            (
                "0..40 step 0",
                "“0..40 step 0” has a step that leads nowhere; a step above zero was expected, such as 0..40 step 5",
            ),
            (
                "40..0 step 5",
                "“40..0 step 5” ends before it begins; the smaller value was expected first, such as 0..40 step 5",
            ),
            (
                "0..42 step 5",
                "“0..42 step 5” does not land on its end, the last step reaches 40 mm; an end that the steps reach was expected, such as 0..40 step 5",
            ),
        ];
        for (text, sentence) in list {
            assert_eq!(read_list(text, Dimension::Length).unwrap_err().to_string(), sentence);
        }
    }

    #[test]
    fn a_sentence_stays_on_its_line_whatever_was_pasted() {
        let refusal = read("3\n5\u{7}", Dimension::Length).unwrap_err();
        assert!(!refusal.to_string().contains(char::is_control), "{refusal}");
    }

    fn dimension() -> impl Strategy<Value = Dimension> {
        prop::sample::select(&Dimension::ALL[..])
    }

    /// A value that a field of this dimension may hold.
    fn held() -> impl Strategy<Value = (f64, Dimension)> {
        let bits = prop::num::f64::NORMAL | prop::num::f64::SUBNORMAL | prop::num::f64::ZERO;
        (bits, 0.0..=1.0, any::<bool>(), dimension()).prop_map(|(wild, share, is_wild, dimension)| {
            let (low, high) = dimension.sane().into_inner();
            let value = if is_wild { wild % high } else { low + share * (high - low) };
            let value = if low >= 0.0 { value.abs() } else { value };
            (if dimension == Dimension::Count { value.round() } else { value }, dimension)
        })
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic(text in any::<String>(), dimension in dimension()) {
            for result in [read(&text, dimension).map(|value| vec![value]), read_list(&text, dimension)] {
                match result {
                    Ok(values) => prop_assert!(values.iter().all(|value| dimension.sane().contains(value))),
                    Err(refusal) => prop_assert!(!refusal.to_string().is_empty()),
                }
            }
        }

        #[test]
        fn no_text_of_the_signs_it_knows_makes_it_panic(
            text in "[0-9 .,;/'\"+\\-\u{2212}eE°½⅛a-zNmM·%€\u{a0}]{0,24}|[0-9.,]{1,6}( ?[a-zN·\"'°%]{1,6})?(; ?|, |\\.\\.| step )[0-9.,]{1,6}( step [0-9])?",
            dimension in dimension(),
        ) {
            for result in [read(&text, dimension).map(|value| vec![value]), read_list(&text, dimension)] {
                match result {
                    Ok(values) => prop_assert!(values.iter().all(|value| dimension.sane().contains(value))),
                    Err(refusal) => prop_assert!(!refusal.to_string().is_empty()),
                }
            }
        }

        #[test]
        fn a_value_written_plainly_reads_back_as_itself((value, dimension) in held()) {
            let text = plain(value, dimension);
            prop_assert_eq!(read(&text, dimension), Ok(value));
            prop_assert_eq!(read_list(&text, dimension), Ok(vec![value]));
        }

        #[test]
        fn several_values_written_plainly_read_back_as_themselves(values in prop::collection::vec(-5_000.0..5_000.0, 1..20)) {
            let texts: Vec<String> = values.iter().map(|&value| plain(value, Dimension::Length)).collect();
            prop_assert_eq!(read_list(&texts.join("; "), Dimension::Length), Ok(values.clone()));
            prop_assert_eq!(read_list(&texts.join(", "), Dimension::Length), Ok(values));
        }

        #[test]
        fn decimal_comma_and_decimal_point_are_alike_save_where_the_comma_may_part_thousands(
            whole in "[0-9]{0,5}", part in "[0-9]{0,6}", unit in "( ?(mm|cm|in))?",
        ) {
            prop_assume!(!(whole.is_empty() && part.is_empty()));
            let point = read(&format!("{whole}.{part}{unit}"), Dimension::Length);
            let comma = read(&format!("{whole},{part}{unit}"), Dimension::Length);
            if part.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0') {
                prop_assert_eq!(comma.unwrap_err().why, Why::CommaOrThousands);
            } else {
                prop_assert_eq!(point.map_err(|refusal| refusal.why), comma.map_err(|refusal| refusal.why));
            }
        }

        #[test]
        fn a_minus_sign_turns_the_value_round(text in "[0-9]{1,3}(\\.[0-9]{1,4})?( 1/8)? ?(mm|cm|in|ft|\")?") {
            let value = read(&text, Dimension::Length).map_err(|refusal| refusal.why);
            let turned = read(&format!("\u{2212}{text}"), Dimension::Length).map_err(|refusal| refusal.why);
            match (value, turned) {
                (Ok(value), Ok(turned)) => prop_assert_eq!(value, -turned),
                (Err(Why::OutOfRange { value, .. }), Err(Why::OutOfRange { value: turned, .. })) => prop_assert_eq!(value, -turned),
                (value, turned) => prop_assert_eq!(value, turned),
            }
        }
    }
}
