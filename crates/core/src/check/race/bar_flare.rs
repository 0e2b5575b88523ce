//! The drops do not flare too far.
//!
//! - Looks at: how far each end of the bar stands further out than the hoods.
//! - Why: a bar that is narrow at the hoods and wide at the ends keeps to the width and not to this.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 10.5 mm a side.
//! - Does not fit: 70 mm on the left.
//! - Not known: nobody told the width at the hoods.

use crate::build::Build;
use crate::check::limit::{self, Limited, read, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::{BAR_FLARE, Side};

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &BAR_FLARE,
    question: "whether the drops flare too far for the race",
    remedy: "Fit a bar with less flare.",
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

/// A wide flare, as read.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    read(build, &BAR_FLARE, Side::Left, 70.0, 1.0);
}

/// Nobody told the width at the hoods.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.bar.make("").width_hoods_mm = None;
});
