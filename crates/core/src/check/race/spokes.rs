//! The wheels have enough spokes.
//!
//! - Looks at: the number of spokes of both wheels.
//! - Why: wheels with few, broad spokes cut.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 24 spokes.
//! - Does not fit: 10 spokes at the front.
//! - Not known: nobody counted the rear spokes.

use crate::build::Build;
use crate::check::limit::{self, Limited, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::SPOKES;

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &SPOKES,
    question: "whether the wheels have enough spokes for the race",
    remedy: "Use wheels with more spokes.",
    not_known: Severity::Caution,
};

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    limit::judge(case, out, &LIMITED);
}

/// The sample under the international body's rules.
pub fn fits(build: &mut Build) {
    starts(build);
}

/// Very few spokes.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    build.parts.wheel.make("front").spokes = Some(10.into());
}

/// Nobody counted.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.wheel.make("rear").spokes = None;
});
