//! A build as it is at one revision: what was typed, the document, and the plan.

use std::collections::BTreeMap;
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
}

impl Loaded {
    /// Reads the leaves and works the build out.
    pub(crate) fn new(id: BuildId, record: BuildRecord) -> Self {
        let BuildRecord { revision, leaves } = record;
        let (build, problems) = witnessmark_intake::from_leaves(leaves.iter());
        let plan = plan(&build);
        Loaded { id, revision, leaves, build, problems, plan }
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
        said(self.build.job.title.as_ref()).unwrap_or("a build without a title")
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
