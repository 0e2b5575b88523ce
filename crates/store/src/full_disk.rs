//! The disk runs full at each step of an edit in turn.
//!
//! The engine is told how many pages its file may have, and one more each time, so that the edit fails
//! first at its first new page, then at its second, and so on until it goes through.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use sqlx::AssertSqlSafe;

use crate::{By, Change, Content, EditError, NewBuild, NewUpload, Quota, Store, StoreError, UploadError};

#[tokio::test]
async fn an_edit_that_fills_the_disk_leaves_nothing_and_goes_through_once_there_is_room() {
    let folder = std::env::temp_dir().join(format!("store-full-disk-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let name = folder.join("a.db");
    let store = Store::open(name.to_str().unwrap()).await.unwrap();
    let brought = [("note".to_owned(), "short".to_owned())];
    let new = NewBuild { leaves: &brought, copied_from: None };
    let build = store.create_build(new, &by("made")).await.unwrap();

    let mut failures = 0;
    for round in 0..6 {
        // Three long notes: they need new pages in the log and in the fields, several each.
        let changes: Vec<Change> = (0..3)
            .map(|number| Change {
                path: format!("round{round}.note{number}"),
                before: None,
                after: Some("long ".repeat(2_000)),
            })
            .collect();
        let as_it_was = store.leaves(&build).await.unwrap().unwrap();
        let signed = by(&format!("round {round}"));
        let mut room = 0;
        let applied = loop {
            allow_pages(&store, room).await;
            match store.edit(&build, &changes, &signed).await {
                Ok(applied) => break applied,
                Err(EditError::Store(StoreError::DiskFull(_))) => failures += 1,
                Err(other) => panic!("with room for {room} pages: {other:?}"),
            }
            assert_eq!(store.leaves(&build).await.unwrap().unwrap(), as_it_was);
            store.verify().await.unwrap();
            room += 1;
            assert!(room < 100, "the edit needs some thirty pages");
        };
        assert!(!applied.replayed);
        assert_eq!(applied.revision, as_it_was.revision + 1);
    }
    assert!(failures > 60, "the disk was full only {failures} times");
    store.verify().await.unwrap();
    store.close().await;
    std::fs::remove_dir_all(&folder).unwrap();
}

#[tokio::test]
async fn pictures_that_fill_the_disk_come_in_together_or_not_at_all() {
    let folder = std::env::temp_dir().join(format!("store-full-disk-pictures-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let store = Store::open(folder.join("a.db").to_str().unwrap()).await.unwrap();
    let brought = [("note".to_owned(), "short".to_owned())];
    let build = store.create_build(NewBuild { leaves: &brought, copied_from: None }, &by("made")).await.unwrap();
    let pictures: Vec<Vec<u8>> = (1_u8..=3).map(|shade| vec![shade; 40_000]).collect();
    let several: Vec<NewUpload<'_>> = pictures
        .iter()
        .map(|bytes| NewUpload {
            build: &build,
            place: "",
            note: "",
            content: Content { kind: "image/jpeg", bytes },
            small: None,
            quota: Quota::default(),
        })
        .collect();
    let (mut room, signed) = (0, by("pictures"));
    let ids = loop {
        allow_pages(&store, room).await;
        match store.add_uploads(&several, &signed).await {
            Ok(ids) => break ids,
            Err(UploadError::Store(StoreError::DiskFull(_))) => {}
            Err(other) => panic!("with room for {room} pages: {other:?}"),
        }
        assert_eq!(store.uploads(&build).await.unwrap(), []);
        assert_eq!(store.uploads_bytes().await.unwrap(), 0, "with room for {room} pages");
        room += 1;
        assert!(room < 100, "the pictures need some forty pages");
    };
    assert!(room > 20, "the disk was full only {room} times");
    assert_eq!(store.add_uploads(&several, &signed).await.unwrap(), ids, "the same request again");
    assert_eq!(store.uploads_bytes().await.unwrap(), 120_000);
    store.verify().await.unwrap();
    store.close().await;
    std::fs::remove_dir_all(&folder).unwrap();
}

/// Lets the file grow by so many pages and no more.
async fn allow_pages(store: &Store, more: i64) {
    let mut writer = store.writer().acquire().await.unwrap();
    let now: i64 = sqlx::query_scalar("PRAGMA page_count").fetch_one(&mut *writer).await.unwrap();
    let most = now + more;
    let told: i64 = sqlx::query_scalar(AssertSqlSafe(format!("PRAGMA max_page_count = {most}")))
        .fetch_one(&mut *writer)
        .await
        .unwrap();
    assert_eq!(told, most);
}

fn by(request_key: &str) -> By {
    By { who: "Anna".to_owned(), at_ms: 1, request_key: request_key.to_owned() }
}
