//! The cut stays within what the fork's maker allows.
//!
//! - Looks at: the planned cut against the shortest and the longest steerer that the fork's maker allows.
//! - Why: below the shortest the expander or the taper is in the way; beyond the longest the steerer bends too much.
//! - Source: the limits that the fork's maker states.
//! - Fits: a cut of 211 mm where 150 to 300 are allowed.
//! - Does not fit: the same cut on a fork that allows 200 at most.
//! - Not known: the maker's limits are not told; worth a note, because most makers state none.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, take};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::model::Missing;
use crate::number::{STEERER_CUT, Side};

/// Where the limit comes from.
pub const SOURCE: &str = "the limits that the fork's maker states";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let question = "whether the cut is within what the fork's maker allows";
    let fork = &case.model.fork;
    let Some(cut_mm) = out.need(case.planned(&STEERER_CUT, Side::None), question) else { return };
    let mut lacking = Missing::default();
    let least = take(fact!(fork, steerer_cut_min_mm), &mut lacking);
    let most = take(fact!(fork, steerer_cut_max_mm), &mut lacking);
    let about = |limit| vec![About::number(&STEERER_CUT, Side::None), About::path(limit)];
    if let Some(least_mm) = least.filter(|least| compare::falls_short(cut_mm, *least)) {
        out.say(
            about("parts.fork.steerer_cut_min"),
            format!("The planned cut is {} shorter than the fork allows.", mm(least_mm - cut_mm)),
            format!("{} is planned and the fork's maker asks for {} at least.", mm(cut_mm), mm(least_mm)),
            format!("Put {} more of spacers on the steerer, or find another fork.", mm(least_mm - cut_mm)),
        );
    }
    if let Some(most_mm) = most.filter(|most| compare::exceeds(cut_mm, *most)) {
        out.say(
            about("parts.fork.steerer_cut_max"),
            format!("The planned cut is {} longer than the fork allows.", mm(cut_mm - most_mm)),
            format!("{} is planned and the fork's maker allows {} at most.", mm(cut_mm), mm(most_mm)),
            format!("Take {} out of the stack, or find another fork.", mm(cut_mm - most_mm)),
        );
    }
    out.not_known_as(Severity::Note, &lacking, question);
}

/// The sample's cut is within its fork's limits.
pub fn fits(_: &mut Build) {}

/// A fork for small frames.
pub fn does_not_fit(build: &mut Build) {
    build.parts.fork.make("").steerer_cut_max_mm = Some(200.0.into());
}

/// The maker's limits are not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").steerer_cut_max_mm = None);
