//! A build as it is at one revision: what was typed, the document, and the plan.

use crate::catalogue::Catalogue;
use crate::pages::PagePrints;
use crate::register::NO_TITLE;
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};
use witnessmark_core::catalogue::{Newer, newer};
use witnessmark_core::field::Given;
use witnessmark_core::{Build, Plan, plan};
use witnessmark_intake::Problem;
use witnessmark_store::{BuildId, BuildRecord, Change};

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
    /// The fingerprints of the pieces of its pages, by which it is told what a change changed.
    pub(crate) prints: PagePrints,
}

impl Loaded {
    /// Reads the leaves and works the build out.
    pub(crate) fn new(id: BuildId, record: BuildRecord, catalogue: Arc<Catalogue>) -> Self {
        let BuildRecord { revision, leaves } = record;
        let (build, problems) = witnessmark_intake::from_leaves(leaves.iter());
        Loaded::of(id, revision, leaves, build, problems, catalogue)
    }

    fn of(
        id: BuildId,
        revision: i64,
        leaves: BTreeMap<String, String>,
        build: Build,
        problems: Vec<Problem>,
        catalogue: Arc<Catalogue>,
    ) -> Self {
        let plan = plan(&build);
        let (newer, prints) = Default::default();
        Loaded { id, revision, leaves, build, problems, plan, catalogue, newer, prints }
    }

    /// The build after one step, without reading its thousand other fields again.
    pub(crate) fn after(&self, revision: i64, step: &[Change]) -> Self {
        let mut leaves = self.leaves.clone();
        for Change { path, after, .. } in step {
            match after {
                Some(text) => leaves.insert(path.clone(), text.clone()),
                None => leaves.remove(path),
            };
        }
        // An origin lies beside its fact, and comes and goes with it by rules of its own.
        let alone =
            |path: &str| path.rsplit('.').next() != Some("from") && !leaves.contains_key(&format!("{path}.from"));
        let (id, catalogue) = (self.id.clone(), Arc::clone(&self.catalogue));
        let mut build = self.build.clone();
        let is_put = self.problems.is_empty()
            && step.iter().all(|Change { path, after, .. }| {
                let leaf = after.as_deref().map(|text| witnessmark_intake::leaf(path, text)).transpose();
                alone(path) && leaf.is_ok_and(|leaf| build.set(path, leaf).is_ok())
            });
        if is_put {
            Loaded::of(id, revision, leaves, build, Vec::new(), catalogue)
        } else {
            Loaded::new(id, BuildRecord { revision, leaves }, catalogue)
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
    fn a_step_put_on_top_gives_what_reading_everything_anew_gives() {
        let leaves = sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
        let mut loaded = Loaded::new("7k3m9x2a".parse().unwrap(), BuildRecord { revision: 1, leaves }, Arc::default());
        let steps: [&[(&str, Option<&str>)]; 18] = [
            &[("measured.hood-gap.value", Some("352")), ("measured.hood-gap.by", Some("Anna"))],
            &[("parts.stem.length", Some("90")), ("parts.stem.length.from", Some("assumed"))],
            &[("measured.hood-gap.value", None), ("measured.hood-gap.by", None), ("job.note", Some("again"))],
            &[("settings.spacers_under", Some("2 cm"))],
            &[("parts.stem.length", None)],
            &[("parts.stem.length", Some("100"))],
            &[("parts.stem.length.from", Some("assumed"))],
            &[("parts.stem.length", Some("105"))],
            &[("parts.stem.length", None)],
            &[("parts.stem.length", Some("110"))],
            &[("asked.hood-x.left.value", Some("590"))],
            &[("asked.hood-x.left.value", None)],
            &[("measured.steerer-cut.value", None)],
            &[("parts.chain.mass", Some("250"))],
            &[("parts.chain.mass", None)],
            &[("job.title", None)],
            &[("settings.bar_roll", Some("round"))],
            &[("settings.bar_roll", Some("2"))],
        ];
        for (revision, step) in (2..).zip(steps) {
            let change = |(path, text): &(&str, Option<&str>)| Change {
                path: (*path).to_owned(),
                before: None,
                after: text.map(str::to_owned),
            };
            loaded = loaded.after(revision, &step.iter().map(change).collect::<Vec<_>>());
            let anew =
                Loaded::new(loaded.id.clone(), BuildRecord { revision, leaves: loaded.leaves.clone() }, Arc::default());
            assert_eq!(loaded.build, anew.build, "{step:?}");
            assert_eq!(loaded.problems, anew.problems, "{step:?}");
            assert_eq!(loaded.plan.numbers, anew.plan.numbers, "{step:?}");
        }
    }
}
