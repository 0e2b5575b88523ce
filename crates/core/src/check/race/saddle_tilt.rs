//! The saddle is not tilted too far.
//!
//! - Looks at: the tilt over the saddle's two highest points, front and rear.
//! - Why: the body measures over the whole saddle; a tilt taken over its middle can be some degrees off.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: nose 2° down.
//! - Does not fit: nose 11° down.
//! - Not known: nobody said how it is tilted.

use crate::build::Build;
use crate::check::limit::{self, Limited, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::SADDLE_TILT;

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &SADDLE_TILT,
    question: "whether the saddle is tilted too far for the race",
    remedy: "Level the saddle.",
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

/// A nose far down.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    build.settings.saddle_tilt_deg = Some((-11.0).into());
}

/// Nobody said.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.settings.saddle_tilt_deg = None;
});
