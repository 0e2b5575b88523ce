//! The heel passes the stay.
//!
//! - Looks at: the inner side of the heel, with the foot turned as far as the cleat lets it, and the outermost of
//!   stay and frame end.
//! - Why: a heel that touches wears paint and carbon through, and a rider who feels it turns the knee out.
//! - Source: sum across the bike; common practice, no source: 4 mm or more
//! - Fits: 8 mm between heel and stay.
//! - Does not fit: A frame whose stay stands out by 80 mm.
//! - Not known: Nobody measured the stay at the heel.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{Severity, mm};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "sum across the bike; common practice, no source: 4 mm or more";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let facts = all((
        fact!(model.crankset, stance_mm),
        fact!(model.pedal, foot_from_crank_mm),
        fact!(model.pedal, heel_inside_mm),
        fact!(model.frame, heel_stay_mm),
    ));
    let (stance_mm, foot_mm, heel_mm, stay_mm) = match facts {
        Ok(facts) => facts,
        Err(missing) => return out.not_known_as(Severity::Note, &missing, "whether the heel passes the stay"),
    };
    let room_mm = stance_mm / 2.0 + foot_mm - heel_mm - stay_mm;
    if compare::falls_short(room_mm, LEAST_MM) {
        let what = if room_mm > 0.0 { "comes too near the stay" } else { "touches the stay" };
        out.say(
            vec![model.frame.at("heel_stay"), model.pedal.at("heel_inside")],
            format!("The heel {what}."),
            format!(
                "The heel turns in to {} from the bike's plane and the stay stands at {}; {} are wanted between them.",
                mm(room_mm + stay_mm),
                mm(stay_mm),
                mm(LEAST_MM)
            ),
            "Set the cleat or the pedal further out, limit the float, or put film on the stay and tell the rider."
                .into(),
        );
    }
}

/// Shoes give, and stays are wider where the mount is.
const LEAST_MM: f64 = 4.0;

/// 8 mm between heel and stay.
pub fn fits(_: &mut Build) {}

/// A frame whose stay stands out by 80 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.frame.make("").heel_stay_mm = Some(80.0.into());
}

/// Nobody measured the stay at the heel.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.frame.make("").heel_stay_mm = None;
});
