//! What the rules ask that no number shows.
//!
//! - Looks at: the articles of the body that limit no number: approvals, bottles, shapes.
//! - Why: a bike that keeps to every number is still sent away for an extension, or for a frame without its label.
//! - Source: the dated rule books of `rules/`, each article by itself.
//! - Fits: an event without rules for bikes.
//! - Does not fit: any race of the international body: somebody has to look. It is a note, never a verdict.
//! - Not known: never; what is on file is said, and `race/rules_on_file` says what is not.

use crate::build::Build;
use crate::check::limit::{Race, article, lower, since, starts};
use crate::check::{Case, Report, Weight};
use crate::field::Choice;
use crate::finding::{About, Severity};
use crate::rulebook::{Asks, Rules};

/// Where the articles come from.
pub const SOURCE: &str = "the dated rule books of rules/: each article with where it was seen";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "no number shows it, so somebody has to look");
/// The kinds of part whose facts alone decide it; none, as the event decides too.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let Some(race) = Race::of(case) else { return };
    let asked: Vec<String> = race
        .asked
        .limits
        .iter()
        .filter_map(|limit| match limit.asks {
            Asks::ByEye(says) => {
                Some(format!("{} ({}, {})", lower(says.trim_end_matches('.')), article(limit), since(limit)))
            }
            _ => None,
        })
        .collect();
    let last_look = race.asked.limits.iter().map(|limit| limit.checked_on).max();
    let Some(last_look) = last_look.filter(|_| !asked.is_empty()) else { return };
    out.say(
        vec![About::path("job.rules")],
        format!("{} things that the rules ask are shown by no number.", asked.len()),
        format!("{} asks on {}: {}.", race.rules.name(), race.day, asked.join("; ")),
        format!("Look at each on the finished bike. The rows were last looked at on {last_look}: ask what has changed since."),
    );
}

/// No rules.
pub fn fits(build: &mut Build) {
    starts(build);
    build.job.rules = Some(Rules::WithoutRules.into());
}

/// A race under the international body's rules.
pub fn does_not_fit(build: &mut Build) {
    starts(build);
}

/// Never.
pub const NOT_KNOWN: Option<fn(&mut Build)> = None;
