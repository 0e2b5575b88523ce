//! The page of the bar tape over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, key};

#[tokio::test]
async fn the_turns_stand_on_the_bar_and_in_figures_and_alike_sides_are_drawn_once() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/tape")).await;
    assert_eq!(page.status, 200);
    assert_eq!(page.body.matches("tape-drawing").count(), 1);
    for said in ["<b>9 turns</b>", "Both sides alike", "overlap inside of it", "cut from the end of this roll", "60 mm"]
    {
        assert!(page.body.contains(said), "no «{said}» in\n{}", page.body);
    }
}

#[tokio::test]
async fn a_setting_changed_on_the_page_winds_it_anew_and_its_taking_back_too() {
    let (workshop, build) = Workshop::with_sample().await;
    let change = [
        ("path", "settings.tape_turns_left"),
        ("before", "9"),
        ("after", "12"),
        ("key", &key()),
        ("seen", "1"),
        ("page", "tape"),
    ];
    let answer = workshop.post(&format!("{build}/edit"), &change).await;
    assert_eq!(answer.status, 200, "{}", answer.body);
    assert!(answer.body.contains("id=\"whole\"") && answer.body.contains("<b>12 turns</b>"), "{}", answer.body);
    assert!(answer.body.contains("The sides differ.") && answer.body.matches("tape-drawing").count() == 2);
}

#[tokio::test]
async fn a_side_that_is_not_known_says_what_it_lacks_and_where_it_is_filled_in() {
    let (workshop, build) = Workshop::with_sample_where(&[("settings.tape_stop_right", "")]).await;
    let page = workshop.get(&format!("{build}/tape")).await;
    assert!(page.body.contains("The other side is not known."), "{}", page.body);
    assert!(page.body.contains("#field.settings.tape_stop_right"), "{}", page.body);
    let workshop = Workshop::open().await;
    let id = workshop.make(&[("job.title".to_owned(), "bare".to_owned())]).await;
    let page = workshop.get(&format!("/builds/{id}/tape")).await;
    assert!(page.status == 200 && page.body.contains("No tape is listed yet."), "{}", page.body);
}
