//! A cockpit that hides its hoses has a frame that takes them in.
//!
//! - Looks at: whether hoses leave a one-piece cockpit hidden, and whether the frame takes them in at the head tube.
//! - Why: hoses that come down inside the spacers end before a closed head tube; the other way round they hang in the
//!   wind.
//! - Source: common practice, no source: cockpit and frame lead hoses the same way
//! - Fits: a stem and bar in two pieces, with hoses outside.
//! - Does not fit: a cockpit with hidden hoses on a frame with openings at its side.
//! - Not known: a cockpit of which nobody knows how its hoses leave.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: cockpit and frame lead hoses the same way";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["cockpit", "frame"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    if !model.one_piece() {
        return;
    }
    let facts = all((fact!(model.cockpit, hoses_hidden), fact!(model.frame, hoses_in_head_tube)));
    let Some((hidden, taken_in)) = out.need(facts, "whether the cockpit's hoses come into the frame") else { return };
    if hidden && !taken_in {
        out.say(
            vec![model.cockpit.at("hoses_hidden"), model.frame.at("hoses_in_head_tube")],
            "The cockpit's hoses have no way into the frame.".into(),
            "They leave the cockpit hidden, and the frame does not take them in at the head tube.".into(),
            "Choose a cockpit whose hoses leave outside, or ask its maker for the cover with openings.".into(),
        );
    }
}

/// A stem and bar in two pieces, with hoses outside.
pub fn fits(_: &mut Build) {}

/// A cockpit with hidden hoses on a frame with openings at its side.
pub fn does_not_fit(build: &mut Build) {
    let cockpit = build.parts.cockpit.make("");
    cockpit.mass_g = Some(400.0.into());
    cockpit.hoses_hidden = Some(true.into());
    build.parts.frame.make("").hoses_in_head_tube = Some(false.into());
}

/// A cockpit of which nobody knows how its hoses leave.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.cockpit.make("").mass_g = Some(400.0.into()));
