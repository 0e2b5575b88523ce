//! The spindle is as long as bearings and spacers are wide.
//!
//! - Looks at: length of the spindle between its shoulders; width across the bearings with their spacers; what the
//!   preload takes up.
//! - Why: too short a spindle cannot be preloaded and its arm slips off; too long a one knocks from side to side.
//! - Source: common practice, no source: spindle less bearings and spacers is between nothing and what the preload
//!   takes up
//! - Fits: a spindle of 90 mm on 86.5 mm of bearings, with a preload that takes up 5.
//! - Does not fit: a spindle of 84 mm.
//! - Not known: nobody measured across the bearings.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::mm;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: spindle less bearings and spacers is between nothing and what the preload takes up";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["crankset", "bottom_bracket"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let cups = &model.bottom_bracket;
    let stack = all((fact!(cups, bearing_width_mm), fact!(cups, spacer_left_mm), fact!(cups, spacer_right_mm)));
    let spindle = take(fact!(model.crankset, spindle_length_mm), &mut lacking);
    let preload = take(fact!(model.crankset, preload_travel_mm), &mut lacking);
    let stack = take(stack, &mut lacking).map(|(bearings_mm, left_mm, right_mm)| bearings_mm + left_mm + right_mm);
    if let (Some(spindle_mm), Some(stack_mm)) = (spindle, stack) {
        let spare_mm = spindle_mm - stack_mm;
        let (short, long) =
            (compare::falls_short(spare_mm, 0.0), preload.is_some_and(|most_mm| compare::exceeds(spare_mm, most_mm)));
        if short || long {
            let (way, action) = if short {
                (
                    "short",
                    "Take spacers away if its maker allows it; otherwise this crankset does not go into this shell.",
                )
            } else {
                (
                    "long",
                    "Add spacers by the crankset maker's own table, so that the chain line stays where it belongs.",
                )
            };
            let takes = preload.map_or_else(String::new, |most_mm| format!("; the preload takes up {}", mm(most_mm)));
            out.say(
                vec![model.crankset.at("spindle_length"), cups.at("bearing_width")],
                format!("The spindle is too {way} for the bearings."),
                format!("It is {} long and bearings with spacers are {} wide{takes}.", mm(spindle_mm), mm(stack_mm)),
                action.into(),
            );
        }
    }
    out.not_known(&lacking, "whether the spindle is as long as the bearings are wide");
}

/// A spindle of 90 mm on 86.5 mm of bearings, with a preload that takes up 5.
pub fn fits(_: &mut Build) {}

/// A spindle of 84 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").spindle_length_mm = Some(84.0.into());
}

/// Nobody measured across the bearings.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.bottom_bracket.make("").bearing_width_mm = None);
