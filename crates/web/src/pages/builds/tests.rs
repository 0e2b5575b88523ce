//! The list of builds over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, key};

#[tokio::test]
async fn the_root_leads_to_the_list() {
    let workshop = Workshop::open().await;
    let answer = workshop.get("/").await;
    assert_eq!((answer.status, answer.headers["location"].as_str()), (303, "/builds"));
    assert!(workshop.get("/builds").await.body.contains("No build yet"));
}

#[tokio::test]
async fn a_new_build_begins_with_its_title_and_a_second_tap_makes_no_second_one() {
    let workshop = Workshop::open().await;
    let form = [("title", "  Ida, hill bike "), ("key", &key()), ("who", "Ada")];
    let first = workshop.post("/builds", &form).await;
    assert_eq!(first.status, 303);
    let build = first.headers["location"].clone();
    assert_eq!(workshop.kept(&build, "job.title").await.as_deref(), Some("Ida, hill bike"));
    assert_eq!(workshop.post("/builds", &form).await.headers["location"], build);
    assert_eq!(workshop.store.builds().await.unwrap().len(), 1);
    let list = workshop.get("/builds").await.body;
    assert!(list.contains("Ida, hill bike") && list.contains("changed by Ada"));
}

#[tokio::test]
async fn a_build_without_a_title_is_not_begun_and_the_text_stays() {
    let workshop = Workshop::open().await;
    for title in ["", "   ", &"x".repeat(5_000)] {
        let answer = workshop.post("/builds", &[("title", title), ("key", &key())]).await;
        assert_eq!(answer.status, 422);
        assert!(answer.body.contains("role=\"alert\"") && answer.body.contains(&format!("value=\"{title}\"")));
    }
    assert!(workshop.store.builds().await.unwrap().is_empty());
}

#[tokio::test]
async fn the_list_says_how_each_build_stands() {
    let (workshop, build) = Workshop::with_sample().await;
    let list = workshop.get("/builds").await;
    let one = list.between("<li class=\"build\">", "</li>");
    assert!(one.contains(&format!("href=\"{build}\"")) && one.contains("2027-03-14") && one.contains("finished"));
    assert!(one.contains("in line, ") && one.contains("0 stops"), "{one}");
}

#[tokio::test]
async fn a_copy_takes_everything_but_the_readings_and_goes_back_to_planned() {
    let (workshop, build) = Workshop::with_sample().await;
    let form = [("key", key()), ("who", "Ada".to_owned())];
    let form: Vec<(&str, &str)> = form.iter().map(|(name, value)| (*name, value.as_str())).collect();
    let answer = workshop.post(&format!("{build}/copy"), &form).await;
    assert_eq!(answer.status, 303, "{}", answer.body);
    let copy = &answer.headers["location"];
    assert_ne!(*copy, build);
    assert_eq!(workshop.kept(copy, "job.title").await.as_deref(), Some("sample, copy"));
    assert_eq!(workshop.kept(copy, "job.stage").await.as_deref(), Some("planned"));
    assert_eq!(workshop.kept(copy, "parts.stem.length").await.as_deref(), Some("110"));
    assert_eq!(workshop.kept(copy, "measured.steerer-cut.value").await, None);
    let id = copy.rsplit('/').next().unwrap().parse().unwrap();
    let leaves = workshop.store.leaves(&id).await.unwrap().unwrap().leaves;
    assert!(leaves.keys().all(|path| !path.starts_with("measured.")));
}
