//! The headset bearings have the angles of their seats.
//!
//! - Looks at: contact angle outside each bearing and of its seat in the head tube.
//! - Why: a bearing for 36° in a seat for 45° bears on one edge: it feels right on the first day and works loose from
//!   then on.
//! - Source: common practice, no source: seats of 36° and of 45° exist, and they do not mix
//! - Fits: 45° outside, on both.
//! - Does not fit: an upper bearing for 36° in a seat of 45°.
//! - Not known: nobody said which angle the lower seat has.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, take};
use crate::fact;
use crate::finding::{Severity, deg};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: seats of 36° and of 45° exist, and they do not mix";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "headset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let (frame, headset) = (&model.frame, &model.headset);
    let mut lacking = Missing::default();
    for (which, seat, bearing) in [
        ("upper", fact!(frame, head_tube_upper_angle_deg), fact!(headset, upper_bearing_angle_deg)),
        ("lower", fact!(frame, head_tube_lower_angle_deg), fact!(headset, lower_bearing_angle_deg)),
    ] {
        let Some((seat_deg, bearing_deg)) = take(all((seat, bearing)), &mut lacking) else { continue };
        if (seat_deg - bearing_deg).abs() > WITHIN_DEG {
            out.say(
                vec![headset.at(&format!("{which}_bearing_angle")), frame.at(&format!("head_tube_{which}_angle"))],
                format!("The {which} bearing has another angle than its seat."),
                format!("The bearing is made for {} and the seat has {}.", deg(bearing_deg), deg(seat_deg)),
                format!("Order the bearing with {} outside.", deg(seat_deg)),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the bearings have the angles of their seats");
}

/// Angles are named in whole degrees.
const WITHIN_DEG: f64 = 1.0;

/// 45° outside, on both.
pub fn fits(_: &mut Build) {}

/// An upper bearing for 36° in a seat of 45°.
pub fn does_not_fit(build: &mut Build) {
    build.parts.headset.make("").upper_bearing_angle_deg = Some(36.0.into());
}

/// Nobody said which angle the lower seat has.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").head_tube_lower_angle_deg = None);
