//! The saddle is neither too short nor too long.
//!
//! - Looks at: the length of the saddle.
//! - Why: short saddles have come down to the limit.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 255 mm.
//! - Does not fit: a saddle of 225 mm.
//! - Not known: nobody measured the saddle.

use crate::build::Build;
use crate::check::limit::{self, Limited, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::SADDLE_LENGTH;

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &SADDLE_LENGTH,
    question: "whether the saddle is long enough for the race",
    remedy: "Fit a saddle of a length that is allowed.",
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

/// A short saddle.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    build.parts.saddle.make("").length_mm = Some(225.0.into());
}

/// Nobody measured it.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.saddle.make("").length_mm = None;
});
