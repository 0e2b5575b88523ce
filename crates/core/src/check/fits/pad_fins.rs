//! The cooling fins of the pads clear the spokes.
//!
//! - Looks at: the least gap between the fins of each pair of pads and the spokes.
//! - Why: fins stand out toward the wheel; where they touch a spoke they wear it through, and a spoke breaks in a
//!   descent.
//! - Source: common practice, no source: 2 mm or more with new pads, the wheel turned right round
//! - Fits: 4 mm at both wheels.
//! - Does not fit: 1 mm at the front wheel.
//! - Not known: Nobody looked whether the rear pads have fins.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: 2 mm or more with new pads, the wheel turned right round";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    for end in &case.model.ends {
        if take(fact!(end.caliper, pad_fins), &mut lacking) != Some(true) {
            continue;
        }
        let Some(gap_mm) = take(fact!(end.caliper, fin_to_spoke_mm), &mut lacking) else { continue };
        if compare::falls_short(gap_mm, LEAST_MM) {
            out.say(
                vec![end.caliper.at("fin_to_spoke")],
                format!("The {} pads' fins come too near the spokes.", end.side.word()),
                format!("The gap is {} and {} are wanted.", mm(gap_mm), mm(LEAST_MM)),
                "Fit pads without fins at this wheel.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the pads' fins clear the spokes");
}

/// Spokes move toward the caliper by a millimetre when the rider stands.
const LEAST_MM: f64 = 2.0;

/// 4 mm at both wheels.
pub fn fits(_: &mut Build) {}

/// 1 mm at the front wheel.
pub fn does_not_fit(build: &mut Build) {
    build.parts.caliper.make("front").fin_to_spoke_mm = Some(1.0.into());
}

/// Nobody looked whether the rear pads have fins.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.caliper.make("rear").pad_fins = None;
});
