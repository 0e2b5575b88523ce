//! The saddle stands far enough back.
//!
//! - Looks at: the setback of the saddle's nose.
//! - Why: a steep position is given away at the start, where the saddle is pushed back and the fit is gone.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 61 mm behind the bottom bracket.
//! - Does not fit: read as 5 mm ahead of it, where no exemption helps.
//! - Not known: the layback of the post is not told.

use crate::build::Build;
use crate::check::limit::{self, Limited, read, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::{SADDLE_SETBACK, Side};

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &SADDLE_SETBACK,
    question: "whether the saddle stands far enough back for the race",
    remedy: "Move the saddle back, or fit a saddle with a shorter nose.",
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

/// A saddle pushed forward.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    read(build, &SADDLE_SETBACK, Side::None, -5.0, 1.0);
}

/// Nobody told the layback.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.parts.post.make("").layback_mm = None;
});
