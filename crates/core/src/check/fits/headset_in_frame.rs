//! The headset is made for the head tube's seats.
//!
//! - Looks at: the standard designations of the bearing seats, upper and lower, of frame and headset.
//! - Why: a bearing of another diameter does not go in; one of another angle goes in, feels right, and works loose.
//! - Source: the standardized headset identification system, which names seat diameter and steerer; common practice.
//! - Fits: IS52/28.6 above and IS52/40 below, on both.
//! - Does not fit: a headset for a lower seat of 49 mm in a head tube for 52 mm.
//! - Not known: the lower seat of a carried-over frame is not told.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, all, compare, sentence, take};
use crate::fact;
use crate::finding::About;
use crate::model::Missing;

/// Where the limit comes from.
pub const SOURCE: &str = "standardized headset identification system: seat and steerer must be named alike";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "headset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let upper = all((fact!(model.frame, head_tube_upper_shis), fact!(model.headset, upper_shis)));
    let lower = all((fact!(model.frame, head_tube_lower_shis), fact!(model.headset, lower_shis)));
    let mut about = Vec::new();
    let mut each = Vec::new();
    let mut places = Vec::new();
    for (place, pair, paths) in [
        ("upper", upper, ["parts.frame.head_tube_upper_shis", "parts.headset.upper_shis"]),
        ("lower", lower, ["parts.frame.head_tube_lower_shis", "parts.headset.lower_shis"]),
    ] {
        let Some((frame, headset)) = take(pair, &mut lacking) else { continue };
        if !same_seat(&frame, &headset) {
            about.extend(paths.map(About::path));
            each.push(format!("the head tube's {place} seat is {frame} and the headset is made for {headset}"));
            places.push(place.to_owned());
        }
    }
    if !places.is_empty() {
        out.say(
            about,
            format!("The {} headset does not fit the head tube.", and_list(&places)),
            format!("{}.", sentence(&each.join("; "))),
            "Order the headset by the frame's own designation.".into(),
        );
    }
    out.not_known(&lacking, "whether the headset fits the head tube");
}

/// Alike; where one of them leaves the steerer out (IS52 for IS52/40), the seat alone is compared.
fn same_seat(a: &str, b: &str) -> bool {
    match (a.split_once('/'), b.split_once('/')) {
        (Some(_), Some(_)) | (None, None) => compare::same_name(a, b),
        (Some((seat, _)), None) => compare::same_name(seat, b),
        (None, Some((seat, _))) => compare::same_name(a, seat),
    }
}

/// The sample's headset was ordered by the frame's designation.
pub fn fits(_: &mut Build) {}

/// A headset for another lower seat.
pub fn does_not_fit(build: &mut Build) {
    build.parts.headset.make("").lower_shis = Some("IS49/40".into());
}

/// Nobody has measured the lower seat.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").head_tube_lower_shis = None);
