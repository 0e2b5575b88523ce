//! The bike is not too long.
//!
//! - Looks at: the length over both wheels.
//! - Why: a very large frame with wide tyres comes near it.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 1.66 m.
//! - Does not fit: read as 1.87 m.
//! - Not known: the tyres were not measured.

use crate::build::Build;
use crate::check::limit::{self, Limited, read, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::{BIKE_LENGTH, Side};

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &BIKE_LENGTH,
    question: "whether the bike is too long for the race",
    remedy: "Use another frame.",
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

/// A very long bike.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    read(build, &BIKE_LENGTH, Side::None, 1870.0, 5.0);
}

/// Nobody measured the tyre.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.tyre.make("front").outer_radius_mm = None;
});
