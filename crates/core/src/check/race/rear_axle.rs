//! The rear axle stands within its limits.
//!
//! - Looks at: the level distance from bottom bracket to rear axle.
//! - Why: hardly a road frame is outside; a frame of another kind may be.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 404 mm.
//! - Does not fit: read as 510 mm.
//! - Not known: the chainstay is not told.

use crate::build::Build;
use crate::check::limit::{self, Limited, read, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::{REAR_AXLE_BEHIND, Side};

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &REAR_AXLE_BEHIND,
    question: "whether the rear axle stands within the limits of the race",
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

/// A long rear.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    read(build, &REAR_AXLE_BEHIND, Side::None, 510.0, 2.0);
}

/// Nobody told the chainstay.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.frame.make("").chainstay_mm = None;
});
