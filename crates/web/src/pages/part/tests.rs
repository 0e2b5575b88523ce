//! A part's page and the way to a new one, over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::Workshop;
use witnessmark_core::part;

#[tokio::test]
async fn a_part_shows_every_fact_those_that_decide_before_those_that_every_part_has() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/part/parts.stem")).await;
    for field in part::kind("stem").unwrap().fields {
        assert!(page.body.contains(&format!("data-path=\"parts.stem.{}\"", field.key())), "{}", field.key());
    }
    let place = |text: &str| page.body.find(text).unwrap();
    assert!(place("data-path=\"parts.stem.length\"") < place("data-path=\"parts.stem.name\""));
    assert!(page.body.contains("data-path=\"parts.stem.length.from\""), "a known fact says where it comes from");
    assert!(!page.body.contains("data-path=\"parts.stem.price.from\""), "an unknown one comes from nowhere");
}

#[tokio::test]
async fn a_free_place_is_offered_and_a_taken_one_is_not() {
    let (workshop, build) = Workshop::with_sample_but("parts.chain").await;
    let page = workshop.get(&format!("{build}/add")).await;
    assert!(page.body.contains(&format!("href=\"{build}/part/parts.chain\"")));
    assert!(!page.body.contains(&format!("href=\"{build}/part/parts.frame\"")));
    let chain = workshop.get(&format!("{build}/part/parts.chain")).await;
    assert!(chain.body.contains("Not fitted yet"));
}

#[tokio::test]
async fn a_part_of_which_there_are_many_gets_a_name() {
    let (workshop, build) = Workshop::with_sample().await;
    let answer = workshop.get(&format!("{build}/add?section=parts&kind=spacer&name=Two%20mm")).await;
    assert_eq!(
        (answer.status, answer.headers["location"].as_str()),
        (303, format!("{build}/part/parts.spacer.two-mm").as_str())
    );
    let answer = workshop.get(&format!("{build}/add?section=shelf&kind=stem&name=100")).await;
    assert_eq!(answer.headers["location"], format!("{build}/part/shelf.stem.100"));
    for bad in [
        "section=parts&kind=spacer&name=%20",
        "section=parts&kind=bell&name=a",
        "section=job&kind=spacer&name=a",
        "kind=stem&name=spare",
    ] {
        let answer = workshop.get(&format!("{build}/add?{bad}")).await;
        assert_eq!(answer.status, 422, "{bad}");
        assert!(answer.body.contains("cannot be a part’s name"), "{bad}");
    }
}
