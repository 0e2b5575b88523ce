//! Between the tyres and what they run through is a gap.
//!
//! - Looks at: the width of each tyre as measured, and the opening of fork and stays where the tyre is widest.
//! - Why: a wheel gives by a millimetre or two under a standing rider, and a stone goes in where the gap is as wide
//!   as it; a maker's largest width says nothing of a frame that came out narrower.
//! - Source: 16 CFR 1512.11(b), as reported: 1.6 mm at the least; common practice, no source: 4 mm a side
//! - Fits: 7.8 mm a side in fork and stays.
//! - Does not fit: A fork that is open by 30 mm.
//! - Not known: Nobody measured between the stays.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "16 CFR 1512.11(b), as reported: 1.6 mm at the least; common practice, no source: 4 mm a side";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for (end, opening, holder) in [
        (&model.ends[0], fact!(model.fork, tyre_opening_mm), "fork"),
        (&model.ends[1], fact!(model.frame, tyre_opening_mm), "frame"),
    ] {
        let Some((tyre_mm, opening_mm)) = take(all((fact!(end.tyre, width_measured_mm), opening)), &mut lacking) else {
            continue;
        };
        let gap_mm = (opening_mm - tyre_mm) / 2.0;
        if !compare::falls_short(gap_mm, WANTED_MM) {
            continue;
        }
        let touches = compare::falls_short(gap_mm, LEAST_MM);
        out.say_as(
            if touches { Severity::Stop } else { Severity::Caution },
            vec![About::path(&format!("parts.{holder}.tyre_opening")), end.tyre.at("width_measured")],
            format!("The {} tyre runs close to the {holder}.", end.side.word()),
            format!(
                "The {holder} is open by {} and the tyre measures {}: {} a side, where {} are wanted and {} are the least.",
                mm(opening_mm),
                mm(tyre_mm),
                mm(gap_mm),
                mm(WANTED_MM),
                mm(LEAST_MM)
            ),
            "Fit a narrower tyre, and look that the wheel stands in the middle.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "how much gap the tyres have");
}

/// The least, by the rule.
const LEAST_MM: f64 = 1.6;
/// What is wanted on a race bike.
const WANTED_MM: f64 = 4.0;

/// 7.8 mm a side in fork and stays.
pub fn fits(_: &mut Build) {}

/// A fork that is open by 30 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.fork.make("").tyre_opening_mm = Some(30.0.into());
}

/// Nobody measured between the stays.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.frame.make("").tyre_opening_mm = None;
});
