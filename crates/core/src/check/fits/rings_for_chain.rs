//! The rings are made for this chain.
//!
//! - Looks at: the speeds of the chain, and the speeds of the chain for which the rings are made.
//! - Why: a narrow chain rides up on thick teeth, and a wide one rubs the outer ring from the inner.
//! - Source: the maker of the rings names the chain
//! - Fits: Rings and chain for 12.
//! - Does not fit: Rings for 10 under a chain for 12.
//! - Not known: The rings' speeds are not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::finding::Severity;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the maker of the rings names the chain";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "makers allow one step either way, and say so");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["crankset", "chain"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    match all((fact!(model.crankset, chain_speeds), fact!(model.chain, speeds))) {
        Err(missing) => out.not_known_as(Severity::Note, &missing, "whether the rings are made for this chain"),
        Ok((rings, chain)) if rings != chain => out.say(
            vec![model.crankset.at("chain_speeds"), model.chain.at("speeds")],
            "The rings are made for another chain.".into(),
            format!("They are for a chain of {rings} speeds, and this one is for {chain}."),
            "Ask the rings' maker for this pair in writing, or choose rings for the chain.".into(),
        ),
        Ok(_) => {}
    }
}

/// Rings and chain for 12.
pub fn fits(_: &mut Build) {}

/// Rings for 10 under a chain for 12.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").chain_speeds = Some(10.into());
}

/// The rings' speeds are not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.crankset.make("").chain_speeds = None;
});
