//! What the store turns away, each with its own sentence, and with nothing written.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

mod common;

use common::{Folder, by, change, leaves};
use sqlx::{AnyConnection, Connection};
use witnessmark_store::{Applied, BuildId, EditError, NewBuild, Store, StoreError};

common::on_both! {
    a_repeated_request_gets_the_first_answer_even_after_the_field_moved_on;
    the_order_of_the_changes_in_a_repeated_request_does_not_matter;
    a_key_used_for_something_else_is_refused;
    a_build_or_a_revision_that_is_not_there_is_named;
    a_change_that_could_not_be_kept_is_refused_by_its_field;
    text_is_kept_letter_for_letter;
    what_was_written_along_with_a_change_need_not_be_asked_for_again;
    a_closed_store_says_so;
}

/// A store with one build: `rider.name` and `parts.stem.length`.
async fn bench(address: &str) -> (Store, BuildId) {
    let store = Store::open(address).await.unwrap();
    let brought = leaves(&[("rider.name", "Rider One"), ("parts.stem.length", "110")]);
    let new = NewBuild { leaves: &brought, copied_from: None };
    let build = store.create_build(new, &by("Anna", 1, "made")).await.unwrap();
    (store, build)
}

async fn untouched(store: &Store, build: &BuildId) {
    assert_eq!(store.leaves(build).await.unwrap().unwrap().revision, 1);
    assert_eq!(store.verify().await.unwrap().revisions, 1);
}

async fn a_repeated_request_gets_the_first_answer_even_after_the_field_moved_on(address: &str) {
    let (store, build) = bench(address).await;
    let first = [change("parts.stem.length", Some("110"), Some("120"))];
    let next = [change("parts.stem.length", Some("120"), Some("130"))];
    store.edit(&build, &first, &by("Anna", 2, "a")).await.unwrap();
    store.edit(&build, &next, &by("Anna", 3, "b")).await.unwrap();

    let again = store.edit(&build, &first, &by("Anna", 9, "a")).await.unwrap();
    assert_eq!(again, Applied { revision: 2, replayed: true });
    assert_eq!(store.leaves(&build).await.unwrap().unwrap().leaves["parts.stem.length"], "130");

    let undo = store.undo(&build, 3, &by("Anna", 10, "c")).await.unwrap();
    let undo_again = store.undo(&build, 3, &by("Anna", 11, "c")).await.unwrap();
    assert_eq!(undo, Applied { revision: 4, replayed: false });
    assert_eq!(undo_again, Applied { revision: 4, replayed: true });
    assert_eq!(store.verify().await.unwrap().revisions, 4);
}

async fn the_order_of_the_changes_in_a_repeated_request_does_not_matter(address: &str) {
    let (store, build) = bench(address).await;
    let mut both =
        [change("parts.stem.length", Some("110"), Some("120")), change("parts.bar.width", None, Some("400"))];
    store.edit(&build, &both, &by("Anna", 2, "a")).await.unwrap();
    both.reverse();
    let again = store.edit(&build, &both, &by("Anna", 3, "a")).await.unwrap();
    assert!(again.replayed);
}

async fn a_key_used_for_something_else_is_refused(address: &str) {
    let (store, build) = bench(address).await;
    let stem = |after| [change("parts.stem.length", Some("110"), Some(after))];
    store.edit(&build, &stem("120"), &by("Anna", 2, "a")).await.unwrap();

    let other_text = store.edit(&build, &stem("121"), &by("Anna", 3, "a")).await;
    let other_person = store.edit(&build, &stem("120"), &by("Ben", 3, "a")).await;
    let other_kind = store.undo(&build, 2, &by("Anna", 3, "a")).await;
    let key_of_the_making = store.edit(&build, &stem("120"), &by("Anna", 3, "made")).await;
    for refused in [other_text, other_person, other_kind, key_of_the_making] {
        assert!(matches!(refused, Err(EditError::KeyReused)), "{refused:?}");
    }
    let brought = leaves(&[("rider.name", "Rider Two")]);
    let new = NewBuild { leaves: &brought, copied_from: None };
    let other_build = store.create_build(new, &by("Anna", 3, "made")).await;
    assert!(matches!(other_build, Err(EditError::KeyReused)), "{other_build:?}");

    assert_eq!(store.builds().await.unwrap().len(), 1);
    assert_eq!(store.verify().await.unwrap().revisions, 2);
}

async fn a_build_or_a_revision_that_is_not_there_is_named(address: &str) {
    let (store, build) = bench(address).await;
    let nowhere: BuildId = "00000000".parse().unwrap();
    let stem = [change("parts.stem.length", None, Some("120"))];
    let refusal = store.edit(&nowhere, &stem, &by("Anna", 2, "a")).await.unwrap_err();
    assert_eq!(refusal.to_string(), "There is no build 00000000.");
    let refusal = store.undo(&build, 7, &by("Anna", 2, "a")).await.unwrap_err();
    assert_eq!(refusal.to_string(), format!("Build {build} has no change number 7."));
    let brought = leaves(&[("rider.name", "Rider Two")]);
    let new = NewBuild { leaves: &brought, copied_from: Some(&nowhere) };
    let refusal = store.create_build(new, &by("Anna", 2, "a")).await.unwrap_err();
    assert!(matches!(refusal, EditError::NoSuchBuild(id) if id == nowhere));
    assert_eq!(store.leaves(&nowhere).await.unwrap(), None);
    untouched(&store, &build).await;
}

async fn a_change_that_could_not_be_kept_is_refused_by_its_field(address: &str) {
    let (store, build) = bench(address).await;
    let cases = [
        (vec![], "Nothing was to be changed."),
        (vec![change("rider.name", Some("Rider One"), Some("Rider One"))], "The field rider.name already says that."),
        (
            vec![change("a", None, Some("1")), change("a", None, Some("2"))],
            "The field a was named twice in one change.",
        ),
        (
            vec![change("note", None, Some("a\0b"))],
            "The field \"note\" cannot be kept: its name is empty, or an invisible character slipped in.",
        ),
        (
            vec![change("", None, Some("1"))],
            "The field \"\" cannot be kept: its name is empty, or an invisible character slipped in.",
        ),
    ];
    for (changes, sentence) in cases {
        let refusal = store.edit(&build, &changes, &by("Anna", 2, "a")).await.unwrap_err();
        assert_eq!(refusal.to_string(), sentence);
    }
    let stem = [change("parts.stem.length", Some("110"), Some("120"))];
    let refusal = store.edit(&build, &stem, &by("Anna", 2, "")).await.unwrap_err();
    assert!(matches!(refusal, EditError::KeyMissing));
    untouched(&store, &build).await;

    // A field may stand inside another one: what paths mean is not known here.
    let fine = [
        change("parts.stem.length.from", None, Some("measured here")),
        change("rider.name", Some("Rider One"), None),
        change("rider.name.first", None, Some("Rider")),
    ];
    store.edit(&build, &fine, &by("Anna", 2, "a")).await.unwrap();
    store.verify().await.unwrap();
}

async fn text_is_kept_letter_for_letter(address: &str) {
    let (store, build) = bench(address).await;
    for (number, text) in ["", " 3,5 cm ", "1 1/8\"", "Größe — 5\u{a0}N·m", "a\r\nb", "'; DROP TABLE edits; --", "%_\\"]
        .iter()
        .enumerate()
    {
        let path = format!("notes.n{number}");
        let note = [change(&path, None, Some(text))];
        store.edit(&build, &note, &by("Anna", 2, &path)).await.unwrap();
        assert_eq!(&store.leaves(&build).await.unwrap().unwrap().leaves[&path], text);
    }
    store.verify().await.unwrap();
}

async fn what_was_written_along_with_a_change_need_not_be_asked_for_again(address: &str) {
    let (store, build) = bench(address).await;
    let both = [change("measured.stem.value", None, Some("110")), change("measured.stem.by", None, Some("Anna"))];
    store.edit(&build, &both, &by("Anna", 2, "a")).await.unwrap();
    // The second tap finds the name written already, and asks for the value alone.
    let again = store.edit(&build, &both[..1], &by("Anna", 3, "a")).await.unwrap();
    assert_eq!(again, Applied { revision: 2, replayed: true });
    // More than was written, or something else, is another request.
    let more = [both[0].clone(), both[1].clone(), change("measured.stem.on", None, Some("2027-03-14"))];
    let other = [change("measured.stem.value", None, Some("111"))];
    for changes in [&more[..], &other[..]] {
        let refusal = store.edit(&build, changes, &by("Anna", 4, "a")).await;
        assert!(matches!(refusal, Err(EditError::KeyReused)), "{refusal:?}");
    }
    assert_eq!(store.verify().await.unwrap().revisions, 2);
}

#[tokio::test]
async fn a_file_of_a_newer_version_is_refused_and_left_as_it_was() {
    let folder = Folder::new("newer");
    let name = folder.file("a.db");
    Store::open(&name).await.unwrap().close().await;
    meddle(&name, "INSERT INTO schema_version (number) VALUES (99)").await;
    let as_it_was = std::fs::read(&name).unwrap();

    let refusal = Store::open(&name).await.unwrap_err();
    assert!(matches!(refusal, StoreError::Newer { found: 99, .. }), "{refusal:?}");
    let said = refusal.to_string();
    assert!(said.starts_with("The workshop's data has format 99; this version knows formats up to "), "{said}");
    assert!(said.ends_with("It was left as it is; install the newer version to open it."), "{said}");
    assert!(std::fs::read(&name).unwrap() == as_it_was);
}

#[tokio::test]
async fn a_file_that_is_something_else_is_refused_and_left_as_it_was() {
    let folder = Folder::new("else");
    let letter = folder.file("letter.txt");
    std::fs::write(&letter, "Dear customer, your bike is ready.".repeat(100)).unwrap();
    let as_it_was = std::fs::read(&letter).unwrap();
    let refusal = Store::open(&letter).await.unwrap_err();
    assert!(matches!(refusal, StoreError::NotAStore), "{refusal:?}");
    assert!(std::fs::read(&letter).unwrap() == as_it_was);

    let other = folder.file("other.db");
    meddle(&other, "CREATE TABLE accounts (number BIGINT)").await;
    let refusal = Store::open(&other).await.unwrap_err();
    assert!(matches!(refusal, StoreError::NotAStore), "{refusal:?}");
}

#[tokio::test]
async fn a_missing_folder_and_a_folder_in_the_place_of_the_file_are_named() {
    let folder = Folder::new("missing");
    let refusal = Store::open(&folder.file("no/such/a.db")).await.unwrap_err();
    assert!(matches!(refusal, StoreError::NoFolder { .. }), "{refusal:?}");
    let refusal = Store::open(&folder.file("")).await.unwrap_err();
    assert!(matches!(refusal, StoreError::CannotOpen { .. }), "{refusal:?}");
}

#[tokio::test]
async fn a_file_held_by_another_program_is_waited_for_and_then_refused() {
    let folder = Folder::new("held");
    let name = folder.file("a.db");
    let store = Store::open(&name).await.unwrap();
    let brought = leaves(&[("rider.name", "Rider One")]);
    let new = NewBuild { leaves: &brought, copied_from: None };

    let mut other = AnyConnection::connect(&format!("sqlite://{name}")).await.unwrap();
    let held = other.begin_with("BEGIN IMMEDIATE").await.unwrap();
    let refusal = store.create_build(new.clone(), &by("Anna", 1, "a")).await.unwrap_err();
    assert!(matches!(refusal, EditError::Store(StoreError::Locked(_))), "{refusal:?}");
    // Looking is no trouble meanwhile.
    assert!(store.builds().await.unwrap().is_empty());

    held.rollback().await.unwrap();
    store.create_build(new, &by("Anna", 1, "a")).await.unwrap();
    store.verify().await.unwrap();
    store.close().await;
}

async fn a_closed_store_says_so(address: &str) {
    let (store, build) = bench(address).await;
    store.close().await;
    let refusal = store.leaves(&build).await.unwrap_err();
    assert!(matches!(refusal, StoreError::Closed(_)), "{refusal:?}");
}

#[tokio::test]
async fn a_log_that_does_not_add_up_is_found_out() {
    let folder = Folder::new("damaged");
    // Each meddling, and what must be said about it.
    let cases = [
        ("UPDATE fields SET text = '90' WHERE path = 'stem'", "stem is not what its log adds up to"),
        ("DELETE FROM fields WHERE path = 'stem'", "stem is in its log and not in its fields"),
        ("INSERT INTO fields SELECT id, 'bar', '400' FROM builds", "bar is not what its log adds up to"),
        ("UPDATE edits SET text_before = '1' WHERE revision = 2", "revision 2 starts from another stem"),
        ("DELETE FROM edits WHERE revision = 2", "revision 2 changes nothing"),
        (
            "DELETE FROM edits WHERE revision = 2; DELETE FROM revisions WHERE revision = 2",
            "The log has 2 revisions, numbered 1 to 3.",
        ),
        ("INSERT INTO builds (id) VALUES ('00000000')", "Build 00000000: nobody made it."),
        (
            "DELETE FROM edits WHERE revision = 3; DELETE FROM revisions WHERE revision = 3",
            "stem is not what its log adds up to",
        ),
        ("PRAGMA foreign_keys = OFF; UPDATE edits SET revision = 8 WHERE revision = 3", "rows point at nothing"),
    ];
    for (number, (meddling, found)) in cases.into_iter().enumerate() {
        let name = folder.file(&format!("{number}.db"));
        let store = Store::open(&name).await.unwrap();
        let brought = leaves(&[("stem", "110")]);
        let new = NewBuild { leaves: &brought, copied_from: None };
        let build = store.create_build(new, &by("Anna", 1, "a")).await.unwrap();
        for (before, after) in [("110", "120"), ("120", "130")] {
            let stem = [change("stem", Some(before), Some(after))];
            store.edit(&build, &stem, &by("Anna", 1, after)).await.unwrap();
        }
        store.verify().await.unwrap();

        meddle(&name, meddling).await;
        let refusal = store.verify().await.unwrap_err();
        assert!(matches!(refusal, StoreError::Damaged { .. }), "{refusal:?}");
        assert!(refusal.to_string().contains(found), "{meddling}: {refusal}");
        store.close().await;
    }
}

/// Does to a file what this crate never does.
async fn meddle(name: &str, statements: &'static str) {
    sqlx::any::install_default_drivers();
    let mut connection = AnyConnection::connect(&format!("sqlite://{name}?mode=rwc")).await.unwrap();
    sqlx::raw_sql(statements).execute(&mut connection).await.unwrap();
    connection.close().await.unwrap();
}
