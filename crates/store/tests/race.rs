//! Many at once: who wins, what the others are told, and that nobody is turned away for the crowd.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

mod common;

use common::{by, change, leaves};
use std::time::Duration;
use witnessmark_store::{CatalogueBy, EditError, NewBuild, Store};

common::on_both! {
    of_two_tablets_on_one_field_exactly_one_wins_and_the_other_sees_both_texts;
    one_request_tapped_by_many_fingers_at_once_is_written_once;
    a_crowd_of_writers_and_readers_on_new_data_is_served_without_one_refusal;
    a_request_given_up_half_way_leaves_all_or_nothing_and_the_pen_free;
    a_request_given_up_while_it_waits_for_the_pen_does_not_take_it_later;
}

async fn of_two_tablets_on_one_field_exactly_one_wins_and_the_other_sees_both_texts(address: &str) {
    let name = address.to_owned();
    // Two stores on one file: as two programs would, each with a pen of its own.
    let tablets = [Store::open(&name).await.unwrap(), Store::open(&name).await.unwrap()];
    let brought = leaves(&[("stem", "0")]);
    let new = NewBuild { leaves: &brought, copied_from: None };
    let build = tablets[0].create_build(new, &by("Anna", 1, "made")).await.unwrap();

    let mut current = "0".to_owned();
    for round in 0..100 {
        let mut asked = Vec::new();
        for (number, tablet) in tablets.iter().enumerate() {
            let (tablet, build, before) = (tablet.clone(), build.clone(), current.clone());
            asked.push(tokio::spawn(async move {
                let after = format!("{round} of {number}");
                let stem = [change("stem", Some(&before), Some(&after))];
                let signed = by(&format!("tablet {number}"), round, &after);
                (after, tablet.edit(&build, &stem, &signed).await)
            }));
        }
        let mut won = Vec::new();
        let mut lost = Vec::new();
        for answer in asked {
            match answer.await.unwrap() {
                (after, Ok(_)) => won.push(after),
                (after, Err(EditError::Clash(clashes))) => lost.push((after, clashes)),
                (_, Err(other)) => panic!("{other}"),
            }
        }
        let ([winner], [(loser, clashes)]) = (won.as_slice(), lost.as_slice()) else {
            panic!("round {round}: {won:?} won, {lost:?} lost");
        };
        assert_eq!(clashes[0].found.as_ref(), Some(winner));
        assert_eq!(clashes[0].yours.as_ref(), Some(loser));
        assert_eq!(clashes[0].wanted_before.as_ref(), Some(&current));
        current.clone_from(winner);
    }
    assert_eq!(tablets[1].verify().await.unwrap().revisions, 101);
    for tablet in tablets {
        tablet.close().await;
    }
}

async fn one_request_tapped_by_many_fingers_at_once_is_written_once(address: &str) {
    let store = Store::open(address).await.unwrap();
    let brought = leaves(&[("stem", "110")]);
    let mut taps = Vec::new();
    for _ in 0..16 {
        let (store, brought) = (store.clone(), brought.clone());
        taps.push(tokio::spawn(async move {
            let new = NewBuild { leaves: &brought, copied_from: None };
            let build = store.create_build(new, &by("Anna", 1, "made")).await.unwrap();
            let stem = [change("stem", Some("110"), Some("120"))];
            (build.clone(), store.edit(&build, &stem, &by("Anna", 2, "edit")).await.unwrap())
        }));
    }
    let mut answers = Vec::new();
    for tap in taps {
        answers.push(tap.await.unwrap());
    }
    assert!(answers.iter().all(|(build, applied)| *build == answers[0].0 && applied.revision == 2));
    let first_times = answers.iter().filter(|(_, applied)| !applied.replayed).count();
    assert_eq!(first_times, 1);
    assert_eq!(store.verify().await.unwrap().revisions, 2);
}

async fn a_crowd_of_writers_and_readers_on_new_data_is_served_without_one_refusal(address: &str) {
    let name = address.to_owned();
    let mut crowd = Vec::new();
    for person in 0..12 {
        let name = name.clone();
        crowd.push(tokio::spawn(async move {
            // Each opens the file for itself, and all at the same time while it is being made.
            let store = Store::open(&name).await.unwrap();
            let brought = leaves(&[("count", "0")]);
            let new = NewBuild { leaves: &brought, copied_from: None };
            let made = by("Anna", 1, &format!("{person} makes"));
            let build = store.create_build(new, &made).await.unwrap();
            for step in 0..20 {
                let count = [change("count", Some(&step.to_string()), Some(&(step + 1).to_string()))];
                let signed = by("Anna", 1, &format!("{person} takes step {step}"));
                store.edit(&build, &count, &signed).await.unwrap();
                let seen = store.leaves(&build).await.unwrap().unwrap();
                assert_eq!(seen.leaves["count"], (step + 1).to_string());
            }
            store.close().await;
        }));
    }
    for person in crowd {
        person.await.unwrap();
    }
    let store = Store::open(&name).await.unwrap();
    assert_eq!(store.verify().await.unwrap().revisions, 12 * 21);
    store.close().await;
}

async fn a_request_given_up_half_way_leaves_all_or_nothing_and_the_pen_free(address: &str) {
    let store = Store::open(address).await.unwrap();
    let brought = leaves(&[("stem", "0"), ("bar", "0")]);
    let new = NewBuild { leaves: &brought, copied_from: None };
    let build = store.create_build(new, &by("Anna", 1, "made")).await.unwrap();

    let mut written = 0;
    for step in 0..150_u64 {
        let current = store.leaves(&build).await.unwrap().unwrap().leaves["stem"].clone();
        let next = format!("{}", step + 1);
        let both = [change("stem", Some(&current), Some(&next)), change("bar", Some(&current), Some(&next))];
        let signed = by("Anna", 1, &next);
        // The patience grows from nothing to more than an edit takes, so that every await is cut off sometimes.
        let patience = Duration::from_micros(step * 20);
        let _ = tokio::time::timeout(patience, store.edit(&build, &both, &signed)).await;

        // The person asks again with the same key and gets a plain answer.
        let applied = store.edit(&build, &both, &signed).await.unwrap();
        written += usize::from(!applied.replayed);
        let now = store.leaves(&build).await.unwrap().unwrap().leaves;
        assert_eq!((&now["stem"], &now["bar"]), (&next, &next));
    }
    assert_eq!(store.verify().await.unwrap().revisions, 151);
    println!("given up before the commit: {written}, after it: {}", 150 - written);
    store.close().await;
}

/// Sqlx does not know of a transaction that it had begun when nobody waited for it any more: on a server, the connection
/// went back to the pool with the log's lock, and every other writer was turned away until it was used again.
async fn a_request_given_up_while_it_waits_for_the_pen_does_not_take_it_later(address: &str) {
    let open = async || Store::open(address).await.unwrap();
    let [writes, gives_up, comes_later] = [open().await, open().await, open().await];
    let brought = leaves(&[("stem", "0")]);
    let new = NewBuild { leaves: &brought, copied_from: None };
    let build = writes.create_build(new, &by("Anna", 1, "made")).await.unwrap();

    let signed = CatalogueBy { who: "Anna".to_owned(), at_ms: 1, source: "by hand".to_owned() };
    let pen = writes.change_catalogue(signed).await.unwrap();
    let one = [change("stem", Some("0"), Some("1"))];
    let given_up = by("Ben", 1, "given up");
    let given_up = tokio::time::timeout(Duration::from_millis(300), gives_up.edit(&build, &one, &given_up)).await;
    assert!(given_up.is_err(), "somebody else has the pen");
    pen.commit().await.unwrap();

    let applied = comes_later.edit(&build, &one, &by("Cleo", 1, "later")).await.unwrap();
    assert!(!applied.replayed);
    for store in [writes, gives_up, comes_later] {
        store.close().await;
    }
}
