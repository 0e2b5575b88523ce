//! The cassette fills its freehub.
//!
//! - Looks at: length of the freehub's spline; length that the sprockets fill, and the spacer behind them.
//! - Why: without its spacer the lockring closes on the body and the sprockets rattle; with one too many it holds by
//!   two threads.
//! - Source: common practice, no source: an eleven-speed spline is 1.85 mm longer than a ten-speed one; filled within
//!   0.3 mm
//! - Fits: a spline of 36.8 mm and sprockets for 36.8.
//! - Does not fit: sprockets that fill 34.9 mm, without a spacer.
//! - Not known: the length of the freehub's spline is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{Severity, figure};

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: an eleven-speed spline is 1.85 mm longer than a ten-speed one; filled within 0.3 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a spacer puts it right");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["wheel", "cassette"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let [_, rear] = &model.ends;
    let facts = all((
        fact!(rear.wheel, freehub_length_mm),
        fact!(model.cassette, body_length_mm),
        fact!(model.cassette, spacer_behind_mm),
    ));
    match facts {
        Ok((spline_mm, filled_mm, spacer_mm)) if !compare::same_within(spline_mm, filled_mm + spacer_mm, WITHIN_MM) => {
            let wanted_mm = spline_mm - filled_mm;
            let action = if compare::falls_short(wanted_mm, 0.0) {
                "Find a freehub body with a longer spline.".to_owned()
            } else {
                format!("Fit a spacer of {} mm behind the largest sprocket.", figure(wanted_mm, 2))
            };
            out.say(
                vec![
                    rear.wheel.at("freehub_length"),
                    model.cassette.at("body_length"),
                    model.cassette.at("spacer_behind"),
                ],
                "The cassette does not fill its freehub.".into(),
                format!(
                    "The spline is {} mm long; sprockets and spacer fill {} mm.",
                    figure(spline_mm, 2),
                    figure(filled_mm + spacer_mm, 2)
                ),
                action,
            );
        }
        Ok(_) => {}
        Err(missing) => out.not_known_as(Severity::Note, &missing, "which spacer goes behind the cassette"),
    }
}

/// The lockring bridges so much.
const WITHIN_MM: f64 = 0.3;

/// A spline of 36.8 mm and sprockets for 36.8.
pub fn fits(_: &mut Build) {}

/// Sprockets that fill 34.9 mm, without a spacer.
pub fn does_not_fit(build: &mut Build) {
    build.parts.cassette.make("").body_length_mm = Some(34.95.into());
}

/// The length of the freehub's spline is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("rear").freehub_length_mm = None);
