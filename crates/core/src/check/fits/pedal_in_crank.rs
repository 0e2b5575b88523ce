//! The pedals screw into these cranks.
//!
//! - Looks at: thread of the pedal axles and of the cranks' eyes.
//! - Why: a pedal forced into another thread ruins the crank, and with it the power meter in it.
//! - Source: common practice, no source: 9/16 in x 20 on adult bikes, right-handed at the right, left-handed at the
//!   left
//! - Fits: both are 9/16 in x 20.
//! - Does not fit: cranks for 1/2 in pedals.
//! - Not known: the pedals' thread is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::Severity;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: 9/16 in x 20 on adult bikes, right-handed at the right, left-handed at the left";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["pedal", "crankset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let facts = all((fact!(model.pedal, thread), fact!(model.crankset, pedal_thread)));
    let (pedal, crank) = match facts {
        Ok(facts) => facts,
        Err(missing) => {
            out.not_known_as(Severity::Note, &missing, "whether the pedals screw into the cranks");
            return;
        }
    };
    // Behind a comma people say which hand each side is.
    let thread = |text: &str| text.split(", ").next().unwrap_or_default().to_owned();
    if !compare::same_name(&thread(&pedal), &thread(&crank)) {
        out.say(
            vec![model.pedal.at("thread"), model.crankset.at("pedal_thread")],
            "The pedals do not screw into the cranks.".into(),
            format!("The pedals have «{pedal}» and the cranks «{crank}»."),
            "Find pedals or cranks of one thread; turn each in by hand first, right side right-handed, left side left-handed.".into(),
        );
    }
}

/// Both are 9/16 in x 20.
pub fn fits(_: &mut Build) {}

/// Cranks for 1/2 in pedals.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").pedal_thread = Some("1/2 in x 20".into());
}

/// The pedals' thread is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.pedal.make("").thread = None);
