//! The valves do not knock in deep rims.
//!
//! - Looks at: the way of each valve through its rim, and what holds it.
//! - Why: a valve that runs free through a deep rim knocks once a turn; the rider hears it all day and looks for it
//!   in the bearings.
//! - Source: common practice, no source: from 30 mm of rim on a collar, a turn of tape or a nut with a rubber ring
//! - Fits: Valves held in rims of 42 mm.
//! - Does not fit: A front valve that nothing holds.
//! - Not known: Nobody noted what holds the rear valve.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: from 30 mm of rim on a collar, a turn of tape or a nut with a rubber ring";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "it is heard and hurts nobody");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tube", "wheel"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    for end in &case.model.ends {
        if end.tube.part.is_none() {
            continue;
        }
        let way = fact!(end.wheel, valve_bed_mm).or_else(|bed| fact!(end.wheel, rim_depth_mm).map_err(|_| bed));
        let Some(way_mm) = take(way, &mut lacking) else { continue };
        if way_mm < DEEP_MM {
            continue;
        }
        if take(fact!(end.tube, valve_held), &mut lacking) == Some(false) {
            out.say(
                vec![end.tube.at("valve_held"), end.wheel.at("valve_bed")],
                format!("The {} valve will knock in its rim.", end.side.word()),
                format!("It runs free through {} of rim, and nothing holds it at the hole.", mm(way_mm)),
                "Put a collar or a turn of tape on the valve where it leaves the rim.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether the valves knock in their rims");
}

/// From this way through the rim on, a valve that is not held is heard.
const DEEP_MM: f64 = 30.0;

/// Valves held in rims of 42 mm.
pub fn fits(_: &mut Build) {}

/// A front valve that nothing holds.
pub fn does_not_fit(build: &mut Build) {
    build.parts.tube.make("front").valve_held = Some(false.into());
}

/// Nobody noted what holds the rear valve.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.tube.make("rear").valve_held = None;
});
