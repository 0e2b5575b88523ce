//! A day is agreed on which every bolt is looked at again.
//!
//! - Looks at: how far the build has come, and the day agreed for the re-check.
//! - Why: bolts settle in the first hours; a stem that was right on the stand is loose after 200 km, and nobody looks
//!   unless a day was named.
//! - Source: common practice, no source: after two to four weeks, or 100 to 300 km
//! - Fits: a day three weeks after hand-over.
//! - Does not fit: a finished bike without a day.
//! - Not known: nothing; a day is agreed or it is not.

use crate::build::{Build, Stage};
use crate::check::{Case, Report, Weight};
use crate::finding::{About, Severity};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: after two to four weeks, or 100 to 300 km";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "it is a reminder; the bike is sound on the day");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let job = &model.build.job;
    let finished = job.stage.as_ref().is_some_and(|stage| stage.value == Stage::Finished);
    if finished && job.recheck_on.is_none() {
        out.say(
            vec![About::path("job.recheck_on")],
            "No day is agreed for the re-check.".into(),
            "The bike is finished; bolts, spokes, headset and hose ends settle in the first 100 to 300 km.".into(),
            "Agree a day two to four weeks after hand-over, and write it on the hand-over sheet.".into(),
        );
    }
}

/// A day three weeks after hand-over.
pub fn fits(_: &mut Build) {}

/// A finished bike without a day.
pub fn does_not_fit(build: &mut Build) {
    build.job.recheck_on = None;
}

/// Nothing; a day is agreed or it is not.
pub const NOT_KNOWN: Option<fn(&mut Build)> = None;
