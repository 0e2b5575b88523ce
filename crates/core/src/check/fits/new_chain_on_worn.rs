//! A new chain does not meet worn teeth.
//!
//! - Looks at: the condition of the chain, and of cassette and crankset.
//! - Why: on hooked teeth a new chain skips under load, at the first hard start, and the rider goes over the bar.
//! - Source: common practice, no source: a cassette outlasts two or three chains, rings three to five
//! - Fits: chain, cassette and rings are new.
//! - Does not fit: a new chain on a worn cassette.
//! - Not known: nobody said what the cassette has been through.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::Severity;
use crate::model::Missing;
use crate::part::Condition;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: a cassette outlasts two or three chains, rings three to five";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "whether it skips is found out on the road");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["chain", "cassette", "crankset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let chain = take(fact!(model.chain, condition), &mut lacking);
    for (name, about, condition) in [
        ("cassette", model.cassette.at("condition"), fact!(model.cassette, condition)),
        ("crankset", model.crankset.at("condition"), fact!(model.crankset, condition)),
    ] {
        let worn = take(condition, &mut lacking) == Some(Condition::UsedWorn);
        if worn && chain == Some(Condition::New) {
            out.say(
                vec![model.chain.at("condition"), about],
                format!("A new chain would run on a worn {name}."),
                format!("The chain is new and the {name} is «{}».", Condition::UsedWorn.name()),
                format!("Ride it hard up a hill before hand-over; where it skips, the {name} is to be replaced."),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether a new chain meets worn teeth");
}

/// Chain, cassette and rings are new.
pub fn fits(_: &mut Build) {}

/// A new chain on a worn cassette.
pub fn does_not_fit(build: &mut Build) {
    build.parts.cassette.make("").condition = Some(Condition::UsedWorn.into());
}

/// Nobody said what the cassette has been through.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.cassette.make("").condition = None);
