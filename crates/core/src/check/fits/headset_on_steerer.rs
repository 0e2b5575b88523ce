//! The compression ring closes on this steerer.
//!
//! - Looks at: the steerer that the headset's ring is made for, and the steerer's upper diameter.
//! - Why: a ring for a thicker steerer never centres it; the bars knock under the brake and the bearing wears the steerer.
//! - Source: common practice, no source: the two diameters are one within 0.1 mm.
//! - Fits: a ring for 28.6 mm on a steerer of 28.6 mm.
//! - Does not fit: a ring for 30.2 mm.
//! - Not known: the ring's diameter is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{About, mm};

/// Two diameters are one within this.
const WITHIN_MM: f64 = 0.1;
/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: ring and steerer alike within 0.1 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["headset", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let pair = all((fact!(model.headset, steerer_diameter_mm), fact!(model.fork, steerer_upper_diameter_mm)));
    let Some((ring_mm, steerer_mm)) = out.need(pair, "whether the headset's ring fits the steerer") else { return };
    if !compare::same_within(ring_mm, steerer_mm, WITHIN_MM) {
        out.say(
            vec![About::path("parts.headset.steerer_diameter"), About::path("parts.fork.steerer_upper_diameter")],
            "The headset's compression ring does not fit the steerer.".into(),
            format!("The ring is made for {} and the steerer has {}.", mm(ring_mm), mm(steerer_mm)),
            format!("Order a compression ring for {}, of the bearing's angle.", mm(steerer_mm)),
        );
    }
}

/// The sample's ring is made for its steerer.
pub fn fits(_: &mut Build) {}

/// A ring for a thicker steerer.
pub fn does_not_fit(build: &mut Build) {
    build.parts.headset.make("").steerer_diameter_mm = Some(30.2.into());
}

/// Nobody told the ring's diameter.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.headset.make("").steerer_diameter_mm = None);
