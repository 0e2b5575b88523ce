//! The headset bearings have the height of their seats.
//!
//! - Looks at: the height of each bearing, and the height that the frame's maker names.
//! - Why: a bearing with the right diameters and another height lifts the cover or leaves it loose, and the steerer
//!   comes out wrong by as much.
//! - Source: the frame maker's word, within 0.3 mm
//! - Fits: 6.5 mm above and 8 below.
//! - Does not fit: A lower bearing of 7 mm.
//! - Not known: The frame maker's height of the upper bearing is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the frame maker's word, within 0.3 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "headset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let (frame, headset) = (&case.model.frame, &case.model.headset);
    let mut lacking = Missing::default();
    for (which, named, fitted) in [
        ("upper", fact!(frame, upper_bearing_height_mm), fact!(headset, upper_bearing_height_mm)),
        ("lower", fact!(frame, lower_bearing_height_mm), fact!(headset, lower_bearing_height_mm)),
    ] {
        let Some((named_mm, fitted_mm)) = take(all((named, fitted)), &mut lacking) else { continue };
        if !compare::same_within(named_mm, fitted_mm, WITHIN_MM) {
            out.say(
                vec![headset.at(&format!("{which}_bearing_height")), frame.at(&format!("{which}_bearing_height"))],
                format!("The {which} bearing has another height than its seat."),
                format!("The bearing is {} high and the frame's maker names {}.", mm(fitted_mm), mm(named_mm)),
                format!("Order the bearing with a height of {}.", mm(named_mm)),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the bearings have the height of their seats");
}

/// Makers round heights to half a millimetre.
const WITHIN_MM: f64 = 0.3;

/// 6.5 mm above and 8 below.
pub fn fits(_: &mut Build) {}

/// A lower bearing of 7 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.headset.make("").lower_bearing_height_mm = Some(7.0.into());
}

/// The frame maker's height of the upper bearing is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.frame.make("").upper_bearing_height_mm = None;
});
