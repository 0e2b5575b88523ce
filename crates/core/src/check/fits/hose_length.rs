//! The hoses are long enough with the bar turned, and not much longer.
//!
//! - Looks at: the length of each hose, the string along its way, and how far it goes into lever and caliper.
//! - Why: a hose that is too short pulls the bar straight or comes out of its fitting after a change of stem; one
//!   that is too long buckles in the cockpit and turns the bar.
//! - Source: common practice, no source: 10 to 40 mm more than the string and both insertions, with the bar turned as
//!   far as it goes
//! - Fits: 20 mm to spare at both wheels.
//! - Does not fit: A front hose that is 15 mm too short.
//! - Not known: Nobody laid a string along the rear hose.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: 10 to 40 mm more than the string and both insertions, with the bar turned as far as it goes";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a hose costs an hour and a bleed");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["hose"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    for end in &case.model.ends {
        if end.hose.part.is_none() {
            continue;
        }
        let facts = all((fact!(end.hose, length_mm), fact!(end.hose, route_mm), fact!(end.hose, insertion_mm)));
        let Some((length_mm, route_mm, insertion_mm)) = take(facts, &mut lacking) else { continue };
        let spare_mm = length_mm - route_mm - 2.0 * insertion_mm;
        let short = compare::falls_short(spare_mm, SPARE_MM.0);
        if !short && !compare::exceeds(spare_mm, SPARE_MM.1) {
            continue;
        }
        let wanted_mm = route_mm + 2.0 * insertion_mm + f64::midpoint(SPARE_MM.0, SPARE_MM.1);
        let side = end.side.word();
        out.say(
            vec![end.hose.at("length"), end.hose.at("route")],
            format!("The {side} hose is too {}.", if short { "short" } else { "long" }),
            format!(
                "It is {} long; its way takes {}, and {} go into lever and caliper: {}.",
                mm(length_mm),
                mm(route_mm),
                mm(2.0 * insertion_mm),
                if spare_mm < 0.0 {
                    format!("{} are lacking", mm(-spare_mm))
                } else {
                    format!("{} to spare", mm(spare_mm))
                }
            ),
            if short {
                format!("Lay a new hose of {}; never stretch one by turning the lever.", mm(wanted_mm))
            } else {
                format!("Cut it to {} before it is bled.", mm(wanted_mm))
            },
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the hoses are long enough with the bar turned");
}

/// To spare beyond string and insertions, at least and at most.
const SPARE_MM: (f64, f64) = (10.0, 40.0);

/// 20 mm to spare at both wheels.
pub fn fits(_: &mut Build) {}

/// A front hose that is 15 mm too short.
pub fn does_not_fit(build: &mut Build) {
    build.parts.hose.make("front").length_mm = Some(865.0.into());
}

/// Nobody laid a string along the rear hose.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.hose.make("rear").route_mm = None;
});
