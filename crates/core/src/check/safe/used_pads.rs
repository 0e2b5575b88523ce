//! Used pads and rotors stay together, or both are new.
//!
//! - Looks at: condition of each rotor and of the caliper with its pads.
//! - Why: pads that ran on another rotor, or lay in oil on a shelf, squeal and brake at half; new pads on a grooved
//!   rotor do the same.
//! - Source: common practice, no source: pads and rotor are bedded in together
//! - Fits: both are new.
//! - Does not fit: a used rotor under a new caliper.
//! - Not known: nobody said what the front rotor has been through.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::Severity;
use crate::model::Missing;
use crate::part::Condition;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: pads and rotor are bedded in together";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "it is work to be done and no wrong part");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["rotor", "caliper"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let used = |condition: Condition| condition != Condition::New;
    for end in &model.ends {
        let facts = all((fact!(end.rotor, condition), fact!(end.caliper, condition)));
        let Some((rotor, caliper)) = take(facts, &mut lacking) else { continue };
        if used(rotor) != used(caliper) {
            out.say(
                vec![end.rotor.at("condition"), end.caliper.at("condition")],
                format!("The {} rotor and its pads have not run together.", end.side.word()),
                format!("The rotor is «{}» and the caliper with its pads «{}».", rotor.name(), caliper.name()),
                "Clean the rotor with alcohol, fit new pads, and bed them in before hand-over.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether rotors and pads have run together");
}

/// Both are new.
pub fn fits(_: &mut Build) {}

/// A used rotor under a new caliper.
pub fn does_not_fit(build: &mut Build) {
    build.parts.rotor.make("front").condition = Some(Condition::UsedSound.into());
}

/// Nobody said what the front rotor has been through.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.rotor.make("front").condition = None);
