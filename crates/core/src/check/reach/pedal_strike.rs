//! The pedal clears the road in a lean.
//!
//! - Looks at: the lean at which the lower outer edge of a pedal touches the ground, tyre not pressed in.
//! - Why: long cranks on a low bottom bracket lift the rear wheel in the first bend that is pedalled through.
//! - Source: 16 CFR 1512.17(c), 25°; ISO 4210-2 asks for 25° and more by class.
//! - Fits: 26.9° on 170 mm cranks.
//! - Does not fit: 180 mm cranks on the same frame.
//! - Not known: nobody measured how far the pedal reaches below its axle.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::finding::{About, deg, mm};
use crate::number::{BB_HEIGHT, PEDAL_CLEARANCE, Side};

/// The least lean without a touch.
const LEAST_DEG: f64 = 25.0;
/// Where the limit comes from.
pub const SOURCE: &str = "16 CFR 1512.17(c): 25° of lean without the pedal touching";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let lean = case.planned(&PEDAL_CLEARANCE, Side::None);
    let Some(lean_deg) = out.need(lean, "at what lean the pedal meets the ground") else { return };
    if lean_deg >= LEAST_DEG {
        return;
    }
    let with = match (case.planned(&BB_HEIGHT, Side::None), fact!(case.model.crankset, arm_length_mm)) {
        (Ok(height_mm), Ok(arm_mm)) => {
            format!("; the bottom bracket stands {} high and the cranks are {}", mm(height_mm), mm(arm_mm))
        }
        _ => String::new(),
    };
    out.say(
        vec![About::number(&PEDAL_CLEARANCE, Side::None)],
        "The pedal meets the road early in a lean.".into(),
        format!("It touches at {} and {} are asked for{with}.", deg(lean_deg), deg(LEAST_DEG)),
        "Use shorter cranks or a narrower pedal, or tell the rider not to pedal through bends.".into(),
    );
}

/// The sample clears 25°.
pub fn fits(_: &mut Build) {}

/// Long cranks.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").arm_length_mm = Some(180.0.into());
}

/// Nobody measured the pedal.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.pedal.make("").below_axle_mm = None);
