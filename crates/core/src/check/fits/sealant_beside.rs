//! The sealant suits what it meets.
//!
//! - Looks at: sealant in latex tubes, and sealant with tyres that are inflated with CO2, against what the sealant's
//!   maker allows.
//! - Why: some sealants eat latex, and many clot when cold CO2 goes in: the tyre that was saved by the side of the
//!   road is flat at the next corner.
//! - Source: the sealant maker's word
//! - Fits: A sealant whose maker allows CO2.
//! - Does not fit: The rider carries CO2, and the maker allows latex tubes only.
//! - Not known: Nobody asked whether the rider carries CO2.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;
use crate::part::AirSeal;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the sealant maker's word";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "another sealant costs little");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    for end in &case.model.ends {
        if end.tube.part.is_none() {
            continue;
        }
        let Some(kind) = take(fact!(end.tube, kind), &mut lacking) else { continue };
        let holds_sealant = kind == AirSeal::Sealant || fact!(end.tube, sealant_ml).is_ok_and(|ml| ml > 0.0);
        if !holds_sealant {
            continue;
        }
        let mut meets = Vec::new();
        if kind == AirSeal::Latex {
            meets.push("latex");
        }
        if take(fact!(end.tube, co2), &mut lacking) == Some(true) {
            meets.push("CO2");
        }
        if meets.is_empty() {
            continue;
        }
        let Some(allows) = take(fact!(end.tube, sealant_allows), &mut lacking) else { continue };
        meets.retain(|thing| !allows.to_lowercase().contains(&thing.to_lowercase()));
        if let Some(thing) = meets.first() {
            out.say(
                vec![end.tube.at("sealant_allows")],
                format!("The {} sealant does not go with {thing}.", end.side.word()),
                format!("It meets {thing}, and its maker allows it beside: {allows}."),
                format!("Choose a sealant whose maker names {thing}, or do without one of the two."),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the sealant suits what it meets");
}

/// A sealant whose maker allows CO2.
pub fn fits(_: &mut Build) {}

/// The rider carries CO2, and the maker allows latex tubes only.
pub fn does_not_fit(build: &mut Build) {
    let tube = build.parts.tube.make("front");
    tube.co2 = Some(true.into());
    tube.sealant_allows = Some("latex tubes".into());
}

/// Nobody asked whether the rider carries CO2.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.tube.make("rear").co2 = None;
});
