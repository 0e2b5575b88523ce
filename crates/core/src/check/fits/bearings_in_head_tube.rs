//! The headset bearings fill their seats.
//!
//! - Looks at: outside diameter of each bearing, and the bore that the head tube's designation names, where it has no
//!   cups.
//! - Why: a bearing that is half a millimetre small goes in, feels tight, and hammers its seat oval within a season.
//! - Source: standardized headset identification system: the first figure is the bore of the seat; seats without cups
//!   hold the bearing itself, within 0.6 mm
//! - Fits: bearings of 52 mm in seats IS52.
//! - Does not fit: an upper bearing of 47 mm in IS52.
//! - Not known: nobody measured the lower bearing.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, sizes, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "standardized headset identification system: the first figure is the bore of the seat; seats without cups hold the bearing itself, within 0.6 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "headset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for (which, fact, seat, bearing) in [
        (
            "upper",
            "head_tube_upper_shis",
            fact!(model.frame, head_tube_upper_shis),
            fact!(model.headset, upper_bearing_diameter_mm),
        ),
        (
            "lower",
            "head_tube_lower_shis",
            fact!(model.frame, head_tube_lower_shis),
            fact!(model.headset, lower_bearing_diameter_mm),
        ),
    ] {
        let Some(seat) = take(seat.and_then(|text| sizes::seat(&text)), &mut lacking) else { continue };
        // With cups the bearing sits in the cup, and the headset's maker sees to that.
        if seat.kind != "IS" {
            continue;
        }
        let Some(bearing_mm) = take(bearing, &mut lacking) else { continue };
        if !compare::same_within(bearing_mm, seat.bore_mm, 0.6) {
            out.say(
                vec![model.headset.at(&format!("{which}_bearing_diameter")), model.frame.at(fact)],
                format!("The {which} bearing does not fill its seat."),
                format!("It measures {} and the seat is made for {}.", mm(bearing_mm), mm(seat.bore_mm)),
                "Order the bearing by diameter, bore, height and both angles; all five must be right.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the bearings fill the head tube's seats");
}

/// Bearings of 52 mm in seats IS52.
pub fn fits(_: &mut Build) {}

/// An upper bearing of 47 mm in IS52.
pub fn does_not_fit(build: &mut Build) {
    build.parts.headset.make("").upper_bearing_diameter_mm = Some(47.0.into());
}

/// Nobody measured the lower bearing.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.parts.headset.make("").lower_bearing_diameter_mm = None);
