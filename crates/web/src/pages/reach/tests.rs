//! The search's page over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, key, sample_leaves};

/// The sample with one longer stem on the shelf and spacers to try.
async fn with_shelf() -> (Workshop, String) {
    let workshop = Workshop::open().await;
    let mut leaves = sample_leaves();
    for (fact, text) in [("length", "120"), ("angle", "-6"), ("clamp_height", "40"), ("reversible", "no")] {
        leaves.push((format!("shelf.stem.longer.{fact}"), text.into()));
    }
    leaves.push(("search.spacers_under".into(), "0; 5; 10; 15; 20".into()));
    leaves.push(("search.within".into(), "25".into()));
    let id = workshop.make(&leaves).await;
    (workshop, format!("/builds/{id}"))
}

#[tokio::test]
async fn the_ways_are_listed_best_first_and_one_can_be_taken() {
    let (workshop, build) = with_shelf().await;
    let page = workshop.get(&format!("{build}/reach")).await;
    assert_eq!(page.status, 200);
    assert!(page.body.contains("combinations come within"), "{}", page.body);
    let rank = page.body.split("<tr>").position(|row| row.contains("stem longer")).unwrap() - 2;
    let seen = page.between("name=\"seen\" value=\"", "\"").to_owned();
    let fields = [("end", "front"), ("rank", &rank.to_string()), ("seen", &seen), ("key", &key())];
    let taken = workshop.post(&format!("{build}/reach"), &fields).await;
    assert_eq!(taken.status, 303, "{}", taken.body);
    assert_eq!(workshop.kept(&build, "parts.stem.length").await.as_deref(), Some("120"));
    // The old stem's own facts are gone with it: nobody knows the new one's mass.
    assert_eq!(workshop.kept(&build, "parts.stem.mass").await, None);
}

#[tokio::test]
async fn a_list_of_an_older_state_is_not_taken_from() {
    let (workshop, build) = with_shelf().await;
    let fields = [("end", "front"), ("rank", "0"), ("seen", "999"), ("key", &key())];
    let refused = workshop.post(&format!("{build}/reach"), &fields).await;
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("changed since this list was made"), "{}", refused.body);
}
