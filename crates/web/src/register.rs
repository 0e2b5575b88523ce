//! The register: a line for every build of the workshop, by which it is found among 50 000 without working any of them out.
//!
//! A line holds what people call a build by (its title, the rider, what it is for, when and how far it is), as typed. The
//! register is a fold of the log of edits: it is read once when the program starts, and whoever looks first reads what
//! came to the log since, whichever program wrote it ([`Looks::builds_after`]). So it cannot go stale, and nothing of it
//! is kept anywhere. How a build *stands* is in no line: that is worked out for the few that are shown (`App::load_at`).
//!
//! Another page that is about all builds (what is due on a day) can do the same: keep of every build only the fields that
//! decide, fold the log as here, and work out the few that are shown.

use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, PoisonError, RwLock};
use witnessmark_core::catalogue::folded;
use witnessmark_store::{BuildId, BuildLine, Looks, StoreError};

/// The fields of a line: what a build is called and found by.
const FIELDS: [&str; 5] = ["job.title", "rider.name", "job.event", "job.day", "job.stage"];
/// How many builds are read from the log at a time.
const HANDFUL: u32 = 1_000;

/// What a build without a title is called.
pub(crate) const NO_TITLE: &str = "a build without a title";

/// A build in the register.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Line {
    /// Its name.
    pub(crate) id: BuildId,
    /// The place of its last change in the log of all.
    pub(crate) seq: i64,
    /// The number of its last revision.
    pub(crate) revision: i64,
    /// Who changed it last, and when.
    pub(crate) changed_by: String,
    pub(crate) changed_at_ms: i64,
    title: Option<String>,
    /// Everything it is found by but its own name, in small letters without accents.
    words: String,
}

/// What a look at the register found, the build changed last first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Found {
    pub(crate) lines: Vec<Arc<Line>>,
    /// How many there are in all.
    pub(crate) all: usize,
    /// The place in the log before which the next page begins, where there are more.
    pub(crate) next: Option<i64>,
}

/// The longest query that is looked at.
pub(crate) const LONGEST: usize = 200;

/// What is looked for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Sought {
    /// Words that must all be met; none meets every build.
    pub(crate) words: String,
    /// Only builds changed last before this place in the log.
    pub(crate) before: Option<i64>,
    /// How many at most.
    pub(crate) most: usize,
}

/// A line for every build.
#[derive(Debug, Default)]
pub(crate) struct Register {
    lines: RwLock<Lines>,
    /// Held by the one who reads the log; the others wait for what comes of it.
    reading: tokio::sync::Mutex<()>,
}

#[derive(Debug, Default)]
struct Lines {
    /// By the place of their last change, so the last line is of the build that was changed last.
    by_seq: BTreeMap<i64, Arc<Line>>,
    seq_of: HashMap<BuildId, i64>,
}

impl Register {
    /// Reads what came to the log since somebody last looked.
    pub(crate) async fn catch_up(&self, store: &Looks) -> Result<(), StoreError> {
        let _turn = self.reading.lock().await;
        loop {
            let known = self.lines().by_seq.last_key_value().map_or(0, |(seq, _)| *seq);
            let came = store.builds_after(known, &FIELDS, HANDFUL.into()).await?;
            let is_all = came.len() < HANDFUL as usize;
            self.lines.write().unwrap_or_else(PoisonError::into_inner).take(came);
            if is_all {
                return Ok(());
            }
        }
    }

    /// The builds that are sought.
    pub(crate) fn find(&self, sought: &Sought) -> Found {
        let typed: String = sought.words.chars().take(LONGEST).collect();
        let typed = folded(&typed);
        let words: Vec<&str> = typed.split_whitespace().collect();
        let mut found = Found::default();
        for line in self.lines().by_seq.values().rev().filter(|line| words.iter().all(|word| line.has(word))) {
            found.all += 1;
            if sought.before.is_some_and(|before| before <= line.seq) {
                continue;
            }
            match found.lines.last() {
                Some(last) if found.lines.len() == sought.most => found.next = Some(last.seq),
                _ => found.lines.push(Arc::clone(line)),
            }
        }
        found
    }

    /// The line of a build.
    pub(crate) fn of(&self, id: &BuildId) -> Option<Arc<Line>> {
        let lines = self.lines();
        lines.seq_of.get(id).and_then(|seq| lines.by_seq.get(seq)).map(Arc::clone)
    }

    fn lines(&self) -> std::sync::RwLockReadGuard<'_, Lines> {
        // Whoever panicked while writing left whole lines behind.
        self.lines.read().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Lines {
    fn take(&mut self, came: Vec<BuildLine>) {
        for line in came {
            if let Some(before) = self.seq_of.insert(line.id.clone(), line.seq) {
                self.by_seq.remove(&before);
            }
            self.by_seq.insert(line.seq, Arc::new(Line::from(line)));
        }
    }
}

impl Line {
    /// Whether a word is in it; a build's own name only as a whole, since eight letters by chance hold many a short word.
    fn has(&self, word: &str) -> bool {
        self.words.contains(word) || self.id.as_str() == word
    }

    /// What the workshop calls it.
    pub(crate) fn title(&self) -> &str {
        self.title.as_deref().unwrap_or(NO_TITLE)
    }
}

impl From<BuildLine> for Line {
    fn from(mut line: BuildLine) -> Self {
        let said: Vec<&str> = FIELDS.iter().filter_map(|field| line.leaves.get(*field)).map(String::as_str).collect();
        let words = folded(&said.join(" "));
        Line {
            words,
            title: line.leaves.remove("job.title"),
            id: line.id,
            seq: line.seq,
            revision: line.revision,
            changed_by: line.changed_by,
            changed_at_ms: line.changed_at_ms,
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

    use super::*;
    use witnessmark_store::{By, Change, NewBuild, Store};

    fn by(key: &str) -> By {
        By { who: "Ada".into(), at_ms: 0, request_key: key.into() }
    }

    async fn make(store: &Store, title: &str, rider: &str, stage: &str) -> BuildId {
        let leaves = [("job.title", title), ("rider.name", rider), ("job.stage", stage), ("job.note", "nothing")];
        let leaves = leaves.map(|(path, text)| (path.to_owned(), text.to_owned()));
        store.create_build(NewBuild { leaves: &leaves, copied_from: None }, &by(title)).await.unwrap()
    }

    fn titles(register: &Register, words: &str) -> Vec<String> {
        let found = register.find(&Sought { words: words.into(), before: None, most: 10 });
        assert_eq!(found.all, found.lines.len());
        found.lines.iter().map(|line| line.title().to_owned()).collect()
    }

    #[tokio::test]
    async fn a_build_is_found_by_what_it_is_called_whose_it_is_and_how_far_it_is_in_any_case_and_accent() {
        let store = Store::open_in_memory().await.unwrap();
        let (register, looks) = (Register::default(), Looks::new(store.clone()));
        let hill = make(&store, "Hill bike", "Ida Sørli", "planned").await;
        make(&store, "Track bike", "Zoë Ottens", "on the stand").await;
        register.catch_up(&looks).await.unwrap();
        for (words, expected) in [
            ("", vec!["Track bike", "Hill bike"]),
            ("bike", vec!["Track bike", "Hill bike"]),
            ("SORLI hill", vec!["Hill bike"]),
            ("zoe", vec!["Track bike"]),
            ("stand", vec!["Track bike"]),
            ("hill zoe", vec![]),
            ("nothing", vec![]),
            (hill.as_str(), vec!["Hill bike"]),
        ] {
            assert_eq!(titles(&register, words), expected, "{words}");
        }
    }

    #[tokio::test]
    async fn what_came_to_the_log_is_in_the_register_at_the_next_look_and_nothing_is_in_it_twice() {
        let store = Store::open_in_memory().await.unwrap();
        let (register, looks) = (Register::default(), Looks::new(store.clone()));
        let hill = make(&store, "Hill bike", "Ida", "planned").await;
        make(&store, "Track bike", "Zoe", "planned").await;
        register.catch_up(&looks).await.unwrap();
        let change = |before: &str, after: Option<&str>| Change {
            path: "job.title".into(),
            before: Some(before.into()),
            after: after.map(str::to_owned),
        };
        store.edit(&hill, &[change("Hill bike", Some("Alpine bike"))], &by("edit 1")).await.unwrap();
        register.catch_up(&looks).await.unwrap();
        assert_eq!(titles(&register, ""), ["Alpine bike", "Track bike"]);
        assert!(titles(&register, "hill").is_empty());
        store.edit(&hill, &[change("Alpine bike", None)], &by("edit 2")).await.unwrap();
        register.catch_up(&looks).await.unwrap();
        assert_eq!(titles(&register, "ida"), ["a build without a title"]);
    }

    #[tokio::test]
    async fn page_after_page_every_build_comes_once() {
        let store = Store::open_in_memory().await.unwrap();
        let (register, looks) = (Register::default(), Looks::new(store.clone()));
        for number in 0..7 {
            make(&store, &format!("Bike {number}"), "Ida", "planned").await;
        }
        register.catch_up(&looks).await.unwrap();
        let (mut before, mut seen) = (None, Vec::new());
        loop {
            let found = register.find(&Sought { words: "ida".into(), before, most: 3 });
            assert_eq!(found.all, 7);
            seen.extend(found.lines.iter().map(|line| line.title().to_owned()));
            before = found.next;
            if before.is_none() {
                break;
            }
        }
        assert_eq!(seen, (0..7).rev().map(|number| format!("Bike {number}")).collect::<Vec<_>>());
    }
}
