//! Pictures and documents of a build, over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Answer, Workshop, key};
use crate::uploads::tests::drawn;
use image::ImageFormat;
use witnessmark_store::{BuildId, By, Content, NewUpload, Quota};

/// Sends files as a browser does.
async fn bring(workshop: &Workshop, build: &str, key: &str, files: &[(&str, &[u8])]) -> Answer {
    let mut body = Vec::new();
    let mut part = |head: &str, bytes: &[u8]| {
        body.extend_from_slice(format!("--edge\r\nContent-Disposition: form-data; {head}\r\n\r\n").as_bytes());
        body.extend_from_slice(bytes);
        body.extend_from_slice(b"\r\n");
    };
    for (name, bytes) in files {
        part(&format!("name=\"file\"; filename=\"{name}\""), bytes);
    }
    part("name=\"place\"", b"steerer-cut");
    part("name=\"note\"", b"before the cut");
    part("name=\"who\"", b"Ben");
    part("name=\"key\"", key.as_bytes());
    body.extend_from_slice(b"--edge--\r\n");
    let kind = ("content-type", "multipart/form-data; boundary=edge");
    workshop.ask_bytes("POST", &format!("{build}/photos"), &[kind], &body).await
}

#[tokio::test]
async fn a_photo_is_kept_shown_and_removed_and_its_name_is_nowhere_a_path() {
    let (workshop, build) = Workshop::with_sample().await;
    let photo = drawn(900, 600, ImageFormat::Png);
    let key = key();
    let kept = bring(&workshop, &build, &key, &[("../../etc/passwd.html", &photo)]).await;
    assert_eq!(kept.status, 303, "{}", kept.body);
    assert_eq!(bring(&workshop, &build, &key, &[("again.png", &photo)]).await.status, 303, "a second tap");
    let page = workshop.get(&kept.headers["location"]).await;
    assert_eq!(page.body.matches("<img").count(), 1, "{}", page.body);
    assert!(page.body.contains("steerer, cut length: before the cut") && !page.body.contains("passwd"), "{}", page.body);
    let address = page.between("a class=\"photo\" href=\"", "\"").to_owned();
    let whole = workshop.get(&address).await;
    assert_eq!((whole.status, whole.headers["content-type"].as_str()), (200, "image/jpeg"));
    assert_eq!(whole.headers["x-content-type-options"], "nosniff");
    assert_eq!(workshop.get(&format!("{address}?size=small")).await.status, 200);
    assert_eq!(workshop.post(&address, &[("key", "k"), ("who", "Ben")]).await.status, 303);
    assert_eq!(workshop.get(&address).await.status, 404);
    assert_eq!(workshop.store.uploads_bytes().await.unwrap(), 0);
}

#[tokio::test]
async fn one_bad_file_among_good_ones_leaves_nothing_kept_and_says_why() {
    let (workshop, build) = Workshop::with_sample().await;
    let photo = drawn(90, 60, ImageFormat::Jpeg);
    let cases: [(&[u8], u16, &str); 4] = [
        (b"GIF89a\0\0\0", 422, "its content this is no picture"),
        (&photo[..photo.len() / 2], 422, "cannot be read"),
        (&vec![b'a'; crate::uploads::MOST_BYTES + 1], 413, "24 MB a file"),
        (b"", 303, ""),
    ];
    for (bytes, status, says) in cases {
        let answer = bring(&workshop, &build, &key(), &[("good.jpg", &photo), ("bad.jpg", bytes)]).await;
        assert_eq!(answer.status, status, "{says}: {}", answer.body);
        if status != 303 {
            assert!(answer.body.contains(says) && answer.body.contains("value=\"before the cut\""), "{}", answer.body);
            assert_eq!(workshop.store.uploads_bytes().await.unwrap(), 0, "{says}");
        }
    }
    let nothing = bring(&workshop, &build, &key(), &[]).await;
    assert_eq!(nothing.status, 422);
}

#[tokio::test]
async fn two_files_where_there_is_room_for_one_are_both_refused_and_leave_no_trace() {
    let (workshop, build) = Workshop::with_sample().await;
    let id: BuildId = build.trim_start_matches("/builds/").parse().unwrap();
    let quota = Quota::default();
    let one = NewUpload {
        build: &id,
        place: "",
        note: "",
        content: Content { kind: "text/plain; charset=utf-8", bytes: b"a" },
        small: None,
        quota,
    };
    let nearly_all = vec![one; usize::try_from(quota.per_build - 1).unwrap()];
    let by = By { who: "Ben".into(), at_ms: 1, request_key: "before".into() };
    workshop.store.add_uploads(&nearly_all, &by).await.unwrap();

    let photo = drawn(90, 60, ImageFormat::Jpeg);
    let key = key();
    let refused = bring(&workshop, &build, &key, &[("one.jpg", &photo), ("two.jpg", &photo)]).await;
    assert_eq!(refused.status, 507, "{}", refused.body);
    assert_eq!(workshop.store.uploads(&id).await.unwrap().len(), nearly_all.len());
    assert_eq!(workshop.store.uploads_bytes().await.unwrap(), 1);
    let ledger = workshop.store.ledger(None, 1_000).await.unwrap();
    assert!(!ledger.iter().any(|line| line.did.contains("removed")), "nothing was there to be removed: {ledger:?}");
    // One alone still finds its place, under the same form.
    assert_eq!(bring(&workshop, &build, &key, &[("one.jpg", &photo)]).await.status, 303);
    assert_eq!(workshop.store.uploads(&id).await.unwrap().len(), nearly_all.len() + 1);
}

#[tokio::test]
async fn a_document_is_saved_and_never_shown() {
    let (workshop, build) = Workshop::with_sample().await;
    let kept = bring(&workshop, &build, &key(), &[("bill.html", b"<script>alert(1)</script>")]).await;
    let page = workshop.get(&kept.headers["location"]).await;
    let address = page.between("a class=\"photo\" href=\"", "\"").to_owned();
    let document = workshop.get(&address).await;
    assert_eq!(document.headers["content-type"], "text/plain; charset=utf-8");
    assert_eq!(document.headers["content-disposition"], "attachment");
}

#[tokio::test]
async fn a_photo_is_put_on_a_sheet_and_taken_off_and_the_sheet_says_when_it_is_gone() {
    let (workshop, build) = Workshop::with_sample().await;
    let photo = drawn(1800, 1200, ImageFormat::Jpeg);
    let kept = bring(&workshop, &build, &key(), &[("a.jpg", &photo)]).await;
    let page = workshop.get(&kept.headers["location"]).await;
    let address = page.between("a class=\"photo\" href=\"", "\"").to_owned();
    let id = address.rsplit('/').next().unwrap();
    let to = format!("{build}/photos/on-sheets");
    let tick = format!("on.{id}.bench");
    let key_of_tick = key();
    let fields = [(tick.as_str(), "yes"), ("of", id), ("was", ""), ("who", "Ben"), ("key", key_of_tick.as_str())];
    for _ in 0..2 {
        assert_eq!(workshop.post(&to, &fields).await.status, 303);
    }
    assert_eq!(workshop.kept(&build, &format!("photos.{id}.bench")).await.as_deref(), Some("yes"));
    let page = workshop.get(&format!("{build}/photos")).await;
    assert!(page.body.contains(&format!("name=\"{tick}\" value=\"yes\" checked")), "{}", page.body);
    // A picture of 1200 by 800 stands in the one sheet and in no other.
    let has_picture = async |sheet: &str| {
        let sheet = workshop.get(&format!("{build}/sheets/{sheet}-a4.pdf")).await;
        assert_eq!(sheet.status, 200);
        sheet.body.contains("/Width 1200") && sheet.body.contains("DCTDecode")
    };
    assert!(has_picture("bench").await && !has_picture("hand-over").await);

    // Somebody who saw no tick does not take it away, nor put it on a second time.
    let stale = [("of", id), ("was", ""), ("key", "stale")];
    assert_eq!(workshop.post(&to, &stale).await.status, 303);
    assert_eq!(workshop.kept(&build, &format!("photos.{id}.bench")).await.as_deref(), Some("yes"));
    let clash = [(tick.as_str(), "yes"), ("of", id), ("was", ""), ("key", "clash")];
    let answer = workshop.post(&to, &clash).await;
    assert_eq!(answer.status, 409);
    assert!(answer.body.contains("Somebody else changed the choice"));

    assert_eq!(workshop.post(&address, &[("key", "gone"), ("who", "Ben")]).await.status, 303);
    assert!(!has_picture("bench").await, "it is gone; the sheet is made all the same");
    let was = format!("{id}.bench");
    let off = [("of", id), ("was", was.as_str()), ("key", "off")];
    assert_eq!(workshop.post(&to, &off).await.status, 303);
}
