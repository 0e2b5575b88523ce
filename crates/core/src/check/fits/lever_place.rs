//! The levers have a place on the bar.
//!
//! - Looks at: where each lever is set along the bar, and its toe-in, on the bar's own curve.
//! - Why: a place beyond the end of the bar, or past the clamp, is a slip of the tape and moves the hood to nowhere.
//! - Source: the geometry of the bar's curve.
//! - Fits: both levers sit on the front bend.
//! - Does not fit: the left lever is set 560 mm from an end of a bar that is shorter than that.
//! - Not known: nobody has said where the levers go.

use crate::build::Build;
use crate::check::{Case, Report, Weight, sentence};
use crate::finding::About;
use crate::model::Missing;
use crate::number::{LEVER_FROM_END, Side};

/// Where the limit comes from.
pub const SOURCE: &str = "geometry of the bar's curve";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let front = &case.worked.front;
    let mut lacking = Missing::default();
    for side in [Side::Left, Side::Right] {
        let Err(missing) = front.hood(side) else { continue };
        match &missing.refusal {
            // The bar's own refusal is said by the check of its figures.
            Some(refusal) if missing.paths.is_empty() && front.curve.is_ok() && front.bar_clamp.is_ok() => out.say(
                vec![About::number(&LEVER_FROM_END, side)],
                format!("The {} lever has no place on the bar.", side.word()),
                format!("{}.", sentence(refusal)),
                "Measure again from the bare end of the bar, along the outside of the bend.".into(),
            ),
            Some(_) => {}
            None => lacking = std::mem::take(&mut lacking).and(missing),
        }
    }
    out.not_known(&lacking, "where the hoods are");
}

/// The sample's levers sit on the bend.
pub fn fits(_: &mut Build) {}

/// A place beyond the bar.
pub fn does_not_fit(build: &mut Build) {
    build.settings.lever_from_end_left_mm = Some(560.0.into());
}

/// Nobody has said where they go.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.settings.lever_from_end_left_mm = None);
