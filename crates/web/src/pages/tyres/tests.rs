//! The page of the tyre pressures over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, key};

#[tokio::test]
async fn both_starts_stand_there_with_their_limits_and_where_they_come_from() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/tyres")).await;
    assert_eq!(page.status, 200);
    for said in
        ["bar in front", "A rule of thumb: 15 % of the width", "6.9 bar", "front tyre: pressure max", "is never passed"]
    {
        assert!(page.body.contains(said), "no «{said}» in\n{}", page.body);
    }
    assert_eq!(page.body.matches("<svg class=\"pressure\"").count(), 2);
}

#[tokio::test]
async fn no_pressure_is_named_while_a_limit_is_not_known() {
    let (workshop, build) = Workshop::with_sample_where(&[("parts.wheel.rear.pressure_max", "")]).await;
    let page = workshop.get(&format!("{build}/tyres")).await;
    let rear = page.between("id=\"tyre-rear\"", "</section>");
    assert!(rear.contains("no pressure is named") && rear.contains("rear wheel: pressure max"), "{rear}");
    assert!(page.body.contains("at the rear no pressure is named"), "{}", page.body);
}

#[tokio::test]
async fn a_liked_pressure_typed_on_the_page_is_carried_over_and_never_over_the_limit() {
    let (workshop, build) = Workshop::with_sample_where(&[
        ("liked.width_front", "25"),
        ("liked.rider_mass", "40 kg"),
        ("liked.bike_mass", "7 kg"),
        ("liked.front_share", "45"),
    ])
    .await;
    let change =
        [("path", "liked.pressure_front"), ("after", "9 bar"), ("key", &key()), ("seen", "1"), ("page", "tyres")];
    let answer = workshop.post(&format!("{build}/edit"), &change).await;
    assert_eq!(answer.status, 200, "{}", answer.body);
    let front = answer.between("id=\"tyre-front\"", "</section>");
    assert!(front.contains("Carried over from what the rider likes"), "{front}");
    assert!(
        front.contains("The tyre holds it at 6.9 bar") || front.contains("The load asks for more. The tyre"),
        "{front}"
    );
    assert!(front.contains("<p class=\"start\"><b>6.9</b> bar"), "{front}");
}
