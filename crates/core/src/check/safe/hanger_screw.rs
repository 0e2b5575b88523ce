//! A hanger's screw that was in before gets thread lock.
//!
//! - Looks at: whether the hanger's screw was in before, and what goes on its thread.
//! - Why: the lock on a new screw holds once; after that the screw works loose, the hanger tilts, and the derailleur
//!   goes into the spokes.
//! - Source: common practice, no source: a new screw, or thread lock that comes loose by hand
//! - Fits: A new screw.
//! - Does not fit: A used one with grease.
//! - Not known: Nobody said whether the screw is new.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::Severity;
use crate::model::Missing;
use crate::part::Compound;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: a new screw, or thread lock that comes loose by hand";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a drop of thread lock mends it");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let frame = &case.model.frame;
    let mut lacking = Missing::default();
    if take(fact!(frame, hanger_screw_used), &mut lacking) == Some(true)
        && let Some(compound) = take(fact!(frame, hanger_screw_compound), &mut lacking)
        && !matches!(compound, Compound::ThreadLockMedium | Compound::ThreadLockStrong)
    {
        out.say(
            vec![frame.at("hanger_screw_compound"), frame.at("hanger_screw_used")],
            "The hanger's screw can work loose.".into(),
            format!("It has been in before, and on its thread goes «{}».", compound.name()),
            "Clean the thread and put medium thread lock on it, or take a new screw.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the hanger's screw is held");
}

/// A new screw.
pub fn fits(_: &mut Build) {}

/// A used one with grease.
pub fn does_not_fit(build: &mut Build) {
    let frame = build.parts.frame.make("");
    frame.hanger_screw_used = Some(true.into());
    frame.hanger_screw_compound = Some(Compound::Grease.into());
}

/// Nobody said whether the screw is new.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.frame.make("").hanger_screw_used = None;
});
