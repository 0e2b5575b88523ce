//! The bottom bracket stands within its limits.
//!
//! - Looks at: the height of the bottom bracket over the ground.
//! - Why: a frame of another kind, or tyres of another size, can take it out.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 266 mm.
//! - Does not fit: read as 310 mm.
//! - Not known: the tyres were not measured.

use crate::build::Build;
use crate::check::limit::{self, Limited, read, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::{BB_HEIGHT, Side};

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &BB_HEIGHT,
    question: "whether the bottom bracket stands within the limits of the race",
    remedy: "Fit tyres of another size, or another frame.",
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

/// A frame that stands high.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    read(build, &BB_HEIGHT, Side::None, 310.0, 2.0);
}

/// Nobody measured the tyre.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.tyre.make("rear").outer_radius_mm = None;
});
