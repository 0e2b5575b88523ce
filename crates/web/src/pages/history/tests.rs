//! The history over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, key};

#[tokio::test]
async fn the_newest_change_comes_first_and_the_making_is_told_short() {
    let (workshop, build) = Workshop::with_sample().await;
    for (at, (before, after)) in [("110", "100"), ("100", "120")].into_iter().enumerate() {
        let seen = (at + 1).to_string();
        let change = [
            ("path", "parts.stem.length"),
            ("before", before),
            ("after", after),
            ("key", &key()),
            ("seen", &seen),
            ("who", "Ada"),
        ];
        assert_eq!(workshop.post(&format!("{build}/edit"), &change).await.status, 200);
    }
    let all = workshop.get(&format!("{build}/history")).await.body;
    let place = |text: &str| all.find(text).unwrap_or_else(|| panic!("no {text}"));
    assert!(place("change 3") < place("change 2") && place("change 2") < place("made the build"));
    assert!(all.contains(" more</li>"), "the making is not listed field by field");
    assert_eq!(all.matches("<form method=\"post\"").count(), 2, "the making has no undo");

    let part = workshop.get(&format!("{build}/history?path=parts.stem")).await.body;
    assert!(part.contains("<b>100</b> became <b>120</b>") && !part.contains("settings"));
    let field = workshop.get(&format!("{build}/history?path=parts.stem.length")).await.body;
    assert!(field.contains("<i>not known</i> became <b>110</b>"), "from the first");
    let other = workshop.get(&format!("{build}/history?path=parts.ste")).await.body;
    assert!(other.contains("Nothing was ever written here."), "the beginning of a key is no key");
}
