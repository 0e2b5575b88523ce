//! The front axle stands within its limits.
//!
//! - Looks at: the level distance from bottom bracket to front axle.
//! - Why: very small frames come near the lower limit; a small rider may be let through.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 578 mm.
//! - Does not fit: read as 670 mm.
//! - Not known: the offset of the fork is not told.

use crate::build::Build;
use crate::check::limit::{self, Limited, read, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::{FRONT_AXLE_AHEAD, Side};

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &FRONT_AXLE_AHEAD,
    question: "whether the front axle stands within the limits of the race",
    remedy: "Find the fork that belongs to the frame, or another frame.",
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

/// A long front.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    read(build, &FRONT_AXLE_AHEAD, Side::None, 670.0, 2.0);
}

/// Nobody told the offset.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.fork.make("").offset_mm = None;
});
