//! Levers, derailleurs, cassette and chain are for the same number of speeds.
//!
//! - Looks at: the speeds of right lever, rear and front derailleur, cassette, and chain.
//! - Why: a lever that moves a step too far or a chain that is a tenth too wide never shifts cleanly, however long it
//!   is adjusted.
//! - Source: common practice, no source: one number of speeds throughout, unless a part's maker names another
//! - Fits: 12 throughout.
//! - Does not fit: a chain for 11 speeds.
//! - Not known: the chain's speeds are not told.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::About;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: one number of speeds throughout, unless a part's maker names another";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["lever", "rear_derailleur", "front_derailleur", "cassette", "chain"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let mut told = vec![
        ("the right lever", model.lever_right.at("speeds"), fact!(model.lever_right, speeds)),
        ("the rear derailleur", model.rear_derailleur.at("speeds"), fact!(model.rear_derailleur, speeds)),
        ("the cassette", model.cassette.at("speeds"), fact!(model.cassette, speeds)),
        ("the chain", model.chain.at("speeds"), fact!(model.chain, speeds)),
    ];
    if model.front_derailleur.part.is_some() {
        told.push(("the front derailleur", model.front_derailleur.at("speeds"), fact!(model.front_derailleur, speeds)));
    }
    // A cassette may name another chain than its own number of sprockets; then the chain is held against that.
    let chain_wanted = fact!(model.cassette, chain_speeds).ok();
    let known: Vec<(&str, About, u32)> = told
        .into_iter()
        .filter_map(|(name, about, speeds)| take(speeds, &mut lacking).map(|speeds| (name, about, speeds)))
        .map(|(name, about, speeds)| {
            let stands_for =
                fact!(model.cassette, speeds).ok().filter(|_| name == "the chain" && chain_wanted == Some(speeds));
            (name, about, stands_for.unwrap_or(speeds))
        })
        .collect();
    if known.iter().any(|(.., speeds)| *speeds != known[0].2) {
        let each: Vec<String> = known.iter().map(|(name, _, speeds)| format!("{name} {speeds}")).collect();
        out.say(
            known.iter().map(|(_, about, _)| about.clone()).collect(),
            "The parts of the transmission are for different numbers of speeds.".into(),
            format!("Speeds: {}.", and_list(&each)),
            "Settle the number of speeds and change the part that stands alone, unless its maker names the mix.".into(),
        );
    }
    out.not_known(&lacking, "whether all parts of the transmission are for the same number of speeds");
}

/// 12 throughout.
pub fn fits(_: &mut Build) {}

/// A chain for 11 speeds.
pub fn does_not_fit(build: &mut Build) {
    build.parts.chain.make("").speeds = Some(11.into());
}

/// The chain's speeds are not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.chain.make("").speeds = None);
