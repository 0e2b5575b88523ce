//! The wheels are neither too small nor too large.
//!
//! - Looks at: the diameter over the tyres, front and rear.
//! - Why: a very wide tyre on a wheel of 622 mm reaches the limit at 39 mm of height.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 676 mm.
//! - Does not fit: a tyre of 352 mm radius: 704 mm.
//! - Not known: the front tyre was not measured.

use crate::build::Build;
use crate::check::limit::{self, Limited, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::WHEEL_DIAMETER;

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &WHEEL_DIAMETER,
    question: "whether the wheels are of a size that is allowed",
    remedy: "Fit a narrower tyre.",
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

/// A very tall tyre.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    build.parts.tyre.make("rear").outer_radius_mm = Some(352.0.into());
}

/// Nobody measured the front tyre.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.tyre.make("front").outer_radius_mm = None;
});
