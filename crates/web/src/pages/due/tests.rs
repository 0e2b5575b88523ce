//! What is due across all bikes, over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, sample_leaves};
use serde_json::Value;

/// The sample under another title, with these fields more; `None` for those it lacks.
async fn bike(workshop: &Workshop, title: &str, more: &[(&str, &str)]) -> String {
    let mut leaves = sample_leaves();
    leaves.retain(|(path, _)| !path.starts_with("job.") && !path.contains("filled_on"));
    leaves.push(("job.title".into(), title.into()));
    leaves.extend(more.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())));
    workshop.make(&leaves).await.to_string()
}

#[tokio::test]
async fn bikes_stand_by_what_is_due_with_their_rider_and_those_without_a_day_are_said_to_be_unknown() {
    let workshop = Workshop::open().await;
    let out = [
        ("job.handed_over_on", "2027-03-14"),
        ("serviced.first-recheck.on", "2027-04-01"),
        ("rider.name", "Ilka Moor"),
    ];
    let long = bike(
        &workshop,
        "Long out",
        &[("job.handed_over_on", "2025-03-14"), ("job.stage", "finished"), ("rider.name", "Ilka Moor")],
    )
    .await;
    let fresh = bike(&workshop, "Fresh out", &out).await;
    let unread = bike(&workshop, "Unread", &[("job.handed_over_on", "soon")]).await;
    let forgotten = bike(&workshop, "Forgotten", &[("job.stage", "finished")]).await;
    bike(&workshop, "On the stand", &[("job.stage", "on the stand")]).await;

    let page = workshop.get("/due?day=2027-04-13").await;
    assert_eq!(page.status, 200);
    let part = |id: &str| page.between(&format!("<h2 id=\"{id}\""), "<h2 ").to_owned();
    assert!(part("overdue").contains("Long out") && !part("overdue").contains("Fresh out"), "{}", part("overdue"));
    assert!(part("today").contains("Fresh out") && part("today").contains("wear of the chain"), "{}", part("today"));
    assert!(part("overdue").contains(&format!("/builds/{long}/service#service.chain-wear")));
    assert!(part("overdue").contains("Ilka Moor"));
    let not_counted = page.between("<h2 id=\"not-counted\"", "</section>");
    assert!(not_counted.contains("2 builds without a day of hand-over"), "{not_counted}");
    for (id, title) in [(&forgotten, "Forgotten"), (&unread, "Unread")] {
        assert!(not_counted.contains(title) && not_counted.contains(id.as_str()), "{title}: {not_counted}");
    }
    assert!(!not_counted.contains("On the stand"));

    let json: Value = serde_json::from_str(&workshop.get("/due.json?day=2027-04-13").await.body).unwrap();
    assert_eq!((json["not_counted"].as_u64(), json["until"].as_str()), (Some(2), Some("2027-05-13")));
    let builds: Vec<&str> =
        json["bikes"].as_array().unwrap().iter().map(|bike| bike["build"].as_str().unwrap()).collect();
    assert_eq!(builds.len(), 3);
    assert!([&long, &fresh, &unread].iter().all(|id| builds.contains(&id.as_str())));
}

#[tokio::test]
async fn a_change_of_a_bike_is_seen_at_the_next_look() {
    let workshop = Workshop::open().await;
    let id = bike(&workshop, "Out", &[("job.handed_over_on", "2027-03-14")]).await;
    let day = "/due?day=2027-04-13";
    assert!(workshop.get(day).await.between("<h2 id=\"today\"", "</section>").contains("wear of the chain"));
    let done = [("service", "chain-wear"), ("on", "2025-04-01"), ("key", "done")];
    assert_eq!(workshop.post(&format!("/builds/{id}/service"), &done).await.status, 303);
    let page = workshop.get(day).await;
    assert!(!page.between("<h2 id=\"today\"", "</section>").contains("wear of the chain"));
    assert!(
        page.between("<h2 id=\"overdue\"", "</section>").contains("wear of the chain"),
        "counted from 2025 it is long due"
    );
}

#[tokio::test]
async fn a_day_that_is_none_is_said_beside_the_field_and_today_is_shown() {
    let workshop = Workshop::open().await;
    let page = workshop.get("/due?day=soon").await;
    assert_eq!(page.status, 200);
    assert!(page.body.contains("value=\"soon\"") && page.body.contains("A day is written year, month, day"));
    assert_eq!(workshop.get("/due.json?day=soon").await.status, 422);
}
