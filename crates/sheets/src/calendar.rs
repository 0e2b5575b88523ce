//! The service plan as a calendar file (RFC 5545), for whatever calendar the customer or the workshop keeps.
//!
//! Each service is a whole-day event on the day it is due, repeating by its days. An event keeps its UID from one export to
//! the next, so that a calendar that reads the file again moves what it has and doubles nothing. No clock is read: the
//! stamp of every event is the day the plan was asked for, so the same plan gives the same bytes.

use std::fmt::Write as _;
use witnessmark_core::field::Choice;
use witnessmark_core::service::{DueBy, SOURCE, Service, ServicePlan};

/// The longest line, in bytes, without its end.
const LONGEST_LINE: usize = 75;

/// What the file is about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct About<'a> {
    /// The bike's key, never another's: it stands in the UIDs.
    pub key: &'a str,
    /// What the workshop calls the bike.
    pub title: &'a str,
    /// The day on which the file is made.
    pub day: jiff::civil::Date,
}

/// The calendar file. Services without a day are left out.
pub fn calendar(plan: &ServicePlan, about: About<'_>) -> String {
    let mut text = String::new();
    for (name, value) in [
        ("BEGIN", "VCALENDAR".to_owned()),
        ("VERSION", "2.0".to_owned()),
        ("PRODID", "-//Witness Mark//service plan//EN".to_owned()),
        ("CALSCALE", "GREGORIAN".to_owned()),
        ("METHOD", "PUBLISH".to_owned()),
        ("X-WR-CALNAME", escaped(&format!("service: {}", about.title))),
    ] {
        line(&mut text, name, &value);
    }
    for service in &plan.list {
        if let Ok(due) = service.due_on {
            event(&mut text, service, due, about);
        }
    }
    line(&mut text, "END", "VCALENDAR");
    text
}

fn event(text: &mut String, service: &Service, due: jiff::civil::Date, about: About<'_>) {
    let day = |day: jiff::civil::Date| day.strftime("%Y%m%d").to_string();
    line(text, "BEGIN", "VEVENT");
    line(text, "UID", &format!("{}-{}@witness-mark.invalid", plain(about.key), service.id));
    line(text, "DTSTAMP", &format!("{}T000000Z", day(about.day)));
    line(text, "DTSTART;VALUE=DATE", &day(due));
    if let Some(days) = service.interval.days.filter(|_| !service.once) {
        line(text, "RRULE", &format!("FREQ=DAILY;INTERVAL={days}"));
    }
    line(text, "SUMMARY", &escaped(&format!("{}: {}", about.title, service.name)));
    line(text, "DESCRIPTION", &escaped(&description(service)));
    line(text, "CATEGORIES", &escaped(service.area.name()));
    line(text, "TRANSP", "TRANSPARENT");
    line(text, "END", "VEVENT");
}

fn description(service: &Service) -> String {
    let mut words = service.action.to_owned();
    if let Some(limit) = &service.limit {
        let _ = write!(words, "\nDone with at: {limit}.");
    }
    let _ = match (service.interval.days, service.interval.km) {
        (Some(days), Some(km)) => write!(words, "\nEvery {days} days or {km} km, whichever comes first."),
        (Some(days), None) if !service.once => write!(words, "\nEvery {days} days."),
        _ => Ok(()),
    };
    if service.by != DueBy::Agreed && service.by != DueBy::Part {
        let _ = write!(words, "\n{SOURCE}.");
    }
    words
}

/// Text as a value: backslash, comma, semicolon and the end of a line are escaped (RFC 5545, 3.3.11).
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.replace("\r\n", "\n").chars() {
        match letter {
            '\\' => safe.push_str("\\\\"),
            ';' => safe.push_str("\\;"),
            ',' => safe.push_str("\\,"),
            '\n' => safe.push_str("\\n"),
            other if other.is_control() && other != '\t' => {}
            other => safe.push(other),
        }
    }
    safe
}

/// A key that can stand in a UID whatever was typed.
fn plain(key: &str) -> String {
    key.chars().map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '-' }).collect()
}

/// One content line, folded where it is long: 75 bytes at most, a letter never cut in two, each further line begun with a
/// space (RFC 5545, 3.1).
fn line(text: &mut String, name: &str, value: &str) {
    let mut used = 0;
    for letter in name.chars().chain([':']).chain(value.chars()) {
        if used + letter.len_utf8() > LONGEST_LINE {
            text.push_str("\r\n ");
            used = 1;
        }
        text.push(letter);
        used += letter.len_utf8();
    }
    text.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a file that the other reader refuses is to stop the test")]

    use super::*;
    use icalendar::{Calendar, CalendarComponent, Component};
    use jiff::civil::date;
    use std::collections::BTreeSet;
    use witnessmark_core::Build;
    use witnessmark_core::build::sample::sample;
    use witnessmark_core::service::service;

    const TITLE: &str = "Ilka, race bike; «föhn» 1 of 2\\3, built in spring and ridden over every pass there is";

    fn handed_over() -> Build {
        let mut build = sample();
        build.job.handed_over_on = Some(date(2027, 3, 14).into());
        build
    }

    fn made(build: &Build) -> String {
        calendar(&service(build), About { key: "b7 / 3", title: TITLE, day: date(2027, 3, 14) })
    }

    #[test]
    fn an_independent_reader_finds_every_service_with_its_day_and_its_words() {
        let plan = service(&handed_over());
        let read: Calendar = made(&handed_over()).parse().unwrap();
        let events: Vec<_> = read
            .components
            .iter()
            .filter_map(|component| match component {
                CalendarComponent::Event(event) => Some(event),
                _ => None,
            })
            .collect();
        assert_eq!(events.len(), plan.list.len());
        for (event, service) in events.iter().zip(&plan.list) {
            assert_eq!(event.get_uid().unwrap(), format!("b7---3-{}@witness-mark.invalid", service.id));
            assert_eq!(event.get_summary().unwrap(), format!("{TITLE}: {}", service.name));
            let start = event.property_value("DTSTART").unwrap();
            assert_eq!(start, service.due_on.clone().unwrap().strftime("%Y%m%d").to_string());
            assert!(event.get_description().unwrap().starts_with(service.action));
            assert_eq!(event.property_value("RRULE").is_some(), !service.once);
        }
    }

    #[test]
    fn no_line_is_longer_than_75_bytes_and_every_line_ends_as_the_standard_says() {
        let text = made(&handed_over());
        assert!(text.ends_with("\r\n"));
        assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
        for line in text.split("\r\n") {
            assert!(line.len() <= 75, "{} bytes: {line}", line.len());
        }
        assert!(text.contains("\r\n "), "a long line is folded");
        let unfolded = text.replace("\r\n ", "");
        assert!(unfolded.contains("SUMMARY:Ilka\\, race bike\\; «föhn» 1 of 2\\\\3\\, built in spring"));
    }

    #[test]
    fn the_same_plan_gives_the_same_bytes_and_a_moved_day_keeps_its_uid() {
        assert_eq!(made(&handed_over()), made(&handed_over()));
        let uids = |build: &Build| -> BTreeSet<String> {
            made(build)
                .replace("\r\n ", "")
                .lines()
                .filter(|line| line.starts_with("UID:"))
                .map(str::to_owned)
                .collect()
        };
        let mut later = handed_over();
        later.job.handed_over_on = Some(date(2027, 5, 1).into());
        assert_eq!(uids(&handed_over()), uids(&later));
        assert_eq!(uids(&later).len(), service(&later).list.len());
    }

    #[test]
    fn before_hand_over_only_what_has_a_day_stands_in_it() {
        let mut build = sample();
        build.job.handed_over_on = None;
        assert_eq!(made(&build).matches("BEGIN:VEVENT").count(), 3);
        assert_eq!(made(&Build::default()).matches("BEGIN:VEVENT").count(), 0);
    }
}
