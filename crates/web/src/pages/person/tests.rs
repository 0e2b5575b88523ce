//! A person's rights, over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, key};

#[tokio::test]
async fn an_owner_hands_out_and_erases_what_is_kept_about_a_rider() {
    let (workshop, _) = Workshop::with_people().await;
    let fields = [("rider.name", "Tove Sample"), ("rider.mass", "58 kg"), ("quote.number", "14")];
    let build = workshop.make(&fields.map(|(path, text)| (path.to_owned(), text.to_owned()))).await;
    let anna = workshop.signed_in("Anna").await;
    let page = workshop.get_as(&anna, "/person?name=tove%20sample").await;
    assert!(
        page.body.contains("58 kg") && page.body.contains("kept") && page.body.contains("until 1980-01-01"),
        "{}",
        page.body
    );
    let file = workshop.get_as(&anna, &format!("/person?name=tove%20sample&file={build}/fields.txt")).await;
    assert!(file.body.contains("rider.mass = 58 kg"), "{}", file.body);
    assert_eq!(file.headers["content-disposition"], "attachment");
    assert_eq!(workshop.get_as(&anna, "/person?name=tove%20sample&file=../etc").await.status, 404);

    let forget = async |again: &str| {
        let fields = [("name", "tove sample"), ("again", again), ("key", &key())];
        workshop.post_as(&anna, "/person", &fields).await
    };
    assert_eq!(forget("tove").await.status, 422);
    assert!(workshop.kept(build.as_str(), "rider.mass").await.is_some());
    let done = forget("Tove  Sample").await;
    assert_eq!(done.status, 200, "{}", done.body);
    // The build of this test was made in 1970, so its books are over too.
    assert!(done.body.contains("3 fields emptied, 3 changes put out of the log"), "{}", done.body);
    assert_eq!(workshop.kept(build.as_str(), "rider.mass").await, None);
    workshop.store.verify().await.unwrap();
}
