//! The page of copies over a socket.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use crate::CopyFolder;
use crate::testing::Workshop;
use witnessmark_store::read_copy;

#[tokio::test]
async fn without_a_folder_the_page_says_how_to_name_one() {
    let workshop = Workshop::open().await;
    let page = workshop.get("/copies").await;
    assert_eq!(page.status, 200);
    assert!(page.body.contains("serve --copies FOLDER") && !page.body.contains("<button>Make a copy"), "{}", page.body);
    assert_eq!(workshop.post("/copies", &[]).await.status, 409);
}

#[tokio::test]
async fn a_copy_is_made_at_the_button_and_listed_and_one_that_cannot_be_made_is_told_of() {
    let path = std::env::temp_dir().join(format!("copies-page-{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&path);
    std::fs::create_dir_all(&path).unwrap();
    let folder = CopyFolder { path: path.clone(), keep: 2 };
    let named = folder.clone();
    let workshop = Workshop::of(|app| app.keeping_copies(named)).await;
    let answer = workshop.post("/copies", &[]).await;
    assert_eq!(answer.status, 200, "{}", answer.body);
    assert!(answer.body.contains("was made and read back"), "{}", answer.body);
    let copies = folder.list().unwrap();
    assert_eq!(copies.len(), 1);
    read_copy(&copies[0].path).await.unwrap();
    let name = copies[0].path.file_name().unwrap().to_str().unwrap();
    assert!(workshop.get("/copies").await.body.contains(name));

    std::fs::remove_dir_all(&path).unwrap();
    let answer = workshop.post("/copies", &[]).await;
    assert!(answer.status >= 500, "{}", answer.status);
    assert!(answer.body.contains("role=\"alert\""), "{}", answer.body);
}
