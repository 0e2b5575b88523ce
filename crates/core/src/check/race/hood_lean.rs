//! The hoods do not lean in too far.
//!
//! - Looks at: the lean of each hood to the drop it sits on.
//! - Why: hoods turned in are measured with an angle gauge at the start, and the tape has to come off to turn them
//!   back.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: 3.6° on both sides.
//! - Does not fit: 30 mm of toe-in: 18°.
//! - Not known: nobody said how far the right hood is turned in.

use crate::build::Build;
use crate::check::limit::{self, Limited, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::HOOD_LEAN;

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &HOOD_LEAN,
    question: "whether the hoods lean in too far for the race",
    remedy: "Turn the lever back before the bar is wrapped.",
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

/// A hood turned far in.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    build.settings.toe_in_left_mm = Some(30.0.into());
}

/// Nobody said how far the right hood is turned in.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.settings.toe_in_right_mm = None;
});
