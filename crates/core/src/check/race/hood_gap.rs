//! The hoods stand far enough apart.
//!
//! - Looks at: the gap between the hoods, inside to inside.
//! - Why: turned-in levers on a legal bar are measured by themselves since 2026.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 353 mm between the hoods.
//! - Does not fit: read as 276 mm.
//! - Not known: nobody measured the hoods.

use crate::build::Build;
use crate::check::limit::{self, Limited, read, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::{HOOD_GAP, Side};

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &HOOD_GAP,
    question: "whether the hoods stand far enough apart for the race",
    remedy: "Turn the levers out, or fit a wider bar.",
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

/// Hoods turned far in.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    read(build, &HOOD_GAP, Side::None, 276.0, 1.0);
}

/// Nobody measured the hood.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.lever.make("left").hood_width_mm = None;
});
