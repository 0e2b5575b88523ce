//! An axle lever cannot reach rotor or caliper.
//!
//! - Looks at: through axles that are turned by their own lever, and the least gap between lever and rotor or
//!   caliper.
//! - Why: a lever that works round to the rotor is caught by it, and stops the wheel or opens the axle.
//! - Source: common practice, no source: 3 mm or more with the lever turned right round
//! - Fits: Axles turned by a key.
//! - Does not fit: A front axle with a lever that comes within 1 mm.
//! - Not known: Nobody measured the gap at the front lever.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, take};
use crate::fact;
use crate::finding::mm;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: 3 mm or more with the lever turned right round";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["axle"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    for end in &case.model.ends {
        if end.axle.part.is_none() {
            continue;
        }
        let Some(head) = take(fact!(end.axle, head), &mut lacking) else { continue };
        if !head.to_lowercase().contains("lever") {
            continue;
        }
        let Some(gap_mm) = take(fact!(end.axle, lever_to_rotor_mm), &mut lacking) else { continue };
        if compare::falls_short(gap_mm, LEAST_MM) {
            out.say(
                vec![end.axle.at("lever_to_rotor")],
                format!("The {} axle's lever can reach the brake.", end.side.word()),
                format!("It comes within {} of rotor or caliper, and {} are wanted.", mm(gap_mm), mm(LEAST_MM)),
                "Fit an axle that is turned by a key, or one whose lever comes off.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether an axle's lever can reach the brake");
}

/// Rotors bend, and levers have play.
const LEAST_MM: f64 = 3.0;

/// Axles turned by a key.
pub fn fits(_: &mut Build) {}

/// A front axle with a lever that comes within 1 mm.
pub fn does_not_fit(build: &mut Build) {
    let axle = build.parts.axle.make("front");
    axle.head = Some("flat with lever".into());
    axle.lever_to_rotor_mm = Some(1.0.into());
}

/// Nobody measured the gap at the front lever.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.axle.make("front").head = Some("flat with lever".into());
});
