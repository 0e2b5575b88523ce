//! Small words: values with their units, as the sheets write them, waits and days as people say them.

use jiff::Timestamp;
use maud::{Markup, html};
use std::time::{SystemTime, UNIX_EPOCH};

pub(crate) use witnessmark_sheets::words::{count, of_key, plain, signed, value, with_unit};

/// A wait, rounded up: "8 seconds", "15 minutes".
pub(crate) fn waiting(seconds: i64) -> String {
    let seconds = usize::try_from(seconds.max(1)).unwrap_or(1);
    if seconds < 120 { count(seconds, "second") } else { count(seconds.div_ceil(60), "minute") }
}

/// A text as a value in an address.
pub(crate) fn in_address(text: &str) -> String {
    text.bytes().fold(String::new(), |all, byte| {
        if byte.is_ascii_alphanumeric() || b"-._/".contains(&byte) {
            all + &char::from(byte).to_string()
        } else {
            all + &format!("%{byte:02X}")
        }
    })
}

/// The clock, in milliseconds since 1970.
pub(crate) fn now_ms() -> i64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    i64::try_from(since.as_millis()).unwrap_or(i64::MAX)
}

/// The day by the clock, in UTC: for whoever does not say which day it is at the bench.
pub(crate) fn today() -> String {
    day(now_ms())
}

/// The day of a moment, in UTC.
pub(crate) fn day(at_ms: i64) -> String {
    let moment = Timestamp::from_millisecond(at_ms).unwrap_or_default().to_string();
    moment.get(..10).unwrap_or_default().to_owned()
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
    fn a_moment_is_readable_without_a_script() {
        let text = moment(1_742_000_000_000).into_string();
        assert!(text.contains("2025-03-15 00:53 UTC"), "{text}");
    }
}
