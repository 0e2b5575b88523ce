//! The chainstay is steep enough below the front derailleur.
//!
//! - Looks at: the angle between seat tube and chainstay, from seat angle, chainstay and drop, and the smallest that
//!   the front derailleur's maker names.
//! - Why: under a flatter angle the tail of the cage stands into the chain on the small ring, and no screw turns it
//!   away.
//! - Source: the derailleur maker's smallest angle
//! - Fits: the tubes meet at 63.4°, where 61 are asked.
//! - Does not fit: a derailleur that asks for 66°.
//! - Not known: the derailleur's smallest angle is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::{Severity, deg};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the derailleur maker's smallest angle";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    if model.front_derailleur.part.is_none() {
        return;
    }
    let mut lacking = Missing::default();
    let seat = take(fact!(model.frame, seat_angle_deg), &mut lacking);
    let axle = take(case.worked.chassis.rear_axle.clone(), &mut lacking);
    let least = take(fact!(model.front_derailleur, chainstay_angle_min_deg), &mut lacking);
    if let (Some(seat_deg), Some(axle), Some(least_deg)) = (seat, axle, least) {
        // Seen from the bottom bracket: the seat tube leans back, and the chainstay rises to the rear by the drop.
        let between_deg = axle.angle_deg() - (180.0 - seat_deg);
        let between_deg = between_deg.abs();
        if between_deg < least_deg {
            out.say(
                vec![model.front_derailleur.at("chainstay_angle_min"), model.frame.at("bb_drop")],
                "The chainstay lies too close to the front derailleur's cage.".into(),
                format!(
                    "Seat tube and chainstay meet at {} and its maker asks for {}.",
                    deg(between_deg),
                    deg(least_deg)
                ),
                "Choose another front derailleur, or ask its maker whether this frame is known to work.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the chainstay is steep enough below the front derailleur");
}

/// The tubes meet at 63.4°, where 61 are asked.
pub fn fits(_: &mut Build) {}

/// A derailleur that asks for 66°.
pub fn does_not_fit(build: &mut Build) {
    build.parts.front_derailleur.make("").chainstay_angle_min_deg = Some(66.0.into());
}

/// The derailleur's smallest angle is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.parts.front_derailleur.make("").chainstay_angle_min_deg = None);
