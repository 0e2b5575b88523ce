//! The page of the shift wires over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::Workshop;
use witnessmark_core::build::sample::sample;

#[tokio::test]
async fn every_port_every_wire_and_every_length_to_buy_stand_on_the_page() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/wiring")).await;
    assert_eq!(page.status, 200);
    let wires = sample().parts.wire.0.len();
    assert_eq!(page.body.matches("<th scope=\"row\">").count(), wires);
    for said in
        ["Junction “shell”", "wire “rear” to junction “shell”", "class=\"port-number\"", "To buy", "sleeve, mm", "1 × "]
    {
        assert!(page.body.contains(said), "no «{said}» in\n{}", page.body);
    }
    assert!(page.body.contains("class=\"to-scale wiring-drawing\""));
}

#[tokio::test]
async fn a_wrong_tree_says_what_is_wrong_at_which_end_before_anything_else() {
    let (workshop, build) = Workshop::with_sample_where(&[("parts.wire.rear.other_end", "junction seat")]).await;
    let page = workshop.get(&format!("{build}/wiring")).await;
    assert!(page.body.contains("As it stands it does not work"), "{}", page.body);
    let (finding, tree) =
        (page.body.find("leads to a unit that is not there").unwrap(), page.body.find("Along the bike"));
    assert!(Some(finding) < tree, "the finding stands above the drawing");
    assert!(
        page.body.contains("#field.parts.wire.rear.other_end") || page.body.contains("wire: other end"),
        "{}",
        page.body
    );
    let (workshop, build) = Workshop::with_sample_where(&[("parts.wire.rear.other_end", "junction shell")]).await;
    let page = workshop.get(&format!("{build}/wiring")).await;
    assert!(page.body.contains("Both ends of the wire “rear” are in the junction “shell”"), "{}", page.body);
}

#[tokio::test]
async fn a_bike_without_wires_says_so() {
    let workshop = Workshop::open().await;
    let id = workshop.make(&[("job.title".to_owned(), "bare".to_owned())]).await;
    let page = workshop.get(&format!("/builds/{id}/wiring")).await;
    assert!(page.status == 200 && page.body.contains("nothing on this bike waits for one"), "{}", page.body);
}
