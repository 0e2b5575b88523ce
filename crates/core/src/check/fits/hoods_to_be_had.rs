//! Hoods for the levers can be had.
//!
//! - Looks at: whether hoods of the levers' generation and colour can still be ordered.
//! - Why: hoods wear out in two seasons and are gone from the lists in four; a lever without its hood is ridden with
//!   tape.
//! - Source: common practice, no source: a pair laid by when the levers are bought
//! - Fits: Hoods that can be ordered.
//! - Does not fit: A left lever whose hoods are no longer made.
//! - Not known: Nobody asked for the right lever.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::{About, Severity};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: a pair laid by when the levers are bought";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "it is a matter of next year");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let gone: Vec<&str> = [("left", &model.lever_left), ("right", &model.lever_right)]
        .into_iter()
        .filter(|(_, lever)| take(fact!(lever, hoods_offered), &mut lacking) == Some(false))
        .map(|(side, _)| side)
        .collect();
    if !gone.is_empty() {
        let each: Vec<String> = gone.iter().map(|side| (*side).to_owned()).collect();
        out.say(
            gone.iter().map(|side| About::path(&format!("parts.lever.{side}.hoods_offered"))).collect(),
            "Hoods for the levers can no longer be had.".into(),
            format!("For the {} lever none of this generation and colour is offered.", and_list(&each)),
            "Lay a pair by from old stock, or tell the rider before these levers are chosen.".into(),
        );
    }
    out.not_known(&lacking, "whether hoods for the levers can be had");
}

/// Hoods that can be ordered.
pub fn fits(_: &mut Build) {}

/// A left lever whose hoods are no longer made.
pub fn does_not_fit(build: &mut Build) {
    build.parts.lever.make("left").hoods_offered = Some(false.into());
}

/// Nobody asked for the right lever.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.lever.make("right").hoods_offered = None;
});
