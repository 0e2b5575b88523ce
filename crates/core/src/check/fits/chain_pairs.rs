//! The links of the chain are even.
//!
//! - Looks at: the number of links chosen.
//! - Why: inner and outer plates take turns; an odd number closes only with a cranked link, which no road chain
//!   has.
//! - Source: ISO 9633 chains, how they are made; common practice, no source
//! - Fits: 110 links.
//! - Does not fit: 109 links, counted without the joining link.
//! - Not known: nothing; where no number is chosen the program takes an even one.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::finding::About;
use crate::number::{CHAIN_LINKS, Side};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "ISO 9633 chains, how they are made; common practice, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let Ok(links) = fact!(case.model.settings, chain_links) else { return };
    if links % 2 == 1 {
        out.say(
            vec![About::path("settings.chain_links"), About::number(&CHAIN_LINKS, Side::None)],
            "The chain would have an odd number of links.".into(),
            format!("{links} are planned; a joining link takes the place of an outer one and counts."),
            format!("Count again, or take {}.", links.saturating_add(1)),
        );
    }
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// Counted without the joining link.
pub fn does_not_fit(build: &mut Build) {
    build.settings.chain_links = Some(109.into());
}

/// No fact can be missing.
pub const NOT_KNOWN: Option<fn(&mut Build)> = None;
