//! A worn chain does not meet a new cassette or new rings.
//!
//! - Looks at: the chain's elongation, and the condition of cassette and crankset.
//! - Why: a stretched chain bites hooks into new teeth within weeks, and the new cassette is scrap with the old chain.
//! - Source: common practice, no source: 0.5 % from 11 speeds on, 0.75 % below
//! - Fits: a new chain on a new cassette.
//! - Does not fit: a chain elongated by 0.7 % on a new cassette.
//! - Not known: nobody measured the chain.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::{Severity, figure};
use crate::model::Missing;
use crate::part::Condition;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: 0.5 % from 11 speeds on, 0.75 % below";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["chain", "cassette", "crankset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let elongation = take(fact!(model.chain, elongation_percent), &mut lacking);
    let speeds = take(fact!(model.chain, speeds), &mut lacking);
    let mut new = Vec::new();
    for (name, about, condition) in [
        ("the cassette", model.cassette.at("condition"), fact!(model.cassette, condition)),
        ("the crankset", model.crankset.at("condition"), fact!(model.crankset, condition)),
    ] {
        if take(condition, &mut lacking) == Some(Condition::New) {
            new.push((name.to_owned(), about));
        }
    }
    if let (Some(elongation), Some(speeds), false) = (elongation, speeds, new.is_empty()) {
        let limit = limit_percent(speeds);
        if elongation >= limit {
            let names: Vec<String> = new.iter().map(|(name, _)| name.clone()).collect();
            let mut about = vec![model.chain.at("elongation")];
            about.extend(new.iter().map(|(_, about)| about.clone()));
            let (is, them) = if names.len() == 1 { ("is", "it") } else { ("are", "them") };
            out.say(
                about,
                "A worn chain would run on new teeth.".into(),
                format!(
                    "The chain is longer by {} %, the limit is {} %, and {} {is} new.",
                    figure(elongation, 2),
                    figure(limit, 2),
                    and_list(&names)
                ),
                format!("Put a new chain on with {them}."),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the chain is too worn for new teeth");
}

/// How long a chain may have become, per cent.
fn limit_percent(speeds: u32) -> f64 {
    if speeds >= 11 { 0.5 } else { 0.75 }
}

/// A new chain on a new cassette.
pub fn fits(_: &mut Build) {}

/// A chain elongated by 0.7 % on a new cassette.
pub fn does_not_fit(build: &mut Build) {
    build.parts.chain.make("").elongation_percent = Some(0.7.into());
}

/// Nobody measured the chain.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.chain.make("").elongation_percent = None);
