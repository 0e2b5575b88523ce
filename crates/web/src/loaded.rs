//! A build as it is at one revision: what was typed, the document, and the plan.

use crate::catalogue::Catalogue;
use crate::pages::Prints;
use crate::register::NO_TITLE;
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};
use witnessmark_core::catalogue::{Newer, newer};
use witnessmark_core::field::Given;
use witnessmark_core::{Build, Plan, plan};
use witnessmark_intake::Problem;
use witnessmark_store::{BuildId, BuildRecord};

/// A build at one revision, worked out.
#[derive(Debug)]
pub(crate) struct Loaded {
    /// Its name.
    pub(crate) id: BuildId,
    /// The number of its last revision.
    pub(crate) revision: i64,
    /// What was typed into each field.
    pub(crate) leaves: BTreeMap<String, String>,
    /// The document.
    pub(crate) build: Build,
    /// Kept texts that cannot be read any more: they were written by another program or an older version.
    pub(crate) problems: Vec<Problem>,
    /// What the workshop needs to know.
    pub(crate) plan: Plan,
    /// The catalogue beside it.
    pub(crate) catalogue: Arc<Catalogue>,
    /// Fitted parts of which the catalogue says otherwise by now.
    newer: OnceLock<Vec<Newer>>,
    /// The fingerprints of the pieces of the page that follow from the plan, once somebody has asked for them.
    pub(crate) prints: OnceLock<Prints>,
}

impl Loaded {
    /// Reads the leaves and works the build out.
    pub(crate) fn new(id: BuildId, record: BuildRecord, catalogue: Arc<Catalogue>) -> Self {
        let BuildRecord { revision, leaves } = record;
        let (build, problems) = witnessmark_intake::from_leaves(leaves.iter());
        let plan = plan(&build);
        Loaded {
            id,
            revision,
            leaves,
            build,
            problems,
            plan,
            catalogue,
            newer: OnceLock::new(),
            prints: OnceLock::new(),
        }
    }

    /// The build after one change of one field, without reading the thousand others again.
    pub(crate) fn after(&self, revision: i64, path: &str, text: Option<&str>) -> Self {
        let mut leaves = self.leaves.clone();
        match text {
            Some(text) => leaves.insert(path.to_owned(), text.to_owned()),
            None => leaves.remove(path),
        };
        // An origin lies beside its fact, and comes and goes with it by rules of its own.
        let key_of_origin = format!("{path}.from");
        let is_origin = path.rsplit('.').next() == Some("from");
        let alone = self.problems.is_empty() && !is_origin && !leaves.contains_key(&key_of_origin);
        let mut build = self.build.clone();
        let leaf = text.map(|text| witnessmark_intake::leaf(path, text)).transpose();
        let set = leaf.ok().filter(|_| alone).and_then(|leaf| build.set(path, leaf).ok());
        if set.is_none() {
            return Loaded::new(self.id.clone(), BuildRecord { revision, leaves }, Arc::clone(&self.catalogue));
        }
        Loaded {
            id: self.id.clone(),
            revision,
            leaves,
            plan: plan(&build),
            build,
            problems: Vec::new(),
            catalogue: Arc::clone(&self.catalogue),
            newer: OnceLock::new(),
            prints: OnceLock::new(),
        }
    }

    /// What the catalogue says by now of the part at a place, where that is something else than the build holds.
    pub(crate) fn newer(&self, kind: &str, place: &str) -> Option<&Newer> {
        let of = |kind: &str, id: &str| self.catalogue.part(kind, id);
        let all = self.newer.get_or_init(|| newer(&self.build.parts, of));
        all.iter().find(|one| one.kind.key == kind && one.place == place && !one.changes.is_empty())
    }

    /// What was typed into a field.
    pub(crate) fn text(&self, path: &str) -> Option<&str> {
        self.leaves.get(path).map(String::as_str)
    }

    /// What is wrong with the kept text of a field.
    pub(crate) fn problem(&self, path: &str) -> Option<&Problem> {
        self.problems.iter().find(|problem| problem.path == path)
    }

    /// What the workshop calls this build.
    pub(crate) fn title(&self) -> &str {
        said(self.build.job.title.as_ref()).unwrap_or(NO_TITLE)
    }

    /// Who rides it.
    pub(crate) fn rider(&self) -> Option<&str> {
        said(self.build.rider.name.as_ref())
    }

    /// The fields that say something else than in `other`, in the order of their paths.
    pub(crate) fn differs_from(&self, other: &Loaded) -> Vec<String> {
        let changed = self.leaves.iter().filter(|(path, text)| other.leaves.get(*path) != Some(*text));
        let gone = other.leaves.keys().filter(|path| !self.leaves.contains_key(*path));
        let mut paths: Vec<String> = changed.map(|(path, _)| path).chain(gone).cloned().collect();
        paths.sort();
        paths
    }
}

fn said(given: Option<&Given<String>>) -> Option<&str> {
    given.map(|given| given.value.as_str())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

    use super::*;
    use witnessmark_core::build::sample::sample;

    #[test]
    fn a_change_put_on_top_gives_what_reading_everything_anew_gives() {
        let leaves = sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
        let mut loaded = Loaded::new("7k3m9x2a".parse().unwrap(), BuildRecord { revision: 1, leaves }, Arc::default());
        let changes = [
            ("settings.spacers_under", Some("2 cm")),
            ("parts.stem.length", None),
            ("parts.stem.length", Some("100")),
            ("parts.stem.length.from", Some("assumed")),
            ("parts.stem.length", Some("105")),
            ("parts.stem.length", None),
            ("parts.stem.length", Some("110")),
            ("asked.hood-x.left.value", Some("590")),
            ("asked.hood-x.left.value", None),
            ("measured.steerer-cut.value", None),
            ("parts.chain.mass", Some("250")),
            ("parts.chain.mass", None),
            ("job.title", None),
            ("settings.bar_roll", Some("round")),
            ("settings.bar_roll", Some("2")),
        ];
        for (revision, (path, text)) in (2..).zip(changes) {
            loaded = loaded.after(revision, path, text);
            let anew =
                Loaded::new(loaded.id.clone(), BuildRecord { revision, leaves: loaded.leaves.clone() }, Arc::default());
            assert_eq!(loaded.build, anew.build, "{path} {text:?}");
            assert_eq!(loaded.problems, anew.problems, "{path} {text:?}");
            assert_eq!(loaded.plan.numbers, anew.plan.numbers, "{path} {text:?}");
        }
    }
}
