//! The pads may run on these rotors.
//!
//! - Looks at: what the pads are made of, and whether the rotor's maker allows resin pads only.
//! - Why: sintered pads grind a soft rotor thin within weeks, and heat it until it warps.
//! - Source: the rotor maker's word on pads
//! - Fits: resin pads.
//! - Does not fit: sintered pads on a rotor for resin only.
//! - Not known: nobody looked what the front pads are made of.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the rotor maker's word on pads";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "it wears; it does not fail at once");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["rotor", "caliper"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        let facts = all((fact!(end.rotor, resin_pads_only), fact!(end.caliper, pad_compound)));
        let Some((resin_only, pads)) = take(facts, &mut lacking) else { continue };
        if resin_only && !pads.to_lowercase().contains("resin") {
            out.say(
                vec![end.caliper.at("pad_compound"), end.rotor.at("resin_pads_only")],
                format!("The {} pads may not run on this rotor.", end.side.word()),
                format!("The pads are «{pads}» and the rotor's maker allows resin pads only."),
                "Fit resin pads, or a rotor that allows these.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the pads may run on the rotors");
}

/// Resin pads.
pub fn fits(_: &mut Build) {}

/// Sintered pads on a rotor for resin only.
pub fn does_not_fit(build: &mut Build) {
    build.parts.rotor.make("front").resin_pads_only = Some(true.into());
    build.parts.caliper.make("front").pad_compound = Some("sintered metal".into());
}

/// Nobody looked what the front pads are made of.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.caliper.make("front").pad_compound = None);
