//! The longest gear is not too long for the rider's class.
//!
//! - Looks at: how far one turn of the crank in the longest gear takes the bike, by the rider's age in the year of
//!   the race.
//! - Why: roll-out decides and teeth do not: 52 x 14 kept to 7.93 m on a tyre of 28 mm and breaks it on one of 30.
//! - Source: the dated rule books of `rules/`: the limit in force on the day of the race, with its article.
//! - Fits: an adult, for whom no limit is in force.
//! - Does not fit: 52 x 11 for a rider of 15.
//! - Not known: nobody said when a rider was born under rules with youth gears.

use crate::build::Build;
use crate::check::limit::{self, Limited, starts};
use crate::check::{Case, Report, Weight};
use crate::finding::Severity;
use crate::number::DEVELOPMENT_LONGEST;
use crate::rulebook::Rules;
use jiff::civil::date;

/// Where the limits come from.
pub const SOURCE: &str = limit::SOURCE;
/// How much it weighs.
pub const WEIGHT: Weight = limit::WEIGHT;
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

const LIMITED: Limited = Limited {
    number: &DEVELOPMENT_LONGEST,
    question: "whether the longest gear is too long for the rider's class",
    remedy: "Fit a smaller ring or a larger first sprocket, or lock the longest gears off where that is allowed; then roll it out.",
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

/// A young rider on adult gears.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
    build.job.rules = Some(Rules::BritishCycling.into());
    build.job.day = Some(date(2024, 6, 1).into());
    build.rider.birth_year = Some(2009.into());
}

/// Nobody said when the rider was born.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    starts(build);
    build.job.rules = Some(Rules::BritishCycling.into());
    build.job.day = Some(date(2024, 6, 1).into());
    build.rider.birth_year = None;
});
