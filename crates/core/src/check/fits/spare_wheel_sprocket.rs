//! The chain also reaches round the cassette of the spare wheel.
//!
//! - Looks at: the largest sprocket on the rider's spare wheels, the one on this bike, and the largest that the rear
//!   derailleur allows.
//! - Why: a neutral or spare wheel with a larger sprocket goes in at the worst moment; a chain that was measured for
//!   the smaller one tears the hanger off.
//! - Source: common practice, no source: the chain is measured for the largest sprocket that will ever go in
//! - Fits: Spare wheels with the same largest sprocket.
//! - Does not fit: Spare wheels with 36 teeth where the derailleur allows 34.
//! - Not known: Nobody asked what is on the spare wheels.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::finding::Severity;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: the chain is measured for the largest sprocket that will ever go in";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let facts = all((
        fact!(model.cassette, spare_largest),
        fact!(model.cassette, sprockets),
        fact!(model.rear_derailleur, largest_sprocket_max),
    ));
    let (spare, sprockets, most) = match facts {
        Ok(facts) => facts,
        Err(missing) => {
            return out.not_known_as(
                Severity::Note,
                &missing,
                "whether the chain reaches round a spare wheel's cassette",
            );
        }
    };
    let Some(fitted) = sprockets.iter().max().copied() else { return };
    if spare <= fitted {
        return;
    }
    let too_large = spare > most;
    out.say_as(
        if too_large { Severity::Stop } else { Severity::Caution },
        vec![model.cassette.at("spare_largest"), model.rear_derailleur.at("largest_sprocket_max")],
        format!("A spare wheel has a larger sprocket: {spare} teeth."),
        format!("This bike has {fitted}, and the rear derailleur's maker allows {most}."),
        if too_large {
            "Put another cassette on the spare wheels, or another derailleur on the bike; label the wheels until then."
                .into()
        } else {
            format!("Measure the chain round {spare} teeth, and see that it is still taut on the smallest pair.")
        },
    );
}

/// Spare wheels with the same largest sprocket.
pub fn fits(_: &mut Build) {}

/// Spare wheels with 36 teeth where the derailleur allows 34.
pub fn does_not_fit(build: &mut Build) {
    build.parts.cassette.make("").spare_largest = Some(36.into());
}

/// Nobody asked what is on the spare wheels.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.cassette.make("").spare_largest = None;
});
