//! There is room for a bearing between spindle and bore.
//!
//! - Looks at: bore of the shell, and outside diameter of the spindle, where the bearings are pressed in.
//! - Why: a spindle of 30 mm in a bore of 41 leaves 5.5 mm a side for both races and the balls: such a bearing is worn
//!   in a season.
//! - Source: common practice, no source: 6 mm a side or more
//! - Fits: cups outside a threaded shell: the bore does not limit the bearing.
//! - Does not fit: a spindle of 30 mm in a bore of 41.
//! - Not known: nobody measured the bore for pressed bearings.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;
use crate::part::ShellHold;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: 6 mm a side or more";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "it goes together and runs; it wears sooner");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "crankset", "bottom_bracket"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let hold = fact!(model.bottom_bracket, hold);
    let pressed = |hold| matches!(hold, ShellHold::Pressed | ShellHold::ScrewedTogether);
    if let Some(true) = take(hold.map(pressed), &mut lacking) {
        let facts = all((fact!(model.frame, shell_bore_mm), fact!(model.crankset, spindle_diameter_mm)));
        if let Some((bore_mm, spindle_mm)) = take(facts, &mut lacking) {
            let wall_mm = (bore_mm - spindle_mm) / 2.0;
            if compare::falls_short(wall_mm, LEAST_MM) {
                out.say(
                    vec![model.frame.at("shell_bore"), model.crankset.at("spindle_diameter")],
                    "There is little room for a bearing in this shell.".into(),
                    format!(
                        "Between a bore of {} and a spindle of {} are {} a side; {} is usual.",
                        mm(bore_mm), mm(spindle_mm), mm(wall_mm), mm(LEAST_MM)
                    ),
                    "Choose cranks with a thinner spindle, or tell the customer how soon the bearings will want replacing.".into(),
                );
            }
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether there is room for a lasting bearing in the shell");
}

/// Room a side for a bearing that lasts.
const LEAST_MM: f64 = 6.0;

/// Cups outside a threaded shell: the bore does not limit the bearing.
pub fn fits(_: &mut Build) {}

/// A spindle of 30 mm in a bore of 41.
pub fn does_not_fit(build: &mut Build) {
    build.parts.bottom_bracket.make("").hold = Some(ShellHold::Pressed.into());
    build.parts.frame.make("").shell_bore_mm = Some(41.0.into());
    build.parts.crankset.make("").spindle_diameter_mm = Some(30.0.into());
}

/// Nobody measured the bore for pressed bearings.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.parts.bottom_bracket.make("").hold = Some(ShellHold::Pressed.into()));
