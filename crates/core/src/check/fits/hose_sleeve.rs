//! Hoses that run free inside a tube wear sleeves.
//!
//! - Looks at: how much of each hose runs free inside a tube, and how much foam sleeve is on it.
//! - Why: a bare hose knocks in a hollow tube on every rough road, and it is found when the fork is already in.
//! - Source: common practice, no source: sleeves over half of the free run, or more
//! - Fits: Sleeves over the run in the down tube.
//! - Does not fit: A bare rear hose.
//! - Not known: Nobody noted the sleeves on the rear hose.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: sleeves over half of the free run, or more";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "it is heard and hurts nobody");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["hose"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    for end in &case.model.ends {
        if end.hose.part.is_none() {
            continue;
        }
        let facts = all((fact!(end.hose, inside_mm), fact!(end.hose, sleeve_length_mm)));
        let Some((inside_mm, sleeve_mm)) = take(facts, &mut lacking) else { continue };
        let wanted_mm = inside_mm * SHARE;
        if compare::falls_short(sleeve_mm, wanted_mm) {
            out.say(
                vec![end.hose.at("sleeve_length"), end.hose.at("inside")],
                format!("The {} hose will knock in its tube.", end.side.word()),
                format!("{} of it run free, with {} of sleeve.", mm(inside_mm), mm(sleeve_mm)),
                format!("Cut {} of sleeve and push it on before the hose goes in.", mm(wanted_mm)),
            );
        }
    }
    out.not_known(&lacking, "whether the hoses knock inside the frame");
}

/// Of the free run, so much wears a sleeve.
const SHARE: f64 = 0.5;

/// Sleeves over the run in the down tube.
pub fn fits(_: &mut Build) {}

/// A bare rear hose.
pub fn does_not_fit(build: &mut Build) {
    build.parts.hose.make("rear").sleeve_length_mm = Some(0.0.into());
}

/// Nobody noted the sleeves on the rear hose.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.hose.make("rear").sleeve_length_mm = None;
});
