//! Small words: values with their units, days, and names of places as people say them.

use jiff::Timestamp;
use maud::{Markup, html};
use std::time::{SystemTime, UNIX_EPOCH};
use witnessmark_core::field::{Kind, Value};
use witnessmark_core::finding::figure;

/// A quantity without its unit, as it stands in a column of its own.
pub(crate) fn plain(kind: Kind, value: f64) -> String {
    let decimals = match kind {
        Kind::Mass | Kind::Count => 0,
        Kind::Money => 2,
        _ => 1,
    };
    figure(value, decimals)
}

/// A quantity with its unit: `588 mm`, `73.2°`.
pub(crate) fn with_unit(kind: Kind, value: f64) -> String {
    let figure = plain(kind, value);
    match kind.unit() {
        "" => figure,
        "°" => format!("{figure}°"),
        unit => format!("{figure} {unit}"),
    }
}

/// A difference with its sign: `+2.1`, `−3`, `0`.
pub(crate) fn signed(kind: Kind, value: f64) -> String {
    let figure = plain(kind, value);
    if value > 0.0 && figure != "0" { format!("+{figure}") } else { figure }
}

/// A value of any kind with its unit.
pub(crate) fn value(kind: Kind, value: &Value) -> String {
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
pub(crate) fn of_key(key: &str) -> String {
    key.replace(['_', '-'], " ")
}

/// A count with its noun: "1 stop", "2 stops".
pub(crate) fn count(number: usize, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}

/// A wait, rounded up: "8 seconds", "15 minutes".
pub(crate) fn waiting(seconds: i64) -> String {
    let seconds = usize::try_from(seconds.max(1)).unwrap_or(1);
    if seconds < 120 { count(seconds, "second") } else { count(seconds.div_ceil(60), "minute") }
}

/// The clock, in milliseconds since 1970.
pub(crate) fn now_ms() -> i64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    i64::try_from(since.as_millis()).unwrap_or(i64::MAX)
}

/// The day by the clock, in UTC: for whoever does not say which day it is at the bench.
pub(crate) fn today() -> String {
    let day = Timestamp::from_millisecond(now_ms()).unwrap_or_default().to_string();
    day.get(..10).unwrap_or_default().to_owned()
}

/// A moment. The page's script puts it into the clock of whoever reads it; without it, it is said in UTC.
pub(crate) fn moment(at_ms: i64) -> Markup {
    let Ok(at) = Timestamp::from_millisecond(at_ms) else {
        return html! { "at a time that cannot be read" };
    };
    let exact = at.to_string();
    let minute = exact.get(..16).unwrap_or(&exact).replace('T', " ");
    html! { time datetime=(exact) { (minute) " UTC" } }
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

    #[test]
    fn a_moment_is_readable_without_a_script() {
        let text = moment(1_742_000_000_000).into_string();
        assert!(text.contains("2025-03-15 00:53 UTC"), "{text}");
    }
}
