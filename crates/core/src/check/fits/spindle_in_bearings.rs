//! The spindle goes through these bearings.
//!
//! - Looks at: outside diameter of the crankset's spindle and the spindle that the bottom bracket takes.
//! - Why: a spindle that is a millimetre off does not go in, or hammers in the bearing until both are scrap.
//! - Source: common practice, no source: spindle and bearing are named by the same diameter, within 0.1 mm
//! - Fits: a spindle of 24 mm in a bottom bracket for 24.
//! - Does not fit: a spindle of 30 mm.
//! - Not known: the diameter of the spindle is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::mm;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: spindle and bearing are named by the same diameter, within 0.1 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["crankset", "bottom_bracket"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let facts = all((fact!(model.crankset, spindle_diameter_mm), fact!(model.bottom_bracket, spindle_diameter_mm)));
    let Some((spindle_mm, taken_mm)) = out.need(facts, "whether the spindle goes through the bearings") else { return };
    if !compare::same_within(spindle_mm, taken_mm, 0.1) {
        out.say(
            vec![model.crankset.at("spindle_diameter"), model.bottom_bracket.at("spindle_diameter")],
            "The spindle does not fit the bottom bracket.".into(),
            format!("The spindle measures {} and the bearings take {}.", mm(spindle_mm), mm(taken_mm)),
            format!("Order a bottom bracket for the frame's shell and a spindle of {}.", mm(spindle_mm)),
        );
    }
}

/// A spindle of 24 mm in a bottom bracket for 24.
pub fn fits(_: &mut Build) {}

/// A spindle of 30 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").spindle_diameter_mm = Some(30.0.into());
}

/// The diameter of the spindle is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.crankset.make("").spindle_diameter_mm = None);
