//! The page of the bolts over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::Workshop;
use witnessmark_core::build::sample::sample;
use witnessmark_core::plan;

/// The card of a bolt.
fn card<'a>(page: &'a crate::testing::Answer, id: &str) -> &'a str {
    page.between(&format!("id=\"bolt.{id}\""), "</article>")
}

#[tokio::test]
async fn every_bolt_stands_there_with_its_limit_its_owner_and_the_way_to_the_stand() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/fasteners")).await;
    assert_eq!(page.status, 200);
    let all = plan(&sample()).worked.fasteners;
    assert_eq!(page.body.matches("<article class=\"bolt-card\"").count(), all.list.len());
    let plate = card(&page, "stem-face-plate");
    for said in [
        "<b>5</b> N·m",
        "4 × face plate of the stem",
        "stem: bar clamp torque",
        "bar: stem clamp torque",
        "crosswise",
        "friction 0.08 to 0.16",
        "due for calibration on 2028-01-15",
        "at its torque, line painted",
        "/stand#step-",
    ] {
        assert!(plate.contains(said), "no «{said}» in\n{plate}");
    }
    for one in &all.list {
        assert!(card(&page, &one.id).contains("/stand#step-"), "{} is tightened at no step", one.id);
    }
}

#[tokio::test]
async fn a_torque_that_is_not_known_never_looks_fine() {
    let (workshop, build) = Workshop::with_sample_where(&[("parts.bar.stem_clamp_torque", "")]).await;
    let page = workshop.get(&format!("{build}/fasteners")).await;
    let plate = card(&page, "stem-face-plate");
    assert!(plate.contains("not known") && plate.contains("never above 5 N·m"), "{plate}");
    assert!(!plate.contains("bolt-state closed") && !plate.contains("<b>5</b> N·m"), "{plate}");
    let glance = page.between("<dl class=\"facts glance\"", "</dl>");
    assert!(glance.contains("1 whose torque is not known") && glance.contains("#bolt.stem-face-plate"), "{glance}");
}

#[tokio::test]
async fn an_open_bolt_stands_before_everything_else() {
    let (workshop, build) = Workshop::with_sample_where(&[("fasteners.rail-clamp.state", "open")]).await;
    let page = workshop.get(&format!("{build}/fasteners")).await;
    let (glance, cards) = (page.body.find("#bolt.rail-clamp"), page.body.find("id=\"bolt."));
    assert!(glance.is_some() && glance < cards, "{}", page.body);
    assert!(page.body.contains("<b>1 left open</b>"), "{}", page.body);
    assert!(card(&page, "rail-clamp").contains("bolt-state open"));
}

#[tokio::test]
async fn a_wrench_that_was_used_and_is_not_told_has_its_place_and_a_name_that_is_none_says_so() {
    let (workshop, build) = Workshop::with_sample_where(&[
        ("fasteners.top-cap.wrench", "borrowed"),
        ("fasteners.hanger.wrench", "Öl & Co"),
    ])
    .await;
    let page = workshop.get(&format!("{build}/fasteners")).await;
    assert!(page.body.contains("id=\"field.wrenches.borrowed.calibrated_on\""), "{}", page.body);
    assert!(page.body.contains("Öl &amp; Co</b> is no name of a wrench"), "{}", page.body);
}

#[tokio::test]
async fn a_bike_without_parts_says_so() {
    let workshop = Workshop::open().await;
    let id = workshop.make(&[("job.title".to_owned(), "bare".to_owned())]).await;
    let page = workshop.get(&format!("/builds/{id}/fasteners")).await;
    assert!(page.status == 200 && page.body.contains("No part with a bolt is listed yet."), "{}", page.body);
}
