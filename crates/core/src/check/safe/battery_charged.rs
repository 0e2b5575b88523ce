//! The battery is charged at hand-over.
//!
//! - Looks at: how far the build has come, and the battery's charge as read.
//! - Why: at low charge the front derailleur stops first, with the chain on the small ring, on the customer's first
//!   ride.
//! - Source: common practice, no source: charge again below 25 %; hand over full
//! - Fits: it reads 95 %.
//! - Does not fit: 20 % on a finished bike.
//! - Not known: nobody read the charge.

use crate::build::{Build, Stage};
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::finding::{Severity, figure};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: charge again below 25 %; hand over full";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "it is charged overnight");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let finished = model.build.job.stage.as_ref().is_some_and(|stage| stage.value == Stage::Finished);
    if !finished || model.battery.part.is_none() {
        return;
    }
    match fact!(model.battery, charge_percent) {
        Ok(charge) if charge < LEAST_PERCENT => out.say(
            vec![model.battery.at("charge")],
            "The battery wants charging before hand-over.".into(),
            format!("It reads {} % and should be at {} % or more.", figure(charge, 0), figure(LEAST_PERCENT, 0)),
            "Charge it full, read it again and note the day.".into(),
        ),
        Ok(_) => {}
        Err(missing) => out.not_known_as(Severity::Note, &missing, "whether the battery is charged"),
    }
}

/// Below this the front derailleur is the first to stop.
const LEAST_PERCENT: f64 = 25.0;

/// It reads 95 %.
pub fn fits(_: &mut Build) {}

/// 20 % on a finished bike.
pub fn does_not_fit(build: &mut Build) {
    build.parts.battery.make("").charge_percent = Some(20.0.into());
}

/// Nobody read the charge.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.battery.make("").charge_percent = None);
