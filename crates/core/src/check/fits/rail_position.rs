//! The clamp stays on the straight of the rails, within their marks.
//!
//! - Looks at: the rail position that is set, the usable rail and the length that the clamp covers.
//! - Why: a clamp beyond the marks presses on a bend; rails break there, the rider sits on the road.
//! - Source: the marks on the rails; the clamp must lie between them over its whole length.
//! - Fits: the rail stands 4 mm forward where 17 are possible.
//! - Does not fit: it is set 20 mm forward.
//! - Not known: the usable length of the rail is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, sentence};
use crate::fact;
use crate::finding::{About, mm};
use crate::number::{RAIL_POSITION, Side};

/// Where the limit comes from.
pub const SOURCE: &str = "the marks on the saddle's rails";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let question = "whether the clamp stays within the marks of the rails";
    let about = || vec![About::number(&RAIL_POSITION, Side::None), About::path("parts.saddle.rail_usable")];
    let range = match &case.worked.rear.rail_range {
        Ok(range) => range,
        Err(missing) => {
            match &missing.refusal {
                Some(refusal) if missing.paths.is_empty() => out.say(
                    about(),
                    "The clamp does not fit between the marks of the rails.".into(),
                    format!("{}.", sentence(refusal)),
                    "Find a post with a shorter clamp, or another saddle.".into(),
                ),
                _ => out.not_known(missing, question),
            }
            return;
        }
    };
    let Some(set_mm) = out.need(fact!(case.model.settings, rail_position_mm), question) else { return };
    if compare::exceeds(set_mm, range.most_mm) || compare::falls_short(set_mm, range.least_mm) {
        let (over_mm, way, cure) = if set_mm > range.most_mm {
            (set_mm - range.most_mm, "forward", "less layback")
        } else {
            (range.least_mm - set_mm, "back", "more layback")
        };
        out.say(
            about(),
            format!("The saddle stands {} too far {way} on its rails.", mm(over_mm)),
            format!("{} is set and the marks allow {} to {}.", mm(set_mm), mm(range.least_mm), mm(range.most_mm)),
            format!("Find a post with {} {cure}, or another saddle.", mm(over_mm)),
        );
    }
}

/// The sample's clamp is within the marks.
pub fn fits(_: &mut Build) {}

/// Too far forward.
pub fn does_not_fit(build: &mut Build) {
    build.settings.rail_position_mm = Some(20.0.into());
}

/// Nobody told how much of the rail is usable.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.saddle.make("").rail_usable_mm = None);
