//! One build's life, from the first sheet to the last change, told on a file and in memory.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

mod common;

use common::{Folder, by, change, leaves};
use std::collections::BTreeMap;
use witnessmark_store::{Applied, Clash, EditError, LastChange, NewBuild, Store, Verified};

#[tokio::test]
async fn a_build_is_made_changed_clashed_over_undone_and_copied_in_memory() {
    story(&Store::open_in_memory().await.unwrap()).await;
}

#[tokio::test]
async fn a_build_is_made_changed_clashed_over_undone_and_copied_in_a_file_that_is_opened_again() {
    let folder = Folder::new("story");
    let name = folder.file("the shop's file #1 (50%).db");
    let store = Store::open(&name).await.unwrap();
    story(&store).await;
    let before = (store.builds().await.unwrap(), store.verify().await.unwrap());
    store.close().await;

    let again = Store::open(&format!("sqlite://{name}")).await.unwrap();
    let after = (again.builds().await.unwrap(), again.verify().await.unwrap());
    assert_eq!(after, before);
    again.close().await;
}

#[tokio::test]
async fn a_build_is_made_changed_clashed_over_undone_and_copied_on_a_server_that_is_asked_again() {
    let address = common::postgres::shared().database().await;
    let store = Store::open(&address).await.unwrap();
    story(&store).await;
    let before = (store.builds().await.unwrap(), store.verify().await.unwrap());
    store.close().await;

    let again = Store::open(&address).await.unwrap();
    let after = (again.builds().await.unwrap(), again.verify().await.unwrap());
    assert_eq!(after, before);
    again.close().await;
}

#[allow(clippy::too_many_lines, reason = "each step starts from what the last one left; a story is told in one piece")]
async fn story(store: &Store) {
    // Anna writes down what the rider brought.
    let brought =
        leaves(&[("rider.name", "Rider One"), ("parts.stem.length", "11 cm"), ("settings.spacers_under", "3.5 cm")]);
    let new = NewBuild { leaves: &brought, copied_from: None };
    let build = store.create_build(new.clone(), &by("Anna", 1_000, "k1")).await.unwrap();
    // The tap was shaky and came twice.
    assert_eq!(store.create_build(new.clone(), &by("Anna", 1_050, "k1")).await.unwrap(), build);
    assert_eq!(store.builds().await.unwrap().len(), 1);

    let record = store.leaves(&build).await.unwrap().unwrap();
    assert_eq!(record.revision, 1);
    assert_eq!(record.leaves.into_iter().collect::<Vec<_>>(), {
        let mut sorted = brought.clone();
        sorted.sort();
        sorted
    });

    // She swaps the stem and takes a spacer out, in one step.
    let swap = [
        change("parts.stem.length", Some("11 cm"), Some("120")),
        change("settings.spacers_under", Some("3.5 cm"), Some("25")),
    ];
    let swapped = store.edit(&build, &swap, &by("Anna", 2_000, "k2")).await.unwrap();
    assert_eq!(swapped, Applied { revision: 2, replayed: false });

    // Ben's tablet still shows the old stem. He sees both texts, whose it is, and nothing of his is kept.
    let late =
        [change("parts.bar.width", None, Some("40 cm")), change("parts.stem.length", Some("11 cm"), Some("100"))];
    let refusal = store.edit(&build, &late, &by("Ben", 1_500, "k3")).await.unwrap_err();
    let EditError::Clash(clashes) = &refusal else {
        panic!("{refusal:?}");
    };
    assert_eq!(
        clashes.as_slice(),
        [Clash {
            path: "parts.stem.length".into(),
            found: Some("120".into()),
            wanted_before: Some("11 cm".into()),
            yours: Some("100".into()),
            last_change: Some(LastChange { who: "Anna".into(), at_ms: 2_000, revision: 2 }),
        }]
    );
    assert_eq!(
        refusal.to_string(),
        "parts.stem.length now says \"120\" (by Anna); you started from \"11 cm\" and wanted \"100\"."
    );
    let record = store.leaves(&build).await.unwrap().unwrap();
    assert_eq!(record.revision, 2);
    assert_eq!(record.leaves.get("parts.bar.width"), None);

    // The bar alone is no trouble; his clock is behind Anna's, and the order is the log's all the same.
    let bar = store.edit(&build, &late[..1], &by("Ben", 1_600, "k4")).await.unwrap();
    assert_eq!(bar.revision, 3);

    // Anna's step is taken back, and the taking back is taken back.
    let undone = store.undo(&build, 2, &by("Anna", 3_000, "k5")).await.unwrap();
    assert_eq!(undone, Applied { revision: 4, replayed: false });
    let record = store.leaves(&build).await.unwrap().unwrap();
    assert_eq!(record.leaves["parts.stem.length"], "11 cm");
    assert_eq!(record.leaves["settings.spacers_under"], "3.5 cm");
    assert_eq!(record.leaves["parts.bar.width"], "40 cm");
    let redone = store.undo(&build, 4, &by("Anna", 3_100, "k6")).await.unwrap();
    assert_eq!(redone.revision, 5);
    assert_eq!(store.leaves(&build).await.unwrap().unwrap().leaves["parts.stem.length"], "120");

    // Once a field has moved on, the step it was part of stays.
    let longer = [change("settings.spacers_under", Some("25"), Some("30"))];
    store.edit(&build, &longer, &by("Ben", 3_200, "k7")).await.unwrap();
    let refusal = store.undo(&build, 5, &by("Anna", 3_300, "k8")).await.unwrap_err();
    let EditError::Clash(clashes) = refusal else {
        panic!("{refusal:?}");
    };
    assert_eq!(clashes.len(), 1);
    assert_eq!(clashes[0].path, "settings.spacers_under");
    assert_eq!(clashes[0].found.as_deref(), Some("30"));

    // A field can go away, and has a history all the same.
    let gone = [change("parts.bar.width", Some("40 cm"), None)];
    store.edit(&build, &gone, &by("Ben", 3_400, "k9")).await.unwrap();
    let history = store.history(&build, "parts.bar.width").await.unwrap();
    let told: Vec<_> = history
        .iter()
        .map(|row| (row.revision, row.who.as_str(), row.before.as_deref(), row.after.as_deref()))
        .collect();
    assert_eq!(told, [(3, "Ben", None, Some("40 cm")), (7, "Ben", Some("40 cm"), None)]);
    let recent = store.recent(&build, 3).await.unwrap();
    let told: Vec<_> = recent.iter().map(|row| (row.revision, row.path.as_str(), row.undoes)).collect();
    assert_eq!(
        told,
        [(7, "parts.bar.width", None), (6, "settings.spacers_under", None), (5, "parts.stem.length", Some(4)),]
    );
    assert!(recent.windows(2).all(|pair| pair[0].seq >= pair[1].seq));

    // The second bike starts from the first.
    let copy = store
        .create_build(NewBuild { leaves: &brought[..1], copied_from: Some(&build) }, &by("Anna", 4_000, "k10"))
        .await
        .unwrap();
    let list = store.builds().await.unwrap();
    assert_eq!(list[0].id, copy);
    assert_eq!(list[0].copied_from, Some(build.clone()));
    assert_eq!((list[1].id.clone(), list[1].revision), (build.clone(), 7));
    assert_eq!((list[1].created_by.as_str(), list[1].created_at_ms), ("Anna", 1_000));
    assert_eq!((list[1].changed_by.as_str(), list[1].changed_at_ms), ("Ben", 3_400));

    // Whoever keeps a list of the builds reads the log once, and then what came to it.
    let told = async |seq: i64, most: i64| {
        let lines = store.builds_after(seq, &["rider.name", "job.title", "parts.bar.width"], most).await.unwrap();
        let told = lines.into_iter().map(|line| (line.id, line.seq, line.revision, line.changed_by, line.leaves));
        told.collect::<Vec<_>>()
    };
    let rider = BTreeMap::from([("rider.name".to_owned(), "Rider One".to_owned())]);
    let first = (build.clone(), 7, 7, "Ben".to_owned(), rider.clone());
    let second = (copy.clone(), 8, 1, "Anna".to_owned(), rider);
    assert_eq!(told(0, 9).await, [first.clone(), second.clone()]);
    assert_eq!(told(0, 1).await, [first]);
    assert_eq!(told(7, 9).await, [second]);
    assert_eq!(told(8, 9).await, []);
    let mut both = [(build.clone(), "rider.name".to_owned()), (copy.clone(), "rider.name".to_owned())];
    both.sort();
    assert_eq!(store.saying("Rider One", "rider.%").await.unwrap(), both);
    assert_eq!(store.saying("Rider One", "job.%").await.unwrap(), []);
    assert_eq!(store.saying("Rider", "rider.%").await.unwrap(), []);
    assert_eq!((store.revision(&build).await.unwrap(), store.revision(&copy).await.unwrap()), (Some(7), Some(1)));
    assert_eq!(store.revision(&"00000000".parse().unwrap()).await.unwrap(), None);

    assert_eq!(
        store.verify().await.unwrap(),
        Verified { builds: 2, revisions: 8, edits: 3 + 2 + 1 + 2 + 2 + 1 + 1 + 1, fields: 3 + 1 }
    );
}
