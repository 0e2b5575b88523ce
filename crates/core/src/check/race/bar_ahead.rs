//! The bar does not stand too far ahead of the front axle.
//!
//! - Looks at: the foremost point of the bar, levers left out, against the front axle.
//! - Why: a long stem on a short frame takes the bar out of its box.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: the bar stands 25 mm behind that limit or more.
//! - Does not fit: read as 56 mm ahead of the axle.
//! - Not known: the offset of the fork is not told.

use crate::build::Build;
use crate::check::limit::{self, Limited, read, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::{BAR_AHEAD, Side};

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &BAR_AHEAD,
    question: "whether the bar stands too far ahead of the front axle",
    remedy: "Fit a shorter stem, or a bar with less reach.",
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

/// A bar far ahead.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    read(build, &BAR_AHEAD, Side::None, 56.0, 2.0);
}

/// Nobody told the offset of the fork.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.fork.make("").offset_mm = None;
});
