//! A saddle bag does not hide a light's sensor.
//!
//! - Looks at: a bag under the saddle, and a light there that switches by a sensor.
//! - Why: the bag shades the sensor: the light burns all day and is empty in the evening, or is never seen.
//! - Source: common practice, no source: bag or sensor, not both in one place
//! - Fits: Neither.
//! - Does not fit: Bag and sensor under one saddle.
//! - Not known: Never; what is not listed does not hang there.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::finding::Severity;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: bag or sensor, not both in one place";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "the rider sees it on the first ride");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["saddle"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let saddle = &case.model.saddle;
    if fact!(saddle, bag) == Ok(true) && fact!(saddle, light_sensor) == Ok(true) {
        out.say(
            vec![saddle.at("bag"), saddle.at("light_sensor")],
            "The saddle bag hides the light's sensor.".into(),
            "Both hang under the saddle, and the sensor must look out.".into(),
            "Move the light to the post or a stay, or the bag into a pocket.".into(),
        );
    }
}

/// Neither.
pub fn fits(_: &mut Build) {}

/// Bag and sensor under one saddle.
pub fn does_not_fit(build: &mut Build) {
    let saddle = build.parts.saddle.make("");
    saddle.bag = Some(true.into());
    saddle.light_sensor = Some(true.into());
}

/// Never; what is not listed does not hang there.
pub const NOT_KNOWN: Option<fn(&mut Build)> = None;
