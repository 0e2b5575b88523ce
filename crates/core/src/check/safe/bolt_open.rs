//! No bolt stands open when the bike leaves.
//!
//! - Looks at: how far each bolt is tightened, and how far the build has come.
//! - Why: a bolt that was started and left for a moment is the one that nobody looks at again.
//! - Source: common practice, no source: all the way on or all the way off
//! - Fits: every bolt is closed.
//! - Does not fit: the rail clamp stands open on a finished bike.
//! - Not known: nothing; a bolt that nobody has touched is another check's.

use crate::build::{Build, FastenerState, Stage};
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight};
use crate::finding::{About, Severity};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: all the way on or all the way off";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check. On the stand an open bolt is ordinary work, and only worth a note.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let open: Vec<_> = case.worked.fasteners.open().collect();
    if open.is_empty() {
        return;
    }
    let finished = case.model.build.job.stage.as_ref().is_some_and(|stage| stage.value == Stage::Finished);
    let severity = if finished { Severity::Stop } else { Severity::Note };
    let names: Vec<String> = open.iter().map(|bolt| bolt.name.clone()).collect();
    let (stands, it) = if names.len() == 1 { ("stands", "It was") } else { ("stand", "They were") };
    out.say_as(
        severity,
        open.iter().map(|bolt| About::path(&format!("{}.state", bolt.path()))).collect(),
        format!("The {} {stands} open.", and_list(&names)),
        format!("{it} started and not brought to torque; an open bolt holds the release back."),
        "Bring each to its torque, paint the line, and write it down as closed.".into(),
    );
}

/// Every bolt is closed.
pub fn fits(_: &mut Build) {}

/// The rail clamp stands open.
pub fn does_not_fit(build: &mut Build) {
    build.fasteners.entry("rail-clamp".into()).or_default().state = Some(FastenerState::Open.into());
}

/// Nothing; a bolt that nobody has touched is another check's.
pub const NOT_KNOWN: Option<fn(&mut Build)> = None;
