//! The steerer goes through the bearings.
//!
//! - Looks at: bore of the upper bearing and diameter of the steerer; bore of the lower bearing and diameter of the
//!   crown-race seat.
//! - Why: a bore that is too small stops at the paint; a lower one that is too large centres on nothing.
//! - Source: common practice, no source: the lower bore at most 0.6 mm larger than its seat, the upper larger than the
//!   steerer
//! - Fits: bores of 40 mm on a steerer of 28.6 and a seat of 39.8.
//! - Does not fit: a lower bearing with a bore of 30 mm.
//! - Not known: nobody measured the lower bore.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: the lower bore at most 0.6 mm larger than its seat, the upper larger than the steerer";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["headset", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let (headset, fork) = (&model.headset, &model.fork);
    let mut lacking = Missing::default();
    if let Some((bore_mm, steerer_mm)) =
        take(all((fact!(headset, upper_bearing_bore_mm), fact!(fork, steerer_upper_diameter_mm))), &mut lacking)
        && !compare::exceeds(bore_mm, steerer_mm)
    {
        out.say(
            vec![headset.at("upper_bearing_bore"), fork.at("steerer_upper_diameter")],
            "The steerer does not go through the upper bearing.".into(),
            format!("The bearing's bore is {} and the steerer measures {}.", mm(bore_mm), mm(steerer_mm)),
            format!("Order the bearing for a steerer of {}.", mm(steerer_mm)),
        );
    }
    if let Some((bore_mm, seat_mm)) =
        take(all((fact!(headset, lower_bearing_bore_mm), fact!(fork, crown_race_diameter_mm))), &mut lacking)
        && (compare::falls_short(bore_mm, seat_mm) || compare::exceeds(bore_mm, seat_mm + 0.6))
    {
        out.say(
            vec![headset.at("lower_bearing_bore"), fork.at("crown_race_diameter")],
            "The lower bearing does not sit on this fork.".into(),
            format!("Its bore is {} and the crown-race seat measures {}.", mm(bore_mm), mm(seat_mm)),
            format!("Order the lower bearing, and its race, for a seat of {}.", mm(seat_mm)),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the steerer goes through the bearings");
}

/// Bores of 40 mm on a steerer of 28.6 and a seat of 39.8.
pub fn fits(_: &mut Build) {}

/// A lower bearing with a bore of 30 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.headset.make("").lower_bearing_bore_mm = Some(30.0.into());
}

/// Nobody measured the lower bore.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.headset.make("").lower_bearing_bore_mm = None);
