//! The valve stands far enough out of the rim.
//!
//! - Looks at: length of each valve with its extender, and the way through the rim.
//! - Why: with less than 15 mm outside no pump takes hold; it is found out on the morning of the race.
//! - Source: common practice, no source: the way through the rim and 15 mm more
//! - Fits: 62 mm through 42.
//! - Does not fit: a valve of 48 mm.
//! - Not known: nobody measured the way through the front rim.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: the way through the rim and 15 mm more";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "an extender costs little, when it is thought of in time");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tube", "wheel"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        if end.tube.part.is_none() {
            continue;
        }
        // The way from bed to nut; where only the rim's depth is told, that is a little more than the way.
        let bed = fact!(end.wheel, valve_bed_mm).or_else(|missing| fact!(end.wheel, rim_depth_mm).map_err(|_| missing));
        let facts = all((fact!(end.tube, valve_length_mm), bed));
        let Some((valve_mm, bed_mm)) = take(facts, &mut lacking) else { continue };
        let extender_mm = fact!(end.tube, extender_mm).unwrap_or(0.0);
        let outside_mm = valve_mm + extender_mm - bed_mm;
        if compare::falls_short(outside_mm, LEAST_OUTSIDE_MM) {
            let shown =
                if outside_mm > 0.0 { format!("{} stand out", mm(outside_mm)) } else { "nothing stands out".into() };
            let wanted_mm = bed_mm + LEAST_OUTSIDE_MM;
            out.say(
                vec![end.tube.at("valve_length"), end.wheel.at("valve_bed")],
                format!("The {} valve is too short for its rim.", end.side.word()),
                format!(
                    "It is {} long and the way through the rim takes {}; {shown}.",
                    mm(valve_mm + extender_mm),
                    mm(bed_mm)
                ),
                format!("Fit a valve of {} or more, or an extender.", mm(wanted_mm)),
            );
        }
    }
    out.not_known(&lacking, "whether the valves stand far enough out of the rims");
}

/// What a pump head needs.
const LEAST_OUTSIDE_MM: f64 = 15.0;

/// 62 mm through 42.
pub fn fits(_: &mut Build) {}

/// A valve of 48 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.tube.make("front").valve_length_mm = Some(48.0.into());
}

/// Nobody measured the way through the front rim.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    let wheel = build.parts.wheel.make("front");
    (wheel.valve_bed_mm, wheel.rim_depth_mm) = (None, None);
});
