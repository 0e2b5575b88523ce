//! A chain catcher does not meet the power meter.
//!
//! - Looks at: whether a chain catcher is fitted, and whether the maker of the cranks allows one beside the inner
//!   ring.
//! - Why: spiders and rings with a power meter in them stand further in; the catcher grinds on the housing and the
//!   readings go wrong first.
//! - Source: the crank maker's word
//! - Fits: No catcher.
//! - Does not fit: A catcher beside rings whose maker forbids it.
//! - Not known: The crank maker's word was not found.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::finding::Severity;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the crank maker's word";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "the catcher comes off with one screw");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["front_derailleur", "crankset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    if fact!(model.front_derailleur, catcher) != Ok(true) {
        return;
    }
    let Some(allowed) = out.need(fact!(model.crankset, catcher_allowed), "whether the cranks allow a chain catcher")
    else {
        return;
    };
    if !allowed {
        out.say(
            vec![model.front_derailleur.at("catcher"), model.crankset.at("catcher_allowed")],
            "The chain catcher meets the cranks.".into(),
            "A catcher is fitted, and the cranks' maker allows none beside the inner ring.".into(),
            "Leave the catcher off, or fit the one that the cranks' maker names.".into(),
        );
    }
}

/// No catcher.
pub fn fits(_: &mut Build) {}

/// A catcher beside rings whose maker forbids it.
pub fn does_not_fit(build: &mut Build) {
    build.parts.front_derailleur.make("").catcher = Some(true.into());
    build.parts.crankset.make("").catcher_allowed = Some(false.into());
}

/// The crank maker's word was not found.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.front_derailleur.make("").catcher = Some(true.into());
});
