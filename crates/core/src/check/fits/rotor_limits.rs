//! The rotors are of a size that frame and fork allow.
//!
//! - Looks at: diameter of each rotor, and the smallest and largest that fork and frame allow.
//! - Why: a larger rotor touches the stay or loads it beyond what it was tested for; a smaller one leaves the pads
//!   half in the air.
//! - Source: the rotor sizes that the makers of frame and fork allow
//! - Fits: 160 in a fork for 160, 140 in a frame for 140 to 160.
//! - Does not fit: a rear rotor of 180 mm.
//! - Not known: the frame's largest rotor is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{About, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the rotor sizes that the makers of frame and fork allow";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["rotor", "frame", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let [front, rear] = &model.ends;
    let (fork, frame) = (&model.fork, &model.frame);
    let mut lacking = Missing::default();
    for (end, limits, path, holder) in [
        (front, all((fact!(fork, rotor_min_mm), fact!(fork, rotor_max_mm))), fork.path, "fork"),
        (rear, all((fact!(frame, rotor_min_mm), fact!(frame, rotor_max_mm))), frame.path, "frame"),
    ] {
        let rotor = take(fact!(end.rotor, diameter_mm), &mut lacking);
        let (Some(rotor_mm), Some((least_mm, most_mm))) = (rotor, take(limits, &mut lacking)) else { continue };
        let large = compare::exceeds(rotor_mm, most_mm);
        if large || compare::falls_short(rotor_mm, least_mm) {
            let limit = if large { "rotor_max" } else { "rotor_min" };
            out.say(
                vec![end.rotor.at("diameter"), About::path(&format!("{path}.{limit}"))],
                format!("The {} rotor is of a size that the {holder} does not allow.", end.side.word()),
                format!(
                    "It measures {} and the {holder}'s maker allows {} to {}.",
                    mm(rotor_mm),
                    mm(least_mm),
                    mm(most_mm)
                ),
                format!("Choose a rotor of {} to {}.", mm(least_mm), mm(most_mm)),
            );
        }
    }
    out.not_known(&lacking, "whether the rotors are of a size that frame and fork allow");
}

/// 160 in a fork for 160, 140 in a frame for 140 to 160.
pub fn fits(_: &mut Build) {}

/// A rear rotor of 180 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.rotor.make("rear").diameter_mm = Some(180.0.into());
}

/// The frame's largest rotor is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").rotor_max_mm = None);
