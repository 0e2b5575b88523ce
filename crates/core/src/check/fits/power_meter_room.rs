//! The power meter clears the chainstay.
//!
//! - Looks at: where power is measured; the room that the meter wants at the left arm, and the room there is.
//! - Why: a meter on the inside of the left arm stands towards the stay; where it touches, it shears off in the first
//!   turn.
//! - Source: the power meter maker's room, commonly 8 to 10 mm
//! - Fits: 14 mm of room where 9 are wanted.
//! - Does not fit: a frame with 6 mm of room.
//! - Not known: nobody measured the room between left arm and stay.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;
use crate::part::PowerMeter;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the power meter maker's room, commonly 8 to 10 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["crankset", "frame"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let meter = take(fact!(model.crankset, power_meter), &mut lacking);
    if matches!(meter, Some(PowerMeter::Left | PowerMeter::Both)) {
        let facts = all((fact!(model.crankset, power_room_needed_mm), fact!(model.frame, arm_room_left_mm)));
        if let Some((wanted_mm, room_mm)) = take(facts, &mut lacking)
            && compare::falls_short(room_mm, wanted_mm)
        {
            out.say(
                vec![model.crankset.at("power_room_needed"), model.frame.at("arm_room_left")],
                "The power meter comes too near the chainstay.".into(),
                format!("It wants {} at the left arm and there are {}.", mm(wanted_mm), mm(room_mm)),
                "Choose a meter in the spindle or the spider for this frame.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the power meter clears the chainstay");
}

/// 14 mm of room where 9 are wanted.
pub fn fits(_: &mut Build) {}

/// A frame with 6 mm of room.
pub fn does_not_fit(build: &mut Build) {
    build.parts.frame.make("").arm_room_left_mm = Some(6.0.into());
}

/// Nobody measured the room between left arm and stay.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").arm_room_left_mm = None);
