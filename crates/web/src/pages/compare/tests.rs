//! The comparison over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, key, sample_leaves};

/// The sample, and another like it with these fields changed.
async fn two(changed: &[(&str, &str)]) -> (Workshop, String, String) {
    let (workshop, a) = Workshop::with_sample().await;
    let mut leaves = sample_leaves();
    for (path, text) in changed {
        leaves.retain(|(one, _)| one != path);
        leaves.push(((*path).to_owned(), (*text).to_owned()));
    }
    let b = workshop.make(&leaves).await;
    (workshop, a.trim_start_matches("/builds/").to_owned(), b.to_string())
}

#[tokio::test]
async fn a_longer_stem_moves_the_bar_and_nothing_behind_it() {
    let (workshop, a, b) = two(&[("parts.stem.length", "120")]).await;
    let page = workshop.get(&format!("/compare?a={a}&b={b}")).await;
    assert_eq!(page.status, 200);
    let bar = page.between("data-number=\"bar-x\"", "</tr>");
    assert!(bar.contains("they differ") && bar.contains("<b>+"), "{bar}");
    let saddle = page.between("data-number=\"saddle-height\"", "</tr>");
    assert!(saddle.contains("the same") && !saddle.contains("differ<"), "{saddle}");
    let parts = page.between("id=\"parts-title\"", "</section>");
    assert!(
        parts.contains("Stem") && parts.contains("<td data-label=\"A\">110</td><td data-label=\"B\">120</td>"),
        "{parts}"
    );
    // Both bikes on one drawing, told apart by their groups' strokes.
    let drawing = page.between("id=\"overlay\"", "</figure>");
    assert!(drawing.contains("<g class=\"a\"><path") && drawing.contains("<g class=\"b\"><path"), "{drawing}");
}

#[tokio::test]
async fn a_difference_that_a_poor_reading_could_feign_is_the_same_within_what_was_measured() {
    let read = |value, plus_minus| [("measured.bb-height.value", value), ("measured.bb-height.plus_minus", plus_minus)];
    for (plus_minus, says) in [("20", "the same within what was measured"), ("0.5", "they differ")] {
        let (workshop, a, b) = two(&read("280", plus_minus)).await;
        let page = workshop.get(&format!("/compare?a={a}&b={b}")).await;
        let row = page.between("data-number=\"bb-height\"", "</tr>");
        assert!(row.contains(says), "± {plus_minus}: {row}");
    }
}

#[tokio::test]
async fn one_build_is_held_against_itself_as_it_was() {
    let (workshop, build) = Workshop::with_sample().await;
    let id = build.trim_start_matches("/builds/");
    let before = workshop.kept(&build, "parts.stem.length").await.unwrap();
    let fields = [("path", "parts.stem.length"), ("before", &before), ("after", "130"), ("key", &key()), ("seen", "1")];
    assert_eq!(workshop.post(&format!("{build}/edit"), &fields).await.status, 200);
    let page = workshop.get(&format!("/compare?a={id}&a_at=1&b={id}")).await;
    assert!(page.body.contains("after change 1"), "{}", page.body);
    let cells = format!("<td data-label=\"A\">{before}</td><td data-label=\"B\">130</td>");
    assert!(page.between("id=\"parts-title\"", "</section>").contains(&cells), "{}", page.body);
    // The same by the day: the workshop of the tests began in 1970, and the edit is of today.
    let by_day = workshop.get(&format!("/compare?a={id}&a_at=1999-12-31&b={id}")).await;
    assert!(by_day.body.contains("after change 1"), "{}", by_day.body);
    assert!(by_day.between("id=\"parts-title\"", "</section>").contains(&cells), "{}", by_day.body);
    let too_early = workshop.get(&format!("/compare?a={id}&a_at=1969-12-31&b={id}")).await;
    assert!(too_early.status == 422 && too_early.body.contains("not begun yet"), "{}", too_early.body);
    // A change that never was.
    let refused = workshop.get(&format!("/compare?a={id}&a_at=99&b={id}")).await;
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("its changes go from 1 to 2"), "{}", refused.body);
}

#[tokio::test]
async fn levers_that_sit_unequally_are_told_on_their_bike() {
    let (workshop, a, b) = two(&[("measured.hood-x.left.value", "590"), ("measured.hood-x.right.value", "586")]).await;
    let page = workshop.get(&format!("/compare?a={a}&b={b}")).await;
    let sides = page.between("id=\"sides-title\"", "</section>");
    let of_b = sides.split(">B<").nth(1).unwrap();
    let row = of_b.split("<tr>").find(|row| row.contains("590 mm")).unwrap();
    assert!(row.contains("586 mm") && row.contains("they differ"), "{row}");
}

#[tokio::test]
async fn without_two_builds_the_page_asks_which() {
    let (workshop, a, b) = two(&[]).await;
    let page = workshop.get("/compare").await;
    assert_eq!(page.status, 200);
    assert!(
        page.body.contains(&format!("<option value=\"{a}\">"))
            && page.body.contains(&format!("<option value=\"{b}\">"))
    );
    assert!(!page.body.contains("Number by number"));
    assert_eq!(workshop.get(&format!("/compare?a={a}&b=7k3m9x2b")).await.status, 404);
    assert!(workshop.get("/builds").await.body.contains("href=\"/compare\""));
}
