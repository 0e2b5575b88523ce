//! Copies: taken while people write, read back, put back, moved from engine to engine; and what is refused.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

mod common;

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use common::chance::Chance;
use common::{Folder, by, change, leaves, postgres};
use sqlx::{AnyConnection, Connection};
use witnessmark_store::{
    BuildId, CatalogueBy, CatalogueEdit, CataloguePart, Content, NewBuild, NewUpload, Quota, Role, Size, Store,
    StoreError, move_workshop, read_copy, restore,
};

common::on_both! {
    a_copy_taken_while_people_write_is_one_moment_and_comes_back_as_it_was;
    nobody_is_signed_in_where_a_copy_was_put_back;
}

/// A workshop with something of everything: builds that copy each other, a part, a person, a photo.
async fn workshop(address: &str) -> (Store, BuildId) {
    let store = Store::open(address).await.unwrap();
    let brought = leaves(&[("rider.name", "Rider Één"), ("note", "a\r\nb\t'%_\\"), ("client0", "0"), ("client1", "0")]);
    let mut last: Option<BuildId> = None;
    // Each copied from the one before: the names are drawn, so some come before what they point at.
    for number in 0..9 {
        let new = NewBuild { leaves: &brought, copied_from: last.as_ref() };
        last = Some(store.create_build(new, &by("Anna", number, &format!("made {number}"))).await.unwrap());
    }
    let build = last.unwrap();
    let signed = CatalogueBy { who: "Anna".to_owned(), at_ms: 1, source: "by hand".to_owned() };
    let mut catalogue = store.change_catalogue(signed).await.unwrap();
    let parts: Vec<CatalogueEdit> = (0..150)
        .map(|number| CatalogueEdit {
            part: CataloguePart {
                kind: "stem".to_owned(),
                id: format!("Stem-{number} {}", if number % 2 == 0 { "ä" } else { "Z" }),
                version: 1,
                stock: (number % 3 == 0).then_some(number),
                leaves: leaves(&[("length", "110")]),
            },
            new_facts: true,
            new_stock: number % 3 == 0,
        })
        .collect();
    catalogue.write(&parts).await.unwrap();
    catalogue.commit().await.unwrap();
    store.add_person("Anna", Role::Owner, "a long enough phrase", 1).await.unwrap();
    store.add_upload(photo(&build), &by("Anna", 1, "photo")).await.unwrap();
    (store, build)
}

const PHOTO: &[u8] = &[0, 255, 216, 39, 92, 0, 10, 13, 128];

fn photo(build: &BuildId) -> NewUpload<'_> {
    let content = Content { kind: "image/jpeg", bytes: PHOTO };
    NewUpload { build, place: "", note: "as it came", content, small: None, quota: Quota::default() }
}

async fn a_copy_taken_while_people_write_is_one_moment_and_comes_back_as_it_was(address: &str) {
    let (store, build) = workshop(address).await;
    let over = Arc::new(AtomicBool::new(false));
    let mut people = Vec::new();
    for person in 0..2 {
        let (store, build, over) = (store.clone(), build.clone(), Arc::clone(&over));
        people.push(tokio::spawn(async move {
            let mut step = 0;
            while !over.load(Ordering::Relaxed) {
                let path = format!("client{person}");
                let next = [change(&path, Some(&step.to_string()), Some(&(step + 1).to_string()))];
                store.edit(&build, &next, &by("Ben", 1, &format!("{path} {step}"))).await.unwrap();
                step += 1;
            }
            step
        }));
    }
    let folder = Folder::new(&format!("copies-{}", address.len()));
    let mut copies = Vec::new();
    for number in 0..3 {
        let file = folder.file(&format!("copy{number}"));
        let made = store.backup(Path::new(&file), number).await.unwrap();
        assert_eq!(read_copy(Path::new(&file)).await.unwrap(), made);
        copies.push((file, made));
    }
    over.store(true, Ordering::Relaxed);
    let mut steps = 0;
    for person in people {
        steps += person.await.unwrap();
    }
    assert!(steps > 0, "nobody wrote");
    let edits = |number: usize| {
        let made: &witnessmark_store::CopyMade = &copies[number].1;
        made.contents.tables.iter().find(|table| table.name == "edits").unwrap().rows
    };
    assert!(edits(0) <= edits(1) && edits(1) <= edits(2));

    // Into a file and onto a server, whichever it came from.
    let (file, made) = &copies[2];
    for to in [folder.file("again.sqlite"), postgres::shared().database().await] {
        let copied = restore(Path::new(file), &to).await.unwrap();
        assert_eq!(copied.contents, made.contents);
        assert_eq!(copied.verified.builds, 9);
        let again = Store::open(&to).await.unwrap();
        assert_eq!(again.contents().await.unwrap(), made.contents);
        assert_eq!(again.catalogue(None).await.unwrap(), store.catalogue(None).await.unwrap());
        let photo = &again.uploads(&build).await.unwrap()[0];
        let (_, bytes) = again.upload(&build, &photo.id, Size::Whole).await.unwrap().unwrap();
        assert_eq!(bytes, PHOTO);
        // It is a workshop like any other: work goes on where the copy ends.
        let note = [change("more", None, Some("work"))];
        again.edit(&build, &note, &by("Ben", 1, "after")).await.unwrap();
        again.verify().await.unwrap();
        again.close().await;
        let refusal = restore(Path::new(file), &to).await.unwrap_err();
        assert!(matches!(refusal, StoreError::Taken { .. }), "{refusal:?}");
    }
    // The name of a copy is taken by the copy.
    let refusal = store.backup(Path::new(file), 9).await.unwrap_err();
    assert!(matches!(refusal, StoreError::Taken { .. }), "{refusal:?}");
    assert_eq!(&read_copy(Path::new(file)).await.unwrap(), made);
    assert_eq!(folder.names(), ["again.sqlite", "copy0", "copy1", "copy2"], "nothing half-made is left");
    store.close().await;
}

async fn nobody_is_signed_in_where_a_copy_was_put_back(address: &str) {
    let (store, _) = workshop(address).await;
    let token = store.begin_session("Anna", "a browser", 1).await.unwrap();
    assert!(store.session(&token, 2).await.unwrap().is_some());
    let folder = Folder::new(&format!("signed-in-{}", address.len()));
    let file = folder.file("copy");
    store.backup(Path::new(&file), 1).await.unwrap();
    store.close().await;
    let to = folder.file("again.sqlite");
    restore(Path::new(&file), &to).await.unwrap();
    let again = Store::open(&to).await.unwrap();
    assert!(again.session(&token, 2).await.unwrap().is_none());
    assert!(again.person_by_password("Anna", "a long enough phrase").await.unwrap().is_some());
    again.close().await;
}

#[tokio::test]
async fn a_workshop_moves_from_a_file_to_a_server_and_back_and_says_the_same() {
    let folder = Folder::new("move");
    let (store, _) = workshop(&folder.file("a.sqlite")).await;
    let before = store.contents().await.unwrap();
    let server = postgres::shared().database().await;
    let there = move_workshop(&store, &server).await.unwrap();
    assert_eq!(there.contents, before);
    store.close().await;

    let on_server = Store::open(&server).await.unwrap();
    assert_eq!(on_server.contents().await.unwrap(), before);
    let back = move_workshop(&on_server, &folder.file("b.sqlite")).await.unwrap();
    assert_eq!(back.contents, before);
    assert_eq!(back.verified, there.verified);
    // References are looked at as before: a row that points at nothing is refused.
    let mut connection = AnyConnection::connect(&server).await.unwrap();
    let stray = sqlx::raw_sql("INSERT INTO fields VALUES ('nobuild', 'a', 'b')").execute(&mut connection).await;
    assert!(stray.is_err());
    connection.close().await.unwrap();
    let refusal = move_workshop(&on_server, &server).await.unwrap_err();
    assert!(matches!(refusal, StoreError::Taken { .. }), "{refusal:?}");
    on_server.close().await;
}

#[tokio::test]
async fn a_copy_with_one_byte_changed_is_refused_or_says_the_same() {
    let mut chance = Chance::told();
    let folder = Folder::new("one-byte");
    let (store, _) = workshop(&folder.file("a.sqlite")).await;
    let file = folder.file("copy");
    let made = store.backup(Path::new(&file), 1).await.unwrap();
    store.close().await;
    let sound = std::fs::read(&file).unwrap();
    let (mut refused, mut harmless) = (0, 0);
    for round in 0..150 {
        let mut bytes = sound.clone();
        let at = usize::try_from(chance.below(bytes.len() as u64)).unwrap();
        bytes[at] ^= 1 << chance.below(8);
        let meddled = folder.file(&format!("meddled{round}"));
        std::fs::write(&meddled, &bytes).unwrap();
        let to = folder.file(&format!("again{round}"));
        if let Ok(copied) = restore(Path::new(&meddled), &to).await {
            // A byte that nothing is kept in.
            assert_eq!(copied.contents, made.contents, "byte {at}");
            harmless += 1;
        } else {
            refused += 1;
            assert!(!Path::new(&to).exists());
        }
    }
    println!("one byte changed: {refused} refused, {harmless} where nothing is kept");
    assert!(refused > 5);
    // Half of it, too.
    let half = folder.file("half");
    std::fs::write(&half, &sound[..sound.len() / 2]).unwrap();
    let refusal = restore(Path::new(&half), &folder.file("from-half")).await.unwrap_err();
    assert!(matches!(refusal, StoreError::CopyDamaged { .. }), "{refusal:?}");
}

#[tokio::test]
async fn a_copy_of_an_older_format_is_brought_up_and_a_newer_one_refused() {
    let folder = Folder::new("formats");
    let store = Store::open(&folder.file("a.sqlite")).await.unwrap();
    let brought = leaves(&[("rider.name", "Rider One")]);
    store.create_build(NewBuild { leaves: &brought, copied_from: None }, &by("Anna", 1, "made")).await.unwrap();
    let file = folder.file("copy");
    store.backup(Path::new(&file), 1).await.unwrap();
    store.close().await;
    let older = folder.file("older");
    std::fs::copy(&file, &older).unwrap();
    writable(&older);
    // What the first format did not have yet is taken out again.
    let mut connection = AnyConnection::connect(&format!("sqlite://{older}?mode=rwc")).await.unwrap();
    let names: Vec<String> = sqlx::query_scalar(
        "SELECT name FROM sqlite_master WHERE type = 'table' \
         AND name NOT IN ('builds', 'revisions', 'edits', 'fields', 'schema_version', 'copy_manifest', 'copy_tables')",
    )
    .fetch_all(&mut connection)
    .await
    .unwrap();
    for name in names {
        let text =
            format!("PRAGMA foreign_keys = OFF; DROP TABLE {name}; DELETE FROM copy_tables WHERE name = '{name}'");
        sqlx::raw_sql(sqlx::AssertSqlSafe(text)).execute(&mut connection).await.unwrap();
    }
    let text = "DELETE FROM schema_version WHERE number > 1; UPDATE copy_manifest SET format = 1";
    sqlx::raw_sql(text).execute(&mut connection).await.unwrap();
    connection.close().await.unwrap();
    for to in [folder.file("again.sqlite"), postgres::shared().database().await] {
        let copied = restore(Path::new(&older), &to).await.unwrap();
        assert_eq!(copied.contents.format, 1);
        assert!(copied.format > 2);
        let again = Store::open(&to).await.unwrap();
        assert_eq!(again.builds().await.unwrap().len(), 1);
        assert!(again.people().await.unwrap().is_empty());
        again.close().await;
    }

    let newer = folder.file("newer");
    std::fs::copy(&file, &newer).unwrap();
    writable(&newer);
    let mut connection = AnyConnection::connect(&format!("sqlite://{newer}?mode=rwc")).await.unwrap();
    sqlx::raw_sql("UPDATE copy_manifest SET format = 99").execute(&mut connection).await.unwrap();
    connection.close().await.unwrap();
    let refusal = restore(Path::new(&newer), &folder.file("from-newer")).await.unwrap_err();
    assert!(matches!(refusal, StoreError::Newer { found: 99, .. }), "{refusal:?}");
}

#[tokio::test]
async fn a_copy_is_no_workshop_and_a_workshop_no_copy() {
    let folder = Folder::new("neither");
    let name = folder.file("a.sqlite");
    let (store, _) = workshop(&name).await;
    let file = folder.file("copy");
    store.backup(Path::new(&file), 1).await.unwrap();
    store.close().await;
    let as_it_was = std::fs::read(&file).unwrap();
    let refusal = Store::open(&file).await.unwrap_err();
    assert!(matches!(refusal, StoreError::IsCopy), "{refusal:?}");
    assert!(std::fs::read(&file).unwrap() == as_it_was);

    let letter = folder.file("letter.txt");
    std::fs::write(&letter, "Dear customer, your bike is ready.".repeat(100)).unwrap();
    for other in [&name, &letter] {
        let refusal = restore(Path::new(other), &folder.file("b.sqlite")).await.unwrap_err();
        assert!(matches!(refusal, StoreError::NotACopy), "{refusal:?}");
    }
    let refusal = restore(Path::new(&folder.file("nothing")), &folder.file("b.sqlite")).await.unwrap_err();
    assert!(matches!(refusal, StoreError::File { .. }), "{refusal:?}");
}

/// Takes off what keeps a copy from being written to.
fn writable(file: &str) {
    let mut rights = std::fs::metadata(file).unwrap().permissions();
    std::os::unix::fs::PermissionsExt::set_mode(&mut rights, 0o600);
    std::fs::set_permissions(file, rights).unwrap();
}
