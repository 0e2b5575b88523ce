//! The catalogue on a real file: versions stay, a change is whole or nothing, and stock makes no version.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

mod common;

use witnessmark_store::{CatalogueBy, CatalogueEdit, CataloguePart, EditError, HANDFUL, Store, StoreError};

common::on_both! {
    a_change_makes_a_new_version_and_the_old_one_stays;
    stock_changes_without_a_version;
    a_change_that_is_given_up_or_dropped_leaves_nothing;
    a_version_twice_and_a_text_that_cannot_be_kept_are_refused;
    a_change_that_writes_nothing_is_not_in_the_log;
    where_the_log_stands_is_told_and_moves_with_each_change;
    a_gap_between_versions_is_found_when_the_file_is_looked_through;
}

fn by(source: &str) -> CatalogueBy {
    CatalogueBy { who: "Anna".to_owned(), at_ms: 7, source: source.to_owned() }
}

fn stem(id: &str, version: i64, length: &str, stock: Option<i64>) -> CataloguePart {
    let leaves = vec![("length".to_owned(), length.to_owned()), ("note".to_owned(), "a\tb\\\n".to_owned())];
    CataloguePart { kind: "stem".to_owned(), id: id.to_owned(), version, stock, leaves }
}

fn edit(part: CataloguePart) -> CatalogueEdit {
    CatalogueEdit { part, new_facts: true, new_stock: true }
}

async fn write(store: &Store, source: &str, edits: &[CatalogueEdit]) -> Option<i64> {
    let mut change = store.change_catalogue(by(source)).await.unwrap();
    change.write(edits).await.unwrap();
    change.commit().await.unwrap()
}

async fn a_change_makes_a_new_version_and_the_old_one_stays(address: &str) {
    let store = Store::open(address).await.unwrap();
    assert_eq!(write(&store, "a.csv", &[edit(stem("one", 1, "110", Some(3)))]).await, Some(1));
    assert_eq!(write(&store, "b.csv", &[edit(stem("one", 2, "11 cm", Some(2)))]).await, Some(2));
    assert_eq!(store.catalogue(None).await.unwrap(), [stem("one", 2, "11 cm", Some(2))]);
    assert_eq!(store.catalogue(Some("bar")).await.unwrap(), []);
    let versions = store.catalogue_versions("stem", "one").await.unwrap();
    let told: Vec<(i64, &str, &str)> =
        versions.iter().map(|v| (v.version, v.leaves[0].1.as_str(), v.source.as_str())).collect();
    assert_eq!(told, [(1, "110", "a.csv"), (2, "11 cm", "b.csv")]);
    store.verify().await.unwrap();
}

async fn stock_changes_without_a_version(address: &str) {
    let store = Store::open(address).await.unwrap();
    write(&store, "a.csv", &[edit(stem("one", 1, "110", Some(3)))]).await;
    let counted = CatalogueEdit { new_facts: false, ..edit(stem("one", 1, "110", Some(9))) };
    write(&store, "shelf", &[counted]).await;
    assert_eq!(store.catalogue(Some("stem")).await.unwrap()[0].stock, Some(9));
    assert_eq!(store.catalogue_versions("stem", "one").await.unwrap().len(), 1);
    store.verify().await.unwrap();
}

async fn a_change_that_is_given_up_or_dropped_leaves_nothing(address: &str) {
    let store = Store::open(address).await.unwrap();
    let many: Vec<CatalogueEdit> =
        (0..HANDFUL * 2 + 3).map(|at| edit(stem(&format!("s{at}"), 1, "110", None))).collect();
    let mut change = store.change_catalogue(by("a.csv")).await.unwrap();
    change.write(&many).await.unwrap();
    assert_eq!(change.named("stem", &["s3", "s130", "nobody"]).await.unwrap().len(), 2);
    assert_eq!(store.catalogue_named("stem", &["s3"]).await.unwrap(), [], "nobody else sees it yet");
    change.give_up().await;
    assert_eq!(store.catalogue(None).await.unwrap(), []);

    let mut change = store.change_catalogue(by("a.csv")).await.unwrap();
    change.write(&many).await.unwrap();
    drop(change);
    assert_eq!(store.catalogue(None).await.unwrap(), []);
    assert_eq!(write(&store, "a.csv", &many).await, Some(1), "and the pen is free again");
    assert_eq!(store.catalogue(None).await.unwrap().len(), many.len());
    store.verify().await.unwrap();
}

async fn a_version_twice_and_a_text_that_cannot_be_kept_are_refused(address: &str) {
    let store = Store::open(address).await.unwrap();
    write(&store, "a.csv", &[edit(stem("one", 1, "110", None))]).await;
    let mut change = store.change_catalogue(by("b.csv")).await.unwrap();
    let refusal = change.write(&[edit(stem("one", 1, "120", None))]).await.unwrap_err();
    assert!(matches!(refusal, EditError::Store(StoreError::Engine(_))), "{refusal:?}");
    change.give_up().await;

    let mut change = store.change_catalogue(by("b.csv")).await.unwrap();
    let refusal = change.write(&[edit(stem("two", 1, "11\0", None))]).await.unwrap_err();
    assert!(matches!(&refusal, EditError::NotText { path } if path == "stem.two"), "{refusal:?}");
    change.give_up().await;
    assert_eq!(store.catalogue(None).await.unwrap(), [stem("one", 1, "110", None)]);
}

async fn a_change_that_writes_nothing_is_not_in_the_log(address: &str) {
    let store = Store::open(address).await.unwrap();
    let change = store.change_catalogue(by("a.csv")).await.unwrap();
    assert_eq!(change.commit().await.unwrap(), None);
    assert_eq!(write(&store, "a.csv", &[edit(stem("one", 1, "110", None))]).await, Some(1));
    assert_eq!(store.catalogue_seq().await.unwrap(), 1);
}

async fn where_the_log_stands_is_told_and_moves_with_each_change(address: &str) {
    let store = Store::open(address).await.unwrap();
    assert_eq!(store.catalogue_seq().await.unwrap(), 0);
    for (seq, length) in [(1, "110"), (2, "120")] {
        let mut change = store.change_catalogue(by("a.csv")).await.unwrap();
        assert_eq!(change.stands_at().await.unwrap(), seq - 1);
        change.write(&[edit(stem("one", seq, length, None))]).await.unwrap();
        assert_eq!(change.stands_at().await.unwrap(), seq - 1, "without what it has written itself");
        assert_eq!(change.commit().await.unwrap(), Some(seq));
        assert_eq!(store.catalogue_seq().await.unwrap(), seq);
    }
}

async fn a_gap_between_versions_is_found_when_the_file_is_looked_through(address: &str) {
    let store = Store::open(address).await.unwrap();
    write(&store, "a.csv", &[edit(stem("one", 3, "110", None))]).await;
    let StoreError::Damaged { problems } = store.verify().await.unwrap_err() else { panic!("not seen as damaged") };
    assert_eq!(problems, ["Catalogue: the versions of stem one do not run from 1 to 3."]);
}
