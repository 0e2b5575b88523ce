//! The service plan of a bike, over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use super::When;
use crate::testing::{Workshop, key};
use jiff::civil::date;
use witnessmark_core::Build;
use witnessmark_core::build::sample::sample;
use witnessmark_core::service::service;

fn leaves(build: &Build) -> Vec<(String, String)> {
    build.leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect()
}

/// A workshop with the sample handed over on 14 March 2027, and the page's address.
async fn handed_over() -> (Workshop, String) {
    let workshop = Workshop::open().await;
    let mut build = sample();
    build.job.handed_over_on = Some(date(2027, 3, 14).into());
    let id = workshop.make(&leaves(&build)).await;
    (workshop, format!("/builds/{id}"))
}

#[test]
fn a_service_is_overdue_today_ahead_later_or_not_known() {
    let mut build = sample();
    build.job.handed_over_on = Some(date(2027, 3, 14).into());
    let of = |build: &Build, day| When::of(service(build).of("chain-wear").unwrap(), day);
    assert_eq!(of(&build, date(2027, 4, 14)), When::Over(1));
    assert_eq!(of(&build, date(2027, 4, 13)), When::Today);
    assert_eq!(of(&build, date(2027, 3, 14)), When::Ahead(30));
    assert_eq!(of(&build, date(2027, 3, 13)), When::Later);
    build.job.handed_over_on = None;
    assert_eq!(of(&build, date(2027, 4, 14)), When::Unknown);
}

#[tokio::test]
async fn every_service_stands_on_the_page_with_its_interval_its_limit_and_its_source() {
    let (workshop, build) = handed_over().await;
    let page = workshop.get(&format!("{build}/service?day=2027-04-20")).await;
    let mut bike = sample();
    bike.job.handed_over_on = Some(date(2027, 3, 14).into());
    for one in service(&bike).list {
        assert!(page.body.contains(&format!("id=\"service.{}\"", one.id)), "{}", one.id);
    }
    for said in [
        "7 days overdue",
        "30 days or 400 km",
        "0.5 % longer than new",
        "nothing read yet",
        "common practice, no source",
    ] {
        assert!(page.body.contains(said), "no “{said}” in {}", page.body);
    }
}

#[tokio::test]
async fn a_bike_without_a_day_of_hand_over_says_so_and_is_never_shown_as_fine() {
    let (workshop, build) = Workshop::with_sample_but("job.handed_over_on").await;
    let page = workshop.get(&format!("{build}/service")).await;
    assert!(page.body.contains("no day of hand-over that can be read"), "{}", page.body);
    assert!(page.body.contains("No day to count from") && page.body.contains("without a day"));
}

#[tokio::test]
async fn that_it_was_done_is_written_down_once_with_its_day_its_reading_and_who() {
    let (workshop, build) = handed_over().await;
    let key = key();
    let fields = [
        ("service", "chain-wear"),
        ("on", "2025-06-01"),
        ("read", "0.3 %, gauge"),
        ("who", "Ben"),
        ("key", key.as_str()),
    ];
    for tap in ["first", "second"] {
        let answer = workshop.post(&format!("{build}/service"), &fields).await;
        assert_eq!(answer.status, 303, "{tap}: {}", answer.body);
        assert!(answer.headers["location"].ends_with("/service#service.chain-wear"));
    }
    for (field, kept) in [("on", "2025-06-01"), ("read", "0.3 %, gauge"), ("by", "Ben")] {
        assert_eq!(workshop.kept(&build, &format!("serviced.chain-wear.{field}")).await.as_deref(), Some(kept));
    }
    let page = workshop.get(&format!("{build}/service?day=2025-06-02")).await;
    assert!(page.body.contains("<b>0.3 %, gauge</b>") && page.body.contains("2025-06-01, Ben"), "{}", page.body);
    assert!(page.body.contains("<b>2025-07-01</b>"));

    // A service without a reading does not go on showing the reading of another day.
    let again =
        [("service", "chain-wear"), ("on", "2025-07-01"), ("was_on", "2025-06-01"), ("was_read", "0.3 %, gauge")];
    let again: Vec<_> = again.into_iter().chain([("key", "another")]).collect();
    assert_eq!(workshop.post(&format!("{build}/service"), &again).await.status, 303);
    assert_eq!(workshop.kept(&build, "serviced.chain-wear.read").await, None);
}

#[tokio::test]
async fn what_is_done_once_is_over_and_a_second_tap_finds_it_so() {
    let (workshop, build) = handed_over().await;
    let key = key();
    let fields = [("service", "first-recheck"), ("on", "2025-06-01"), ("who", "Ben"), ("key", key.as_str())];
    for _ in 0..2 {
        assert_eq!(workshop.post(&format!("{build}/service"), &fields).await.status, 303);
    }
    let page = workshop.get(&format!("{build}/service")).await;
    assert!(
        page.body.contains("Over and done") && page.body.contains("First recheck, 2025-06-01, Ben"),
        "{}",
        page.body
    );
}

#[tokio::test]
async fn a_day_that_is_none_or_lies_ahead_is_refused_beside_its_field_and_what_was_typed_stays() {
    let (workshop, build) = handed_over().await;
    for (on, says) in [("", "Say on which day"), ("yesterday", "day"), ("2999-01-01", "lies ahead")] {
        let fields = [("service", "chain-wear"), ("on", on), ("read", "0.4 %"), ("key", "k")];
        let answer = workshop.post(&format!("{build}/service"), &fields).await;
        assert_eq!(answer.status, 422, "{on}");
        let form = answer.between("id=\"on-chain-wear\"", "</form>");
        assert!(
            form.contains(says) && form.contains("aria-invalid=\"true\"") && form.contains("value=\"0.4 %\""),
            "{form}"
        );
    }
    assert_eq!(workshop.kept(&build, "serviced.chain-wear.on").await, None);
    let answer =
        workshop.post(&format!("{build}/service"), &[("service", "no-such"), ("on", "2025-01-01"), ("key", "k")]).await;
    assert_eq!(answer.status, 404);
}

#[tokio::test]
async fn what_somebody_else_wrote_down_meanwhile_is_not_overwritten() {
    let (workshop, build) = handed_over().await;
    let first = [("service", "chain-wear"), ("on", "2025-06-01"), ("read", "0.2 %"), ("who", "Ann"), ("key", "k1")];
    assert_eq!(workshop.post(&format!("{build}/service"), &first).await.status, 303);
    let second = [("service", "chain-wear"), ("on", "2025-06-03"), ("read", "0.3 %"), ("who", "Ben"), ("key", "k2")];
    let answer = workshop.post(&format!("{build}/service"), &second).await;
    assert_eq!(answer.status, 409);
    assert!(
        answer.body.contains("Ann wrote this service down meanwhile") && answer.body.contains("value=\"2025-06-03\"")
    );
    assert_eq!(workshop.kept(&build, "serviced.chain-wear.on").await.as_deref(), Some("2025-06-01"));
}

#[tokio::test]
async fn the_calendar_is_a_file_and_there_is_none_while_nothing_has_a_day() {
    let (workshop, build) = handed_over().await;
    let file = workshop.get(&format!("{build}/service/calendar.ics")).await;
    assert_eq!((file.status, file.headers["content-type"].as_str()), (200, "text/calendar; charset=utf-8"));
    assert!(file.body.starts_with("BEGIN:VCALENDAR") && file.body.contains("DTSTART;VALUE=DATE:20270413"));
    assert!(file.headers["content-disposition"].ends_with("-service.ics\""));
    assert_eq!(workshop.get(&format!("{build}/service/other.ics")).await.status, 404);
    let empty = workshop.make(&[("job.title".to_owned(), "Nothing yet".to_owned())]).await;
    let none = workshop.get(&format!("/builds/{empty}/service/calendar.ics")).await;
    assert_eq!(none.status, 422);
}
