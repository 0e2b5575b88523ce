//! Taking changes back over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, key};

const ROLL: &str = "settings.bar_roll";

async fn changed(before: &str, after: &str) -> (Workshop, String) {
    let (workshop, build) = Workshop::with_sample().await;
    let change = [("path", ROLL), ("before", before), ("after", after), ("key", &key())];
    assert_eq!(workshop.post(&format!("{build}/edit"), &change).await.status, 200);
    (workshop, build)
}

#[tokio::test]
async fn an_undo_puts_the_field_back_and_answers_with_what_that_changed() {
    let (workshop, build) = changed("0", "4").await;
    let undo = [("revision", "2"), ("seen", "2"), ("key", &key())];
    let answer = workshop.post(&format!("{build}/undo"), &undo).await;
    assert_eq!(answer.status, 200);
    assert_eq!(workshop.kept(&build, ROLL).await.as_deref(), Some("0"));
    assert!(answer.body.contains("id=\"field.settings.bar_roll\"") && answer.body.contains("id=\"row.hood-x.left\""));
    assert!(answer.body.contains("data-undo=\"3\""), "an undo can be undone");
    let history = workshop.get(&format!("{build}/history?path={ROLL}")).await;
    assert!(history.body.contains("takes back change 2"));
}

#[tokio::test]
async fn without_the_script_an_undo_leads_back_to_the_history() {
    let (workshop, build) = changed("0", "4").await;
    let kind = ("content-type", "application/x-www-form-urlencoded");
    let body = format!("revision=2&key={}&path=settings.bar_roll%22%3E%0d%0a", key());
    let answer = workshop.ask("POST", &format!("{build}/undo"), &[kind], &body).await;
    assert_eq!(answer.status, 303);
    assert_eq!(answer.headers["location"], format!("{build}/history?path=settings.bar_roll"));
}

#[tokio::test]
async fn what_was_changed_since_is_not_taken_back() {
    let (workshop, build) = changed("0", "4").await;
    let since = [("path", ROLL), ("before", "4"), ("after", "5"), ("key", &key()), ("seen", "2")];
    workshop.post(&format!("{build}/edit"), &since).await;
    let answer = workshop.post(&format!("{build}/undo"), &[("revision", "2"), ("key", &key())]).await;
    assert_eq!(answer.status, 409);
    assert!(answer.body.contains("settings.bar_roll now says"), "{}", answer.body);
    assert_eq!(workshop.kept(&build, ROLL).await.as_deref(), Some("5"));
}

#[tokio::test]
async fn the_making_of_a_build_and_a_change_that_never_was_cannot_be_taken_back() {
    let (workshop, build) = changed("0", "4").await;
    for (revision, status) in [("1", 422), ("0", 422), ("-1", 422), ("99", 409), ("two", 422)] {
        let answer = workshop.post(&format!("{build}/undo"), &[("revision", revision), ("key", &key())]).await;
        assert_eq!(answer.status, status, "{revision}: {}", answer.body);
    }
}
