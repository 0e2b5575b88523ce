//! A spare hanger is at hand.
//!
//! - Looks at: whether a spare of the frame's hanger lies in the workshop or goes with the bike.
//! - Why: a hanger is made to bend in a fall; the same one is seldom in stock in the week of a race.
//! - Source: common practice, no source: one spare for each race bike
//! - Fits: A spare in the workshop.
//! - Does not fit: No spare.
//! - Not known: Nobody noted whether there is one.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::finding::Severity;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: one spare for each race bike";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "it costs little now and a race later");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let spare = fact!(case.model.frame, hanger_spare);
    if let Err(missing) = &spare {
        out.not_known_as(Severity::Note, missing, "whether there is a spare hanger");
    }
    if spare == Ok(false) {
        let code = fact!(case.model.frame, hanger).map_or_else(|_| String::new(), |hanger| format!(" «{hanger}»"));
        out.say(
            vec![case.model.frame.at("hanger_spare")],
            "There is no spare hanger.".into(),
            format!("The frame's hanger{code} bends in a fall, and none lies in the workshop."),
            format!("Order a second hanger{code} with the frame; let one travel with the bike."),
        );
    }
}

/// A spare in the workshop.
pub fn fits(_: &mut Build) {}

/// No spare.
pub fn does_not_fit(build: &mut Build) {
    build.parts.frame.make("").hanger_spare = Some(false.into());
}

/// Nobody noted whether there is one.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.frame.make("").hanger_spare = None;
});
