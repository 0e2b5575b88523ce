//! There is one crown race, and only one.
//!
//! - Looks at: whether the fork's crown is itself the race, and whether a race comes with the headset.
//! - Why: two races on one another lift the fork by the height of one and never seat; with none the bearing turns on
//!   bare carbon.
//! - Source: common practice, no source: a moulded crown takes no race, every other crown takes one
//! - Fits: A plain crown and a race with the headset.
//! - Does not fit: A moulded crown and a race besides.
//! - Not known: Nobody said whether the crown is moulded.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::finding::Severity;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: a moulded crown takes no race, every other crown takes one";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["fork", "headset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let (fork, headset) = (&case.model.fork, &case.model.headset);
    let facts = all((fact!(fork, crown_race_moulded), fact!(headset, crown_race_supplied)));
    let (moulded, supplied) = match facts {
        Ok(facts) => facts,
        Err(missing) => return out.not_known_as(Severity::Note, &missing, "whether there is one crown race"),
    };
    if moulded == supplied {
        let (what, why, action) = if moulded {
            (
                "The fork gets two crown races.",
                "The crown is shaped as a race, and another comes with the headset.",
                "Leave the headset's race in its box, and set the bearing on the crown.",
            )
        } else {
            (
                "The fork gets no crown race.",
                "The crown is plain, and none comes with the headset.",
                "Order a race for this crown and this bearing.",
            )
        };
        out.say(
            vec![fork.at("crown_race_moulded"), headset.at("crown_race_supplied")],
            what.into(),
            why.into(),
            action.into(),
        );
    }
}

/// A plain crown and a race with the headset.
pub fn fits(_: &mut Build) {}

/// A moulded crown and a race besides.
pub fn does_not_fit(build: &mut Build) {
    build.parts.fork.make("").crown_race_moulded = Some(true.into());
}

/// Nobody said whether the crown is moulded.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.fork.make("").crown_race_moulded = None;
});
