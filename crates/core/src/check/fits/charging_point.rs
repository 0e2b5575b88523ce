//! The battery can be charged without taking the bike apart.
//!
//! - Looks at: a unit on the wires through which it is charged, and whether the junctions work with a battery
//!   inside the frame.
//! - Why: without a charging point the post or the head tube is opened for every charge.
//! - Source: the makers' word on charging; common practice, no source
//! - Fits: the stem's junction has a charging point.
//! - Does not fit: a junction without one was put in its place.
//! - Not known: nobody said whether a junction has one.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::finding::{About, Severity};
use crate::model::Missing;
use crate::part::Station;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the makers' word on charging; common practice, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "some batteries are charged where they clip on");
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let wiring = &case.worked.wiring;
    let Some(battery) = wiring.battery().map(|at| &wiring.units[at]) else { return };
    let hidden = matches!(battery.station, Some(Station::SeatTube | Station::DownTube | Station::Shell));
    if wiring.wires.is_empty() || !hidden {
        return;
    }
    let mut lacking = Missing::default();
    for (place, junction) in &case.model.build.parts.junction.0 {
        let path = format!("parts.junction.{place}");
        match &junction.charging {
            Some(charging) if charging.value => {
                if junction.inside_battery.as_ref().is_some_and(|inside| !inside.value) {
                    out.say(
                        vec![About::path(&path), About::path("parts.battery")],
                        format!("The junction “{place}” does not work with a battery inside the frame."),
                        "Its maker made it for a battery outside, and this one sits inside.".into(),
                        "Fit the junction that belongs to the battery.".into(),
                    );
                }
                return;
            }
            Some(_) => {}
            None => lacking = lacking.and(&Missing::fact(format!("{path}.charging"))),
        }
    }
    if lacking != Missing::default() {
        out.not_known(&lacking, "how the battery is charged");
        return;
    }
    out.say(
        vec![About::path("parts.battery")],
        "No unit on the wires has a charging point.".into(),
        "The battery sits inside the frame, and no junction says that it is charged through it.".into(),
        "Fit a junction with a charging point, or a battery that has its own.".into(),
    );
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// A junction without one.
pub fn does_not_fit(build: &mut Build) {
    build.parts.junction.make("stem").charging = Some(false.into());
}

/// Nobody said.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.junction.make("stem").charging = None);
