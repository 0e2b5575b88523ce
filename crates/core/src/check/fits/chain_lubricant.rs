//! Wax and oil do not meet on one drivetrain.
//!
//! - Looks at: the chain's lubricant, and what is left on a cassette or rings that were ridden before.
//! - Why: wax does not hold on a trace of oil, and flakes into a paste that wears; the customer pays for waxing and
//!   gets none of it.
//! - Source: common practice, no source: wax goes onto bare metal, on every part that the chain touches
//! - Fits: a waxed chain on a new cassette and new rings.
//! - Does not fit: a waxed chain on an oiled cassette.
//! - Not known: a used cassette, and nobody said what is on it.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::Severity;
use crate::model::Missing;
use crate::part::{Condition, Lubricant};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: wax goes onto bare metal, on every part that the chain touches";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "cleaning puts it right");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["chain", "cassette", "crankset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let Some(chain) = take(fact!(model.chain, lubricant), &mut lacking) else {
        out.not_known_as(Severity::Note, &lacking, QUESTION);
        return;
    };
    for (name, what, about, condition, on_it) in [
        (
            "cassette",
            "is",
            model.cassette.at("lubricant"),
            fact!(model.cassette, condition),
            fact!(model.cassette, lubricant),
        ),
        (
            "rings",
            "are",
            model.crankset.at("lubricant"),
            fact!(model.crankset, condition),
            fact!(model.crankset, lubricant),
        ),
    ] {
        // What is new is bare.
        if take(condition, &mut lacking).is_none_or(|condition| condition == Condition::New) {
            continue;
        }
        let Some(on_it) = take(on_it, &mut lacking) else { continue };
        if is_wax(chain) != is_wax(on_it) {
            out.say(
                vec![model.chain.at("lubricant"), about],
                format!("Chain and {name} carry lubricants that do not mix."),
                format!("The chain has «{}» and the {name} {what} lubricated with «{}».", chain.name(), on_it.name()),
                format!(
                    "Clean the {name} down to bare metal, with a fresh solvent at the end, before the chain goes on."
                ),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, QUESTION);
}

/// What cannot be judged when a fact is missing.
const QUESTION: &str = "whether wax and oil meet on the drivetrain";

fn is_wax(lubricant: Lubricant) -> bool {
    matches!(lubricant, Lubricant::Wax | Lubricant::DripWax)
}

/// A waxed chain on a new cassette and new rings.
pub fn fits(_: &mut Build) {}

/// A waxed chain on an oiled cassette.
pub fn does_not_fit(build: &mut Build) {
    let cassette = build.parts.cassette.make("");
    cassette.condition = Some(Condition::UsedSound.into());
    cassette.lubricant = Some(Lubricant::Oil.into());
}

/// A used cassette, and nobody said what is on it.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.parts.cassette.make("").condition = Some(Condition::UsedSound.into()));
