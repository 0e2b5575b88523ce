//! Whoever rides latex knows to inflate in the morning.
//!
//! - Looks at: the kind of each tube.
//! - Why: latex loses half a bar to one and a half in a night; who does not know rides to the start on a soft tyre.
//! - Source: common practice, no source: 0.5 to 1.5 bar a day
//! - Fits: sealant and no tube.
//! - Does not fit: a latex tube in front.
//! - Not known: nobody said what kind the rear tube is.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;
use crate::part::AirSeal;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: 0.5 to 1.5 bar a day";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "it is a property and no fault");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tube"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let mut about = Vec::new();
    let mut sides = Vec::new();
    for end in &model.ends {
        if end.tube.part.is_some() && take(fact!(end.tube, kind), &mut lacking) == Some(AirSeal::Latex) {
            about.push(end.tube.at("kind"));
            sides.push(end.side.word().to_owned());
        }
    }
    if !sides.is_empty() {
        let (tube, loses) = if sides.len() == 1 { ("tube", "loses") } else { ("tubes", "lose") };
        out.say(
            about,
            "The tyres want inflating on the morning of each ride.".into(),
            format!("The {} {tube} of latex {loses} 0.5 to 1.5 bar in a night.", and_list(&sides)),
            "Say so at hand-over, and give a spare tube that is not of latex: gas from a cartridge leaves latex at once.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether a tube is of latex");
}

/// Sealant and no tube.
pub fn fits(_: &mut Build) {}

/// A latex tube in front.
pub fn does_not_fit(build: &mut Build) {
    build.parts.tube.make("front").kind = Some(AirSeal::Latex.into());
}

/// Nobody said what kind the rear tube is.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.tube.make("rear").kind = None);
