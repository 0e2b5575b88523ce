//! What is ticked is kept, what is not is not shown, and nobody writes over a choice he has not seen.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, key};

async fn choose(workshop: &Workshop, build: &str, was: &str, ticked: &[&str]) -> u16 {
    let names: Vec<String> = ticked.iter().map(|id| format!("show.{id}")).collect();
    let key = key();
    let mut fields: Vec<(&str, &str)> = names.iter().map(|name| (name.as_str(), "yes")).collect();
    fields.extend([("was", was), ("key", key.as_str()), ("who", "Anna")]);
    workshop.post(&format!("{build}/show"), &fields).await.status
}

#[tokio::test]
async fn what_is_ticked_stands_on_the_page_and_what_is_not_does_not() {
    let (workshop, build) = Workshop::with_sample().await;
    assert_eq!(choose(&workshop, &build, "", &["hood-gap", "wheelbase"]).await, 303);
    assert_eq!(choose(&workshop, &build, "hood-gap wheelbase", &["wheelbase"]).await, 303);
    assert_eq!(workshop.kept(&build, "shown.hood-gap").await, None);
    assert_eq!(workshop.kept(&build, "shown.wheelbase").await.as_deref(), Some("yes"));
    let file = workshop.get(&format!("{build}/show/page.html")).await;
    assert_eq!(file.status, 422, "nobody agreed yet: {}", file.body);
    let day = [("path", "show.agreed_on"), ("after", "2027-03-07"), ("key", &key())];
    assert_eq!(workshop.post(&format!("{build}/edit"), &day).await.status, 200);
    let file = workshop.get(&format!("{build}/show/page.html")).await;
    assert_eq!(file.status, 200);
    assert_eq!(file.headers["content-disposition"], "attachment; filename=\"race-bike.html\"");
    assert!(file.body.contains("wheelbase") && !file.body.contains("hood gap"));
}

#[tokio::test]
async fn a_choice_that_changed_in_the_meantime_is_not_written_over_and_the_ticks_are_kept() {
    let (workshop, build) = Workshop::with_sample().await;
    assert_eq!(choose(&workshop, &build, "", &["wheelbase"]).await, 303);
    // The other tablet still shows nothing ticked, and ticks the same number.
    assert_eq!(choose(&workshop, &build, "", &["wheelbase", "trail"]).await, 409);
    assert_eq!(workshop.kept(&build, "shown.trail").await, None);
    let names = [("show.wheelbase", "yes"), ("show.trail", "yes"), ("was", ""), ("key", &key())];
    let answer = workshop.post(&format!("{build}/show"), &names).await;
    assert!(answer.body.contains("Somebody else changed the choice"), "{}", answer.body);
    assert!(answer.body.contains(r#"name="show.trail" value="yes" checked"#), "{}", answer.body);
}

#[tokio::test]
async fn nothing_ticked_and_nothing_changed_writes_nothing() {
    let (workshop, build) = Workshop::with_sample().await;
    assert_eq!(choose(&workshop, &build, "", &[]).await, 303);
    assert!(workshop.get(&format!("{build}/history?path=shown")).await.status == 200);
}
