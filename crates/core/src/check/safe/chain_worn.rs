//! The chain is not stretched beyond its limit.
//!
//! - Looks at: the chain's elongation and its number of speeds.
//! - Why: a stretched chain wears every sprocket it runs on, skips under load and breaks sooner.
//! - Source: common practice, no source: 0.5 % from 11 speeds on, 0.75 % below, by a gauge that does not count roller
//!   play
//! - Fits: a new chain.
//! - Does not fit: an elongation of 0.6 %.
//! - Not known: nobody measured the chain.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::finding::{Severity, figure};

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: 0.5 % from 11 speeds on, 0.75 % below, by a gauge that does not count roller play";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "it rides on; it costs the teeth under it");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["chain"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let facts = all((fact!(model.chain, elongation_percent), fact!(model.chain, speeds)));
    let (elongation, speeds) = match facts {
        Ok(facts) => facts,
        Err(missing) => {
            out.not_known_as(Severity::Note, &missing, "whether the chain is stretched beyond its limit");
            return;
        }
    };
    let limit = if speeds >= 11 { 0.5 } else { 0.75 };
    if elongation >= limit {
        out.say(
            vec![model.chain.at("elongation"), model.chain.at("speeds")],
            "The chain is worn out.".into(),
            format!(
                "It is longer than new by {} %; with {speeds} speeds {} % are the limit.",
                figure(elongation, 2),
                figure(limit, 2)
            ),
            "Put on a new chain, of the old one's length in links if that was right.".into(),
        );
    }
}

/// A new chain.
pub fn fits(_: &mut Build) {}

/// An elongation of 0.6 %.
pub fn does_not_fit(build: &mut Build) {
    build.parts.chain.make("").elongation_percent = Some(0.6.into());
}

/// Nobody measured the chain.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.chain.make("").elongation_percent = None);
