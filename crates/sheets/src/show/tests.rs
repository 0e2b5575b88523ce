//! The page shows what was agreed, nothing else, and asks nobody for anything.
#![allow(clippy::unwrap_used, reason = "a page that cannot be made is to stop the test")]

use super::*;
use witnessmark_core::build::sample::sample;
use witnessmark_core::number;
use witnessmark_core::plan;

/// The sample with words that can be found again, and nothing agreed but the day.
fn bike() -> Build {
    let mut build = sample();
    build.show.agreed_on = Some(jiff::civil::date(2027, 3, 7).into());
    build.job.title = Some("Zebulon’s racer".into());
    build.job.event = Some("the Quillern stages".into());
    build.rider.name = Some("Zebulon Quist".into());
    build.rider.note = Some("left knee".into());
    build.parts.stem.make("").name = Some("stem of moss".into());
    build.parts.frame.make("").serial = Some("QX-123".into());
    build
}

fn made(build: &Build) -> String {
    page(build, &plan(build)).unwrap()
}

#[test]
fn while_nobody_agreed_there_is_no_page() {
    let build = Build::default();
    assert_eq!(page(&build, &plan(&build)), Err(NotAgreed));
}

#[test]
fn nothing_of_the_person_and_no_number_is_shown_that_was_not_agreed() {
    let mut build = bike();
    build.shown.insert(number::HOOD_GAP.id, false.into());
    let text = made(&build);
    for kept in ["Zebulon", "Quist", "Quillern", "left knee", "stem of moss", "QX-123", "<table", "<figure"] {
        assert!(!text.contains(kept), "{kept}");
    }
    assert!(text.contains("A race bike") && text.contains("2027-03-07"));
}

#[test]
fn each_consent_shows_its_own_and_no_more() {
    let all = ["Zebulon Quist", "the Quillern stages", "stem of moss", "<figure"];
    for (at, seen) in all.iter().enumerate() {
        let mut build = bike();
        let yes = Some(Given::from(true));
        match at {
            0 => build.show.rider = yes,
            1 => build.show.event = yes,
            2 => build.show.parts = yes,
            _ => build.show.drawing = yes,
        }
        let text = made(&build);
        for (other, words) in all.iter().enumerate() {
            assert_eq!(text.contains(words), other == at, "{seen}: {words}");
        }
        assert!(!text.contains("QX-123"), "a serial number is never shown");
    }
}

#[test]
fn a_part_or_an_event_that_is_called_after_the_rider_is_not_named_while_the_rider_is_not() {
    let mut build = bike();
    build.show.parts = Some(true.into());
    build.show.event = Some(true.into());
    build.parts.stem.make("").name = Some("zebulon’s own stem".into());
    build.job.event = Some("The Quist family ride".into());
    let text = made(&build);
    assert!(!text.contains("own stem") && !text.contains("family ride"), "{text}");
    build.show.rider = Some(true.into());
    assert!(made(&build).contains("own stem") && made(&build).contains("family ride"));
}

#[test]
fn every_number_that_was_agreed_is_shown_in_the_order_of_the_walk_round() {
    let mut build = bike();
    for number in number::all() {
        build.shown.insert(number.id, true.into());
    }
    let text = made(&build);
    let plan = plan(&build);
    let mut after = 0;
    for one in plan.numbers.each() {
        let Some(value) = value(one) else { continue };
        let cell = format!(
            "<td class=\"value\" role=\"cell\">{value}</td><td class=\"is\" role=\"cell\">{}",
            escaped(one.number.definition)
        );
        let at = text[after..].find(&cell);
        assert!(at.is_some(), "{}: no {cell}", one.number.name);
        after += at.unwrap();
    }
}

fn escaped(text: &str) -> String {
    html! { (text) }.into_string()
}

#[test]
fn nothing_is_fetched_from_anywhere_and_nothing_runs() {
    let mut build = bike();
    build.show.drawing = Some(true.into());
    let text = made(&build);
    for door in ["http:", "https:", "//", "src=", "href=", "<script", "@import", "<link", "<iframe", "<object"] {
        // The letters of the typeface are nobody's address.
        for (at, _) in text.match_indices(door) {
            let before = &text[..at];
            let inside_letters = before.rfind("base64,").is_some_and(|start| !before[start..].contains(')'));
            assert!(inside_letters, "{door} at {at}");
        }
    }
}

#[test]
fn what_was_typed_is_text_and_never_markup() {
    let mut build = bike();
    build.show.words = Some("<script>alert(1)</script>".into());
    let text = made(&build);
    assert!(!text.contains("<script") && text.contains("&lt;script&gt;"));
}

#[test]
fn the_same_build_gives_the_same_page() {
    assert_eq!(made(&bike()), made(&bike()));
}
