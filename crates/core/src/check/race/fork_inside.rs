//! The fork is not too wide inside.
//!
//! - Looks at: the greatest distance between the fork's blades.
//! - Why: forks whose blades stand far off the wheel were bounded anew in 2026.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: read as 101.5 mm.
//! - Does not fit: read as 120 mm.
//! - Not known: nobody read it; worth a note, because an approved fork keeps to it.

use crate::build::Build;
use crate::check::limit::{self, Limited, read, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::{FORK_INSIDE, Side};

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &FORK_INSIDE,
    question: "whether the fork is too wide inside for the race",
    remedy: "Use another fork.",
    not_known: Severity::Note,
};

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    limit::judge(case, out, &LIMITED);
}

/// The sample under the international body's rules.
pub fn fits(build: &mut Build) {
    starts(build);
}

/// A wide fork.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    read(build, &FORK_INSIDE, Side::None, 120.0, 0.5);
}

/// Nobody read it.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.measured.remove(&(FORK_INSIDE.id, Side::None));
});
