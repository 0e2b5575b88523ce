//! Every link of the page leads to a file of its kind.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, key};

#[tokio::test]
async fn every_file_that_the_page_names_is_given_with_its_kind_and_a_safe_name() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/sheets")).await;
    assert_eq!(page.status, 200);
    let start = format!("{build}/sheets/");
    let files: Vec<&str> = page
        .body
        .split("href=\"")
        .filter_map(|rest| rest.split('"').next())
        .filter(|href| href.starts_with(&start))
        .collect();
    assert!(files.len() > 15, "{files:?}");
    // One of each sheet, and every table: all sheets on both papers are looked at where they are made.
    for href in files.iter().filter(|href| !href.ends_with("letter.pdf")) {
        let file = workshop.get(href).await;
        assert_eq!(file.status, 200, "{href}: {}", file.body);
        let kind = match href.rsplit('.').next().unwrap() {
            "pdf" => "application/pdf",
            "csv" => "text/csv; charset=utf-8",
            _ => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        };
        assert_eq!(file.headers["content-type"], kind, "{href}");
        let name = &file.headers["content-disposition"];
        let quoted = name.strip_prefix("attachment; filename=\"").and_then(|name| name.strip_suffix('"')).unwrap();
        let is_plain = |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || "-.".contains(letter);
        assert!(quoted.chars().all(is_plain), "{name}");
    }
}

#[tokio::test]
async fn a_file_that_there_is_not_is_refused_with_names_of_files_that_there_are() {
    let (workshop, build) = Workshop::with_sample().await;
    for file in ["secret-a4.pdf", "bench-a3.pdf", "numbers.exe", "other.csv"] {
        let answer = workshop.get(&format!("{build}/sheets/{file}")).await;
        assert_eq!(answer.status, 404, "{file}");
        assert!(answer.body.contains("bench-a4.pdf"), "{}", answer.body);
    }
}

#[tokio::test]
async fn a_line_of_work_is_added_once_however_often_it_is_tapped() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/sheets")).await;
    let name = page.between("name=\"name\" value=\"", "\"").to_owned();
    let key = key();
    let fields = [("what", "Build from the frame up"), ("name", name.as_str()), ("key", key.as_str())];
    for _ in 0..2 {
        assert_eq!(workshop.post(&format!("{build}/sheets"), &fields).await.status, 303);
    }
    assert_eq!(workshop.kept(&build, &format!("work.{name}.what")).await.as_deref(), Some("Build from the frame up"));
    let page = workshop.get(&format!("{build}/sheets")).await;
    assert!(page.body.contains(&format!("in.work.{name}.what")));
    assert_ne!(page.between("name=\"name\" value=\"", "\""), name);
}

#[tokio::test]
async fn a_line_of_work_without_words_is_refused_beside_the_field() {
    let (workshop, build) = Workshop::with_sample().await;
    let answer =
        workshop.post(&format!("{build}/sheets"), &[("what", "  "), ("name", "work-1"), ("key", &key())]).await;
    assert_eq!(answer.status, 422);
    assert!(answer.body.contains("Say in a few words what is done."), "{}", answer.body);
}
