//! Who may sign in, who is signed in, what was uploaded and what was erased: one story on both engines.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

mod common;

use common::{by, change, leaves, on_both};
use witnessmark_store::{
    ACTING_MS, CODE_MS, Content, ERASED, Forgotten, NewBuild, NewUpload, PeopleError, Quota, Role, SessionKind, Size,
    Store, UploadError,
};

const HOUR_MS: i64 = 3_600_000;
const DAY_MS: i64 = 24 * HOUR_MS;
const OAK: &str = "a gate of oak";

on_both! {
    people_come_and_go_and_one_owner_stays;
    a_session_ends_by_rest_by_age_and_by_hand;
    a_tablet_is_let_in_once_and_people_take_turns_on_it;
    a_clock_that_is_set_back_lets_nothing_outlive_its_time_and_changes_no_order;
    a_picture_is_kept_once_or_not_at_all;
    what_is_erased_is_gone_from_the_log_and_the_log_still_adds_up;
}

async fn people_come_and_go_and_one_owner_stays(url: &str) {
    let store = Store::open(url).await.unwrap();
    assert!(!store.has_owner().await.unwrap());
    store.add_person("Anna", Role::Owner, OAK, 1).await.unwrap();
    store.add_person("Ben", Role::Mechanic, "a hinge of brass", 2).await.unwrap();
    assert!(matches!(store.add_person(" anna ", Role::Viewer, OAK, 3).await, Err(PeopleError::Taken(_))));
    assert!(matches!(store.add_person("Cleo", Role::Viewer, "short", 3).await, Err(PeopleError::WeakPassword)));
    assert!(matches!(store.add_person("", Role::Viewer, OAK, 3).await, Err(PeopleError::NotAName)));

    let anna = store.person_by_password("ANNA", OAK).await.unwrap().unwrap();
    assert_eq!((anna.name.as_str(), anna.role, anna.has_pin), ("Anna", Role::Owner, false));
    assert_eq!(store.person_by_password("Anna", "a hinge of brass").await.unwrap(), None);
    assert_eq!(store.person_by_password("Nobody", OAK).await.unwrap(), None);
    assert_eq!(store.person_by_password("An\0na", OAK).await.unwrap(), None);

    assert!(matches!(store.remove_person("anna").await, Err(PeopleError::LastOwner(_))));
    let token = store.begin_session("Ben", "a tablet", 10).await.unwrap();
    store.reset_password("ben", "a latch of iron").await.unwrap();
    assert_eq!(store.session(&token, 11).await.unwrap(), None, "a new password signs every browser out");
    assert!(store.person_by_password("Ben", "a latch of iron").await.unwrap().is_some());
    let token = store.begin_session("Ben", "a tablet", 20).await.unwrap();
    store.remove_person("Ben").await.unwrap();
    assert_eq!(store.session(&token, 21).await.unwrap(), None);
    assert!(matches!(store.remove_person("Ben").await, Err(PeopleError::Nobody(_))));
    assert_eq!(store.people().await.unwrap().len(), 1);
    store.close().await;
}

async fn a_session_ends_by_rest_by_age_and_by_hand(url: &str) {
    let store = Store::open(url).await.unwrap();
    store.add_person("Anna", Role::Owner, OAK, 0).await.unwrap();
    let token = store.begin_session("Anna", "a browser", 0).await.unwrap();
    assert_eq!(token.len(), 64);
    let session = store.session(&token, HOUR_MS).await.unwrap().unwrap();
    assert_eq!((session.person.as_deref(), session.role), (Some("Anna"), Role::Owner));
    assert_ne!(session.id, token, "what is kept does not sign anybody in");
    assert_eq!(store.session(&session.id, HOUR_MS).await.unwrap(), None);
    assert_eq!(store.session(&token.replace(['a', '1'], "b"), HOUR_MS).await.unwrap(), None);

    assert!(store.session(&token, 10 * HOUR_MS).await.unwrap().is_some(), "used an hour in, it lives on");
    assert!(store.session(&token, 20 * HOUR_MS).await.unwrap().is_none(), "ten hours of rest end it");
    let token = store.begin_session("Anna", "a browser", 0).await.unwrap();
    for hour in (0..7 * 24).step_by(5) {
        assert!(store.session(&token, hour * HOUR_MS).await.unwrap().is_some(), "hour {hour}");
    }
    assert!(store.session(&token, 7 * DAY_MS).await.unwrap().is_none(), "a week ends it, however busy it is");

    let token = store.begin_session("Anna", "a browser", 8 * DAY_MS).await.unwrap();
    let listed = store.sessions(8 * DAY_MS).await.unwrap();
    assert_eq!(listed.len(), 1, "what is over is swept out");
    assert!(store.end_session(&listed[0].id).await.unwrap());
    assert!(!store.end_session(&listed[0].id).await.unwrap());
    assert!(store.session(&token, 8 * DAY_MS).await.unwrap().is_none());
    store.close().await;
}

async fn a_tablet_is_let_in_once_and_people_take_turns_on_it(url: &str) {
    let store = Store::open(url).await.unwrap();
    store.add_person("Anna", Role::Owner, OAK, 0).await.unwrap();
    store.add_person("Ben", Role::Mechanic, OAK, 0).await.unwrap();
    assert!(matches!(store.set_pin("Ben", Some("1234")).await, Err(PeopleError::WeakPin)));
    store.set_pin("Ben", Some("8302")).await.unwrap();

    let code = store.open_bench_code("Anna", 0).await.unwrap().unwrap();
    assert_eq!(store.redeem_bench_code(&code, "tablet", CODE_MS).await.unwrap(), None, "too late");
    let code = store.open_bench_code("Anna", CODE_MS).await.unwrap().unwrap();
    let token = store.redeem_bench_code(&code, "tablet", CODE_MS + 1).await.unwrap().unwrap();
    assert_eq!(store.redeem_bench_code(&code, "tablet", CODE_MS + 2).await.unwrap(), None, "used up");

    let code = store.open_bench_code("Anna", CODE_MS).await.unwrap().unwrap();
    let wrong = if code == "000000" { "000001" } else { "000000" };
    for _ in 0..5 {
        assert_eq!(store.redeem_bench_code(wrong, "tablet", CODE_MS + 1).await.unwrap(), None);
    }
    assert_eq!(store.redeem_bench_code(&code, "tablet", CODE_MS + 1).await.unwrap(), None, "guessed at too often");
    for _ in 0..4 {
        assert!(store.open_bench_code("Anna", 2 * CODE_MS).await.unwrap().is_some());
    }
    assert!(store.open_bench_code("Anna", 2 * CODE_MS).await.unwrap().is_none(), "four are open already");

    let now = 20 * DAY_MS;
    let rests = store.session(&token, now).await.unwrap().unwrap();
    assert_eq!((rests.kind, rests.person.as_deref(), rests.role), (SessionKind::Bench, None, Role::Viewer));
    assert_eq!(store.person_by_pin("Anna", "8302").await.unwrap(), None, "she has none");
    assert_eq!(store.person_by_pin("Ben", "8303").await.unwrap(), None);
    let ben = store.person_by_pin("Ben", "8302").await.unwrap().unwrap();
    store.act(&rests, Some(&ben.name), now).await.unwrap();
    let acts = store.session(&token, now + 1).await.unwrap().unwrap();
    assert_eq!((acts.person.as_deref(), acts.role), (Some("Ben"), Role::Mechanic));
    // Each touch puts his rest off; without one he rests.
    let later = now + ACTING_MS - 1;
    assert_eq!(store.session(&token, later).await.unwrap().unwrap().person.as_deref(), Some("Ben"));
    assert_eq!(store.session(&token, later + ACTING_MS).await.unwrap().unwrap().person.as_deref(), Some("Ben"));
    assert_eq!(store.session(&token, later + 3 * ACTING_MS).await.unwrap().unwrap().person, None);
    // A page that looks by itself again and again is no touch.
    store.act(&rests, Some("Ben"), now).await.unwrap();
    for minute in 1..=30 {
        let asks = store.session_untouched(&token, now + minute * ACTING_MS / 30).await.unwrap().unwrap();
        assert_eq!(asks.person.as_deref(), Some("Ben"), "minute {minute}");
    }
    assert_eq!(store.session_untouched(&token, now + ACTING_MS + 1).await.unwrap().unwrap().person, None);
    store.act(&rests, Some("Ben"), now).await.unwrap();
    store.act(&rests, None, now).await.unwrap();
    assert_eq!(store.session(&token, now).await.unwrap().unwrap().person, None);
    store.act(&rests, Some("Ben"), now).await.unwrap();
    store.set_pin("Ben", None).await.unwrap();
    assert_eq!(store.session(&token, now).await.unwrap().unwrap().person, None, "his PIN is gone, the tablet stays");
    store.close().await;
}

async fn a_clock_that_is_set_back_lets_nothing_outlive_its_time_and_changes_no_order(url: &str) {
    const YEAR_MS: i64 = 365 * DAY_MS;
    let store = Store::open(url).await.unwrap();
    store.add_person("Anna", Role::Owner, OAK, 0).await.unwrap();
    // The clock is a year ahead when codes are made and Anna signs in; then it is put right.
    let mut codes = Vec::new();
    for _ in 0..4 {
        codes.push(store.open_bench_code("Anna", YEAR_MS).await.unwrap().unwrap());
    }
    let ahead = store.begin_session("Anna", "a browser", YEAR_MS).await.unwrap();
    assert_eq!(store.redeem_bench_code(&codes[0], "tablet", DAY_MS).await.unwrap(), None, "good for a year otherwise");
    assert!(store.session(&ahead, DAY_MS).await.unwrap().is_none());
    let code = store.open_bench_code("Anna", DAY_MS).await.unwrap().expect("the codes from ahead take nobody's place");
    // Put right by half a minute, as clocks are: nobody notices.
    assert!(store.redeem_bench_code(&code, "tablet", DAY_MS - 30_000).await.unwrap().is_some());
    let token = store.begin_session("Anna", "a browser", DAY_MS).await.unwrap();
    assert!(store.session(&token, DAY_MS - 30_000).await.unwrap().is_some());
    assert!(store.session(&ahead, YEAR_MS).await.unwrap().is_none(), "it does not come to life when its time is here");

    // Edits stand in the order in which they were written, whatever the clock says beside them.
    let fields = leaves(&[("settings.spacers_under", "0")]);
    let new = NewBuild { leaves: &fields, copied_from: None };
    let build = store.create_build(new, &by("Anna", YEAR_MS, "made")).await.unwrap();
    for (step, at_ms) in [(1, YEAR_MS + 1), (2, 5), (3, YEAR_MS), (4, 0)] {
        let (before, after) = ((step - 1).to_string(), step.to_string());
        let changes = [change("settings.spacers_under", Some(&before), Some(&after))];
        let applied = store.edit(&build, &changes, &by("Anna", at_ms, &format!("step {step}"))).await.unwrap();
        assert_eq!(applied.revision, 1 + step);
    }
    let log = store.history(&build, "settings.spacers_under").await.unwrap();
    let after: Vec<&str> = log.iter().filter_map(|row| row.after.as_deref()).collect();
    assert_eq!(after, ["0", "1", "2", "3", "4"]);
    assert_eq!(store.leaves(&build).await.unwrap().unwrap().leaves["settings.spacers_under"], "4");
    store.verify().await.unwrap();
    store.close().await;
}

async fn a_picture_is_kept_once_or_not_at_all(url: &str) {
    let store = Store::open(url).await.unwrap();
    let fields = leaves(&[("job.title", "A bike")]);
    let build = store.create_build(NewBuild { leaves: &fields, copied_from: None }, &by("Ben", 0, "k0")).await.unwrap();
    let bytes: Vec<u8> = (0..=255).collect();
    let quota = Quota { whole_bytes: 600, per_build: 2 };
    let picture = NewUpload {
        build: &build,
        place: "steerer-cut",
        note: "before the cut",
        content: Content { kind: "image/jpeg", bytes: &bytes },
        small: Some(Content { kind: "image/jpeg", bytes: &bytes[..10] }),
        quota,
    };
    let id = store.add_upload(picture, &by("Ben", 5, "k1")).await.unwrap();
    assert_eq!(store.add_upload(picture, &by("Ben", 6, "k1")).await.unwrap(), id, "a second tap");
    let second = store.add_upload(picture, &by("Ben", 7, "k2")).await.unwrap();
    assert_eq!(store.uploads_bytes().await.unwrap(), 266, "the same bytes twice are kept once");
    assert!(matches!(store.add_upload(picture, &by("Ben", 7, "k3")).await, Err(UploadError::TooMany(2))));
    let listed = store.uploads(&build).await.unwrap();
    assert_eq!(listed.len(), 2);
    assert_eq!((listed[0].place.as_str(), listed[0].size, listed[0].has_small), ("steerer-cut", 256, true));
    assert_eq!(
        store.upload(&build, &id, Size::Whole).await.unwrap().unwrap(),
        ("image/jpeg".to_owned(), bytes.clone())
    );
    assert_eq!(store.upload(&build, &id, Size::Small).await.unwrap().unwrap().1, bytes[..10]);
    assert_eq!(store.upload(&build, "../etc", Size::Whole).await.unwrap(), None);
    store.verify().await.unwrap();

    assert!(store.remove_upload(&build, &second, &by("Ben", 8, "k4")).await.unwrap());
    assert_eq!(store.uploads_bytes().await.unwrap(), 266, "the other one still has them");
    let large = vec![7; 400];
    let too_much = NewUpload { content: Content { kind: "image/jpeg", bytes: &large }, ..picture };
    assert!(matches!(store.add_upload(too_much, &by("Ben", 9, "k5")).await, Err(UploadError::Full(_))));
    assert_eq!(store.uploads_bytes().await.unwrap(), 266, "nothing of it was kept");
    assert!(store.remove_upload(&build, &id, &by("Ben", 9, "k6")).await.unwrap());
    assert!(!store.remove_upload(&build, &id, &by("Ben", 9, "k7")).await.unwrap());
    assert_eq!(store.uploads_bytes().await.unwrap(), 0);
    let ledger = store.ledger(Some(build.as_str()), 10).await.unwrap();
    assert_eq!(ledger.len(), 2, "{ledger:?}");
    store.close().await;
}

async fn what_is_erased_is_gone_from_the_log_and_the_log_still_adds_up(url: &str) {
    let store = Store::open(url).await.unwrap();
    let fields = leaves(&[("rider.name", "Ilka Sample"), ("rider.mass", "61 kg"), ("settings.spacers_under", "15")]);
    let new = NewBuild { leaves: &fields, copied_from: None };
    let build = store.create_build(new, &by("Ben", 0, "k0")).await.unwrap();
    let mass = |before, after, key| {
        let change = change("rider.mass", before, after);
        let (store, build) = (store.clone(), build.clone());
        async move { store.edit(&build, &[change], &by("Ben", 1, key)).await.unwrap() }
    };
    mass(Some("61 kg"), Some("62.5 kg"), "k1").await;
    mass(Some("62.5 kg"), None, "k2").await;
    mass(None, Some("63 kg"), "k3").await;
    assert_eq!(store.builds_ever_saying("rider.name").await.unwrap(), [(build.clone(), "Ilka Sample".to_owned())]);

    let forgotten = Forgotten {
        build: build.clone(),
        paths: vec!["rider.name".into(), "rider.mass".into(), "rider.note".into()],
        uploads: vec![],
    };
    let erased = store.erase(&[forgotten], &by("Anna", 9, "k4")).await.unwrap();
    assert_eq!((erased.fields, erased.edits), (2, 5));
    store.verify().await.unwrap();
    let left = store.leaves(&build).await.unwrap().unwrap().leaves;
    assert_eq!(left.into_iter().collect::<Vec<_>>(), [("settings.spacers_under".to_owned(), "15".to_owned())]);
    let history = store.history(&build, "rider.mass").await.unwrap();
    assert_eq!(history.len(), 5, "every edit is still told, by whom and when");
    let told = |text: &Option<String>| text.as_ref().is_none_or(|text| text == ERASED);
    assert!(history.iter().all(|row| told(&row.before) && told(&row.after)), "{history:?}");
    assert_eq!(history[4].who, "Anna");
    store.close().await;
    if !url.contains("://") {
        let found = |word: &[u8]| {
            [String::new(), "-wal".into()].iter().any(|ending| {
                let bytes = std::fs::read(format!("{url}{ending}")).unwrap_or_default();
                bytes.windows(word.len()).any(|window| window == word)
            })
        };
        assert!(found(b"settings.spacers_under"), "the file is looked through");
        assert!(!found(b"Ilka Sample"), "and the name is nowhere in it");
        assert!(!found(b"62.5 kg"), "nor is an old mass");
    }
}
