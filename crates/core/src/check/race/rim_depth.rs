//! The rims are not too deep.
//!
//! - Looks at: the depth of both rims.
//! - Why: deep wheels that raced until 2025 do not start from 2026; they are the dearest part to find that out with.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 45 mm.
//! - Does not fit: an 80 mm rim at the rear.
//! - Not known: the depth of the front rim is not told.

use crate::build::Build;
use crate::check::limit::{self, Limited, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::RIM_DEPTH;

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &RIM_DEPTH,
    question: "whether the rims are too deep for the race",
    remedy: "Use wheels with lower rims.",
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

/// A deep rim.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    build.parts.wheel.make("rear").rim_depth_mm = Some(80.0.into());
}

/// Nobody told the front rim.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.wheel.make("front").rim_depth_mm = None;
});
