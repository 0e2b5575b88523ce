//! The tape is long enough for this bar.
//!
//! - Looks at: width, length, thickness and stretch of the tape; the bar's curve, width and tube, and where the tape
//!   ends.
//! - Why: a roll that runs short is pulled thin, opens in the drops after a month, and was sold as wrapped.
//! - Source: common practice, no source: edges overlap by a sixth of the width or more; 120 mm for the tuck and the
//!   lever
//! - Fits: 2.1 m on a bar of 400 mm.
//! - Does not fit: a roll of 1.3 m.
//! - Not known: the roll was not measured.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::finding::{Severity, mm};

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: edges overlap by a sixth of the width or more; 120 mm for the tuck and the lever";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "it can be wrapped all the same, further apart");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    if model.tape.part.is_none() {
        return;
    }
    let bar = if model.one_piece() {
        all((fact!(model.cockpit, width_hoods_mm), fact!(model.cockpit, tube_diameter_mm)))
    } else {
        all((fact!(model.bar, width_hoods_mm), fact!(model.bar, tube_diameter_mm)))
    };
    let facts = all((fact!(model.tape, width_mm), fact!(model.tape, length_mm), case.worked.front.curve.clone(), bar));
    let (width_mm, length_mm, curve, (across_mm, tube_mm)) = match facts {
        Ok(facts) => facts,
        Err(missing) => {
            out.not_known_as(Severity::Note, &missing, "whether the tape is long enough");
            return;
        }
    };
    // What is not told is taken as usual: 2.5 mm thick, not stretched, ending 60 mm from the middle. It decides nothing
    // but a caution.
    let thick_mm = fact!(model.tape, thickness_mm).unwrap_or(2.5);
    let stretched = 1.0 + fact!(model.tape, stretch_percent).unwrap_or(0.0) / 100.0;
    let stop_mm = fact!(model.settings, tape_stop_left_mm).unwrap_or(60.0);
    let covered_mm = curve.length_mm() + across_mm / 2.0 - stop_mm;
    let wound_mm = length_mm * stretched - TUCK_AND_LEVER_MM;
    let overlap_mm = width_mm - covered_mm * std::f64::consts::PI * (tube_mm + thick_mm) / wound_mm.max(1.0);
    if overlap_mm < width_mm / 6.0 {
        let left = if overlap_mm > 0.0 {
            format!("the edges overlap by {}", mm(overlap_mm))
        } else {
            "the bar shows between the turns".into()
        };
        out.say(
            vec![model.tape.at("length"), model.tape.at("width")],
            "The tape is short for this bar.".into(),
            format!("One side has {} of bar to cover and the roll {}: {left}.", mm(covered_mm), mm(length_mm)),
            "Choose a longer roll, leave the tops bare, or end the tape further out on both sides.".into(),
        );
    }
}

/// What goes into the end and round the lever.
const TUCK_AND_LEVER_MM: f64 = 120.0;

/// 2.1 m on a bar of 400 mm.
pub fn fits(_: &mut Build) {}

/// A roll of 1.3 m.
pub fn does_not_fit(build: &mut Build) {
    build.parts.tape.make("").length_mm = Some(1300.0.into());
}

/// The roll was not measured.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.tape.make("").length_mm = None);
