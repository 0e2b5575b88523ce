//! The rear triangle is not too wide inside.
//!
//! - Looks at: the greatest distance between the stays.
//! - Why: a hub of 142 mm in a frame of before 2026 stands beyond the old figure and inside the new one.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: read as 143 mm in 2027.
//! - Does not fit: read as 150 mm.
//! - Not known: nobody read it; worth a note, because an approved frame keeps to it.

use crate::build::Build;
use crate::check::limit::{self, Limited, read, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::{STAYS_INSIDE, Side};

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &STAYS_INSIDE,
    question: "whether the rear triangle is too wide inside for the race",
    remedy: "Use another frame.",
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

/// A wide rear triangle.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    read(build, &STAYS_INSIDE, Side::None, 150.0, 0.5);
}

/// Nobody read it.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.measured.remove(&(STAYS_INSIDE.id, Side::None));
});
