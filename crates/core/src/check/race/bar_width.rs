//! The bar is as wide as the race asks, and no wider.
//!
//! - Looks at: the bar's greatest width, outside to outside, against the limits on bars and on the width of the bike.
//! - Why: from 2026 a bar of 38 cm that raced for years no longer starts, and a new one is in the parts order or it
//!   is not.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 445 mm over everything.
//! - Does not fit: 340 mm at the hoods on straight drops in 2026: 364 mm outside.
//! - Not known: nobody told the width of the bar.

use crate::build::Build;
use crate::check::limit::{self, Limited, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::BAR_WIDTH_OUTSIDE;

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &BAR_WIDTH_OUTSIDE,
    question: "whether the bar is as wide as the race asks",
    remedy: "Fit a bar of another width, outside to outside.",
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

/// A narrow bar.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    let bar = build.parts.bar.make("");
    bar.width_hoods_mm = Some(340.0.into());
    bar.width_ends_mm = Some(340.0.into());
}

/// Nobody told the width.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.bar.make("").width_hoods_mm = None;
});
