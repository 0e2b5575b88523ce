//! No wheel comes from a crash, or from nobody knows where.
//!
//! - Looks at: material and condition of each wheel.
//! - Why: a carbon rim that was in a fall breaks at its spoke holes on a descent; a metal one was bent once and cracks
//!   there.
//! - Source: common practice, no source: after a crash, inspected by a specialist or replaced
//! - Fits: new wheels.
//! - Does not fit: a carbon wheel that was in a crash.
//! - Not known: nobody said what the front wheel has been through.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::{About, Severity};
use crate::model::Missing;
use crate::part::{Condition, Material};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: after a crash, inspected by a specialist or replaced";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["wheel"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        let Some(condition) = take(fact!(end.wheel, condition), &mut lacking) else { continue };
        let carbon = match condition {
            Condition::UsedUnknown => match take(fact!(end.wheel, material), &mut lacking) {
                Some(material) => material == Material::Carbon,
                None => continue,
            },
            Condition::Crashed => true,
            _ => continue,
        };
        let severity = if carbon { Severity::Stop } else { Severity::Caution };
        out.say_as(
            severity,
            vec![About::Part(end.wheel.path.to_owned())],
            format!("The {} wheel may not carry a rider as it is.", end.side.word()),
            format!("Its condition is «{}».", condition.name()),
            "Replace it, or have rim, spoke holes and hub inspected and passed in writing.".into(),
        );
    }
    out.not_known(&lacking, "whether the wheels are sound");
}

/// New wheels.
pub fn fits(_: &mut Build) {}

/// A carbon wheel that was in a crash.
pub fn does_not_fit(build: &mut Build) {
    build.parts.wheel.make("front").condition = Some(Condition::Crashed.into());
}

/// Nobody said what the front wheel has been through.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("front").condition = None);
