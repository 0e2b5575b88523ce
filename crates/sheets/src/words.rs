//! Values as people read them: with their unit, with their sign, and money to the cent.

use witnessmark_core::field::{Given, Kind, Value};
use witnessmark_core::finding::figure;

pub use witnessmark_core::finding::capital;

/// A quantity without its unit, as it stands in a column of its own.
pub fn plain(kind: Kind, value: f64) -> String {
    let decimals = match kind {
        Kind::Mass | Kind::Count => 0,
        Kind::Money => 2,
        _ => 1,
    };
    figure(value, decimals)
}

/// A quantity with its unit: `588 mm`, `73.2°`.
pub fn with_unit(kind: Kind, value: f64) -> String {
    let figure = plain(kind, value);
    match kind.unit() {
        "" => figure,
        "°" => format!("{figure}°"),
        unit => format!("{figure} {unit}"),
    }
}

/// A difference with its sign: `+2.1`, `−3`, `0`.
pub fn signed(kind: Kind, value: f64) -> String {
    let figure = plain(kind, value);
    if value > 0.0 && figure != "0" { format!("+{figure}") } else { figure }
}

/// A value of any kind with its unit.
pub fn value(kind: Kind, value: &Value) -> String {
    let list = |values: Vec<String>| format!("{} {}", values.join(", "), kind.unit()).trim_end().to_owned();
    match value {
        Value::Number(number) => with_unit(kind, *number),
        Value::Count(count) => count.to_string(),
        Value::Numbers(numbers) => list(numbers.iter().map(|number| plain(kind, *number)).collect()),
        Value::Counts(counts) => list(counts.iter().map(ToString::to_string).collect()),
        Value::Day(day) => day.to_string(),
        Value::YesNo(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Value::Text(text) => text.clone(),
    }
}

/// A key as words: `rear_derailleur` reads "rear derailleur".
pub fn of_key(key: &str) -> String {
    key.replace(['_', '-'], " ")
}

/// A count with its noun: "1 stop", "2 stops".
pub fn count(number: usize, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}

/// A text of the document, where it is filled in.
pub(crate) fn said(given: Option<&Given<String>>) -> Option<&str> {
    given.map(|given| given.value.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantities_carry_their_unit_as_people_write_it() {
        assert_eq!(with_unit(Kind::Length, 588.04), "588 mm");
        assert_eq!(with_unit(Kind::Angle, -6.0), "−6°");
        assert_eq!(with_unit(Kind::Plain, 18.5), "18.5");
        assert_eq!(value(Kind::Counts, &Value::Counts(vec![52, 36])), "52, 36");
        assert_eq!(value(Kind::Lengths, &Value::Numbers(vec![0.0, 5.0])), "0, 5 mm");
    }

    #[test]
    fn a_difference_shows_which_way() {
        assert_eq!(signed(Kind::Length, 2.14), "+2.1");
        assert_eq!(signed(Kind::Length, -2.14), "−2.1");
        assert_eq!(signed(Kind::Length, 0.01), "0");
    }
}
