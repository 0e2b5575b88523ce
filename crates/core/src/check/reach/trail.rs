//! The bike steers as its maker meant it to.
//!
//! - Looks at: the trail on the fitted fork and tyres, against the trail that the frame's maker states, or, where none is
//!   stated, against what road bikes have.
//! - Why: a carried-over fork with another offset turns a steady bike nervous or a lively one into a barge, and moves the
//!   front wheel towards the toes.
//! - Source: common practice, no source: 4 mm, of which 2 for a rounded table and 2 for tyres other than the maker's.
//! - Fits: 56 mm, which road bikes have.
//! - Does not fit: a fork with 30 mm of offset where 44 was meant.
//! - Not known: the fork's offset is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare};
use crate::fact;
use crate::finding::{About, mm};
use crate::number::{Side, TRAIL};

/// The stated and the built trail may differ by so much.
const WITHIN_MM: f64 = 4.0;
/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: trail within 4 mm of the maker's, or usual for road bikes";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let question = "how the bike steers";
    let Some(trail_mm) = out.need(case.planned(&TRAIL, Side::None), question) else { return };
    let mut about = vec![About::number(&TRAIL, Side::None)];
    let why = match (fact!(case.model.frame, trail_mm), TRAIL.customary) {
        (Ok(stated_mm), _) => {
            if compare::same_within(stated_mm, trail_mm, WITHIN_MM) {
                return;
            }
            about.push(About::path("parts.frame.trail"));
            format!("The trail comes to {} and the frame's maker states {}", mm(trail_mm), mm(stated_mm))
        }
        (Err(_), Some(range)) if trail_mm < range.low || range.high < trail_mm => {
            format!("The trail comes to {} and road bikes have {} to {}", mm(trail_mm), mm(range.low), mm(range.high))
        }
        _ => return,
    };
    let offset = fact!(case.model.fork, offset_mm)
        .map_or_else(|_| String::new(), |offset| format!("; the fork's offset is {}", mm(offset)));
    out.say(
        about,
        "The bike will steer otherwise than its maker meant.".into(),
        format!("{why}{offset}."),
        "Measure offset and head angle; if they stand, find the fork that belongs to this frame size.".into(),
    );
}

/// The sample steers as road bikes do.
pub fn fits(_: &mut Build) {}

/// A fork of another offset.
pub fn does_not_fit(build: &mut Build) {
    build.parts.frame.make("").trail_mm = Some(56.0.into());
    build.parts.fork.make("").offset_mm = Some(30.0.into());
}

/// Nobody told the offset.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").offset_mm = None);
