//! The bike is heavy enough.
//!
//! - Looks at: the mass as weighed, or the sum of the list.
//! - Why: the list of a light build ends below the limit more often than its owner thinks, and the scale at the start
//!   decides.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: weighed as 7.24 kg.
//! - Does not fit: weighed as 6.7 kg.
//! - Not known: a part has no mass, and nobody weighed the bike.

use crate::build::Build;
use crate::check::limit::{self, Limited, read, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::{MASS, Side};

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &MASS,
    question: "whether the bike is heavy enough for the race",
    remedy: "Add mass where it is safe and fixed, such as a heavier wheel; bottles and what comes off do not count.",
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

/// A light bike.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    read(build, &MASS, Side::None, 6_700.0, 10.0);
}

/// Not weighed, and the saddle has no mass.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.measured.remove(&(MASS.id, Side::None));
    build.parts.saddle.make("").mass_g = None;
});
