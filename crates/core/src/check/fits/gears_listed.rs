//! Rings and sprockets are listed in their order, each with teeth enough.
//!
//! - Looks at: the tooth counts of rings and sprockets, their order, and the number of sprockets against the stated
//!   speeds.
//! - Why: two figures typed in the wrong order or a missing sprocket turn every gear, and the chain's length, into
//!   another.
//! - Source: order as the document wants it; common practice, no source
//! - Fits: 12 sprockets from 11 to 30, smallest first.
//! - Does not fit: 42, where 24 was meant.
//! - Not known: the cassette's sprockets are not listed.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::field::Given;
use crate::finding::{About, Severity};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "order as the document wants it; common practice, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let worked = &case.worked.transmission;
    if worked.absent {
        return;
    }
    let cassette = crate::compute::drivetrain(case.model).cassette;
    let question = "which gears the bike has";
    for (known, path) in [(&worked.rings, "parts.crankset.rings"), (&worked.sprockets, "parts.cassette.sprockets")] {
        match known {
            Ok(_) => {}
            Err(missing) if missing.refusal.is_none() => out.not_known_as(Severity::Caution, missing, question),
            Err(missing) => out.say(
                vec![About::path(path)],
                "These gears cannot be.".into(),
                format!("{}.", crate::check::sentence(&missing.to_string())),
                "Count the teeth again and correct the list.".into(),
            ),
        }
    }
    let sprockets = fact!(cassette, sprockets).unwrap_or_default();
    if !sprockets.is_sorted_by(|a, b| a < b) {
        wrong_order(out, "parts.cassette.sprockets", "sprockets", "smallest first, each once");
    }
    if !fact!(case.model.crankset, rings).unwrap_or_default().is_sorted_by(|a, b| a > b) {
        wrong_order(out, "parts.crankset.rings", "rings", "largest first, each once");
    }
}

fn wrong_order(out: &mut Report, path: &str, what: &str, order: &str) {
    out.say_as(
        Severity::Caution,
        vec![About::path(path)],
        format!("The {what} are not listed in their order."),
        format!("They are to stand {order}; the gears here are worked out as if they did."),
        "Correct the list, and look whether a figure was mistyped.".into(),
    );
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// Two figures changed places.
pub fn does_not_fit(build: &mut Build) {
    let sprockets = vec![11, 12, 13, 14, 15, 16, 17, 19, 21, 42, 27, 30];
    let given = Given { value: sprockets, typed: String::new(), origin: None };
    build.parts.cassette.make("").sprockets = Some(given);
}

/// Nobody listed them.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.cassette.make("").sprockets = None);
