//! Whatever people do, in whatever order: the fields are the sum of the log, and the log is what they did.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

mod common;

use std::collections::BTreeMap;

use common::{by, change};
use proptest::prelude::*;
use witnessmark_store::{BuildId, Change, EditError, NewBuild, Store};

/// What one of them does next.
#[derive(Clone, Debug)]
enum Act {
    /// Changes fields, knowing what they say; a field left at what it says is left out.
    Edit(Vec<(usize, Option<String>)>),
    /// Changes a field, believing that it says something else.
    EditBlindly(usize, Option<String>, Option<String>),
    /// Takes back one of the revisions so far.
    Undo(usize),
    /// Sends one of the requests so far again.
    Repeat(usize),
}

const PATHS: [&str; 5] = ["a", "b.length", "b.width", "c.0.text", "c.1.text"];

fn text() -> impl Strategy<Value = Option<String>> {
    // Few texts, so that fields come back to what they said before; and one that is odd.
    prop_oneof![
        2 => Just(None),
        5 => "[12]".prop_map(Some),
        1 => "\\PC{0,6}".prop_map(Some),
    ]
}

fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        6 => proptest::collection::vec((0..PATHS.len(), text()), 1..4).prop_map(Act::Edit),
        2 => (0..PATHS.len(), text(), text()).prop_map(|(path, before, after)| Act::EditBlindly(path, before, after)),
        3 => any::<prop::sample::Index>().prop_map(|index| Act::Undo(index.index(1_000))),
        1 => any::<prop::sample::Index>().prop_map(|index| Act::Repeat(index.index(1_000))),
    ]
}

/// The same store in a few lines: the fields, and each revision's request and changes.
struct Model {
    fields: BTreeMap<String, String>,
    revisions: Vec<(Vec<Change>, String)>,
}

impl Model {
    fn fits(&self, changes: &[Change]) -> bool {
        changes.iter().all(|change| self.fields.get(&change.path) == change.before.as_ref())
    }

    fn apply(&mut self, changes: Vec<Change>, key: String) {
        for change in &changes {
            match &change.after {
                Some(text) => self.fields.insert(change.path.clone(), text.clone()),
                None => self.fields.remove(&change.path),
            };
        }
        self.revisions.push((changes, key));
    }
}

proptest! {
    // A failure prints its acts, which is all there is to keep.
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_fields_are_the_sum_of_the_log_after_any_sequence_of_edits(acts in proptest::collection::vec(act(), 1..40)) {
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        runtime.block_on(play(acts));
    }
}

async fn play(acts: Vec<Act>) {
    let store = Store::open_in_memory().await.unwrap();
    let brought = common::leaves(&[("a", "1")]);
    let new = NewBuild { leaves: &brought, copied_from: None };
    let build = store.create_build(new, &by("Anna", 0, "made")).await.unwrap();
    let mut model = Model { fields: BTreeMap::new(), revisions: Vec::new() };
    model.apply(vec![change("a", None, Some("1"))], "made".to_owned());

    for (number, act) in acts.into_iter().enumerate() {
        perform(&store, &build, &mut model, act, format!("act {number}")).await;
        let now = store.leaves(&build).await.unwrap().unwrap();
        assert_eq!(now.leaves, model.fields);
        assert_eq!(usize::try_from(now.revision).unwrap(), model.revisions.len());
    }

    let seen = store.verify().await.unwrap();
    assert_eq!(seen.revisions, model.revisions.len());
    assert_eq!(seen.fields, model.fields.len());
    for path in PATHS {
        let told: Vec<(i64, Option<String>, Option<String>)> = store
            .history(&build, path)
            .await
            .unwrap()
            .into_iter()
            .map(|row| (row.revision, row.before, row.after))
            .collect();
        let done: Vec<(i64, Option<String>, Option<String>)> = (1..)
            .zip(&model.revisions)
            .flat_map(|(number, (changes, _))| {
                changes
                    .iter()
                    .filter(|change| change.path == path)
                    .map(move |change| (number, change.before.clone(), change.after.clone()))
            })
            .collect();
        assert_eq!(told, done);
    }
    store.close().await;
}

async fn perform(store: &Store, build: &BuildId, model: &mut Model, act: Act, key: String) {
    let signed = by("Anna", 0, &key);
    match act {
        Act::Edit(wanted) => {
            let wanted: BTreeMap<usize, Option<String>> = wanted.into_iter().collect();
            let changes: Vec<Change> = wanted
                .into_iter()
                .map(|(path, after)| Change {
                    path: PATHS[path].to_owned(),
                    before: model.fields.get(PATHS[path]).cloned(),
                    after,
                })
                .filter(|change| change.before != change.after)
                .collect();
            let answer = store.edit(build, &changes, &signed).await;
            if changes.is_empty() {
                assert!(matches!(answer, Err(EditError::NothingNamed)), "{answer:?}");
            } else {
                assert!(!answer.unwrap().replayed);
                model.apply(changes, key);
            }
        }
        Act::EditBlindly(path, before, after) => {
            let changes = vec![Change { path: PATHS[path].to_owned(), before, after }];
            let answer = store.edit(build, &changes, &signed).await;
            if changes[0].before == changes[0].after {
                assert!(matches!(answer, Err(EditError::AlreadySo { .. })), "{answer:?}");
            } else if model.fits(&changes) {
                answer.unwrap();
                model.apply(changes, key);
            } else {
                assert_clash(&answer, model, &changes);
            }
        }
        Act::Undo(pick) => {
            let index = pick % model.revisions.len();
            let opposite: Vec<Change> = model.revisions[index]
                .0
                .iter()
                .map(|done| Change { path: done.path.clone(), before: done.after.clone(), after: done.before.clone() })
                .collect();
            let answer = store.undo(build, i64::try_from(index + 1).unwrap(), &signed).await;
            if model.fits(&opposite) {
                answer.unwrap();
                model.apply(opposite, key);
            } else {
                assert_clash(&answer, model, &opposite);
            }
        }
        Act::Repeat(pick) => {
            let index = pick % model.revisions.len();
            let (changes, key) = &model.revisions[index];
            let number = i64::try_from(index + 1).unwrap();
            let undoes = store
                .recent(build, 1_000)
                .await
                .unwrap()
                .into_iter()
                .find(|row| row.revision == number)
                .unwrap()
                .undoes;
            let signed = by("Anna", 0, key);
            let answer = match undoes {
                Some(undone) => store.undo(build, undone, &signed).await,
                None => store.edit(build, changes, &signed).await,
            };
            if number == 1 {
                assert!(matches!(answer, Err(EditError::KeyReused)), "{answer:?}");
            } else {
                let applied = answer.unwrap();
                assert_eq!((applied.revision, applied.replayed), (number, true));
            }
        }
    }
}

/// Every field that has moved is named with what it says, and no other.
fn assert_clash<T: std::fmt::Debug>(answer: &Result<T, EditError>, model: &Model, changes: &[Change]) {
    let Err(EditError::Clash(clashes)) = answer else {
        panic!("{answer:?}");
    };
    let mut told: Vec<_> = clashes.iter().map(|clash| (&clash.path, clash.found.as_ref())).collect();
    let mut moved: Vec<_> = changes
        .iter()
        .filter(|change| model.fields.get(&change.path) != change.before.as_ref())
        .map(|change| (&change.path, model.fields.get(&change.path)))
        .collect();
    told.sort();
    moved.sort();
    assert_eq!(told, moved);
}
