//! The rear caliper's bolts suit the thickness of the stay.
//!
//! - Looks at: length of the rear caliper's bolts, thickness of the stay, washers, and depth of the thread.
//! - Why: a bolt for a thinner stay strips its few turns; one for a thicker stay bottoms, feels tight, and clamps
//!   nothing.
//! - Source: sum of the stack; common practice, no source: 7.5 mm of thread or more, and 0.5 mm of room below the tip
//! - Fits: Bolts of 34 mm in a stay of 25.
//! - Does not fit: Bolts of 38 mm in the same stay.
//! - Not known: Nobody measured the stay.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{Severity, figure, mm};

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "sum of the stack; common practice, no source: 7.5 mm of thread or more, and 0.5 mm of room below the tip";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "caliper"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let caliper = &model.ends[1].caliper;
    let facts = all((
        fact!(caliper, bolt_length_mm),
        fact!(model.frame, mount_thickness_mm),
        fact!(caliper, bolt_washers_mm),
        fact!(caliper, thread_depth_mm),
    ));
    let (bolt_mm, stay_mm, washers_mm, depth_mm) = match facts {
        Ok(facts) => facts,
        Err(missing) => {
            return out.not_known_as(Severity::Note, &missing, "whether the rear caliper's bolts suit the stay");
        }
    };
    let holds_mm = bolt_mm - stay_mm - washers_mm;
    let short = compare::falls_short(holds_mm, LEAST_MM);
    if short || compare::exceeds(holds_mm, depth_mm - TIP_ROOM_MM) {
        out.say(
            vec![caliper.at("bolt_length"), model.frame.at("mount_thickness")],
            format!("The rear caliper's bolts are too {} for the stay.", if short { "short" } else { "long" }),
            format!(
                "Of {} of bolt, {} go through stay and washers; {} reach into a thread of {}.",
                mm(bolt_mm),
                mm(stay_mm + washers_mm),
                mm(holds_mm.max(0.0)),
                mm(depth_mm)
            ),
            format!(
                "Order bolts of {} to {}.",
                figure(stay_mm + washers_mm + LEAST_MM, 1),
                mm(stay_mm + washers_mm + depth_mm - TIP_ROOM_MM)
            ),
        );
    }
}

/// One and a half diameters of an M5 bolt.
const LEAST_MM: f64 = 7.5;
/// Between the bolt's tip and the bottom of the hole.
const TIP_ROOM_MM: f64 = 0.5;

/// Bolts of 34 mm in a stay of 25.
pub fn fits(_: &mut Build) {}

/// Bolts of 38 mm in the same stay.
pub fn does_not_fit(build: &mut Build) {
    build.parts.caliper.make("rear").bolt_length_mm = Some(38.0.into());
}

/// Nobody measured the stay.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.frame.make("").mount_thickness_mm = None;
});
