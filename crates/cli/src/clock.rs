//! The clock of this machine.

use jiff::civil::Date;
use witnessmark_web::person::day_of;

/// The moment, in milliseconds since 1970.
pub(crate) fn now_ms() -> i64 {
    jiff::Timestamp::now().as_millisecond()
}

/// The day, in UTC.
pub(crate) fn today() -> Date {
    day_of(now_ms()).unwrap_or_default()
}
