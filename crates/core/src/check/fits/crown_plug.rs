//! The plug in the fork's crown stays there.
//!
//! - Looks at: forks whose steerer is open below, and whether their plug is held.
//! - Why: a plug that is only pushed in works out on the first rough road, falls onto the tyre, and water stands on
//!   the lower bearing.
//! - Source: common practice, no source: a screw, glue or a lip
//! - Fits: A steerer that is closed below.
//! - Does not fit: An open one whose plug is only pushed in.
//! - Not known: Nobody looked whether the steerer is open below.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: a screw, glue or a lip";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a drop of glue mends it, while the wheel is out");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let fork = &case.model.fork;
    let mut lacking = Missing::default();
    if take(fact!(fork, crown_open), &mut lacking) == Some(true)
        && take(fact!(fork, crown_plug_held), &mut lacking) == Some(false)
    {
        out.say(
            vec![fork.at("crown_plug_held")],
            "The plug in the fork's crown can drop onto the tyre.".into(),
            "The steerer is open below, and nothing holds its plug.".into(),
            "Hold it with a drop of glue or its screw before the wheel goes in.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the plug in the fork's crown stays there");
}

/// A steerer that is closed below.
pub fn fits(_: &mut Build) {}

/// An open one whose plug is only pushed in.
pub fn does_not_fit(build: &mut Build) {
    let fork = build.parts.fork.make("");
    fork.crown_open = Some(true.into());
    fork.crown_plug_held = Some(false.into());
}

/// Nobody looked whether the steerer is open below.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.fork.make("").crown_open = None;
});
