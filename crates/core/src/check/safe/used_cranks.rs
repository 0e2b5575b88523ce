//! No crank or pedal comes from a crash unseen.
//!
//! - Looks at: condition of crankset and pedals.
//! - Why: a crank arm or pedal axle that took a fall breaks under a standing rider, who falls into the road.
//! - Source: common practice, no source: after a crash, inspected by a specialist or replaced
//! - Fits: a new crankset.
//! - Does not fit: cranks that were in a crash.
//! - Not known: nobody said what the cranks have been through.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::{About, Severity};
use crate::model::Missing;
use crate::part::Condition;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: after a crash, inspected by a specialist or replaced";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["crankset", "pedal"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let pedals = if model.pedal.part.is_some() { fact!(model.pedal, condition).ok() } else { None };
    for (name, path, condition) in [
        ("cranks", model.crankset.path, take(fact!(model.crankset, condition), &mut lacking)),
        ("pedals", model.pedal.path, pedals),
    ] {
        let severity = match condition {
            Some(Condition::Crashed) => Severity::Stop,
            Some(Condition::UsedUnknown) => Severity::Caution,
            _ => continue,
        };
        out.say_as(
            severity,
            vec![About::Part(path.to_owned())],
            format!("The {name} may have been damaged in a fall."),
            format!("Their condition is «{}».", condition.map_or("", |condition| condition.name())),
            "Look for cracks at pedal eye, spider and axle under a bright light; after a crash replace them.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the cranks are sound");
}

/// A new crankset.
pub fn fits(_: &mut Build) {}

/// Cranks that were in a crash.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").condition = Some(Condition::Crashed.into());
}

/// Nobody said what the cranks have been through.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.crankset.make("").condition = None);
