//! A bottle goes into its cage and out again.
//!
//! - Looks at: room along the tube above each cage's lower boss, and the room that cage and bottle need.
//! - Why: on a small frame the bottle meets the top tube, the other bottle or the front derailleur's band, and cannot
//!   be drawn.
//! - Source: common practice, no source: measured along the tube with a bottle in hand
//! - Fits: 205 mm needed of 230 on the down tube, 195 of 210 on the seat tube.
//! - Does not fit: a frame with 180 mm on the seat tube.
//! - Not known: nobody measured the room on the seat tube.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: measured along the tube with a bottle in hand";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a smaller bottle puts it right");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["bottle_cage", "frame"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for (name, cage) in &model.build.parts.bottle_cage.0 {
        let path = format!("parts.bottle_cage.{name}");
        let Some(place) = &cage.place else {
            lacking = lacking.and(&Missing::fact(format!("{path}.place")));
            continue;
        };
        let (fact, room) = if place.value.to_lowercase().contains("seat") {
            ("bottle_room_seat", fact!(model.frame, bottle_room_seat_mm))
        } else {
            ("bottle_room_down", fact!(model.frame, bottle_room_down_mm))
        };
        let needed = cage.room_needed_mm.as_ref().map(|needed| needed.value);
        let needed = needed.ok_or_else(|| Missing::fact(format!("{path}.room_needed")));
        let Some((needed_mm, room_mm)) = take(all((needed, room)), &mut lacking) else { continue };
        if compare::exceeds(needed_mm, room_mm) {
            out.say(
                vec![About::path(&format!("{path}.room_needed")), model.frame.at(fact)],
                format!("A bottle cannot be drawn from the cage “{name}”."),
                format!("Cage and bottle need {} along the tube and there are {}.", mm(needed_mm), mm(room_mm)),
                "Choose a cage that opens to the side, a smaller bottle, or the lower bosses.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the bottles can be drawn");
}

/// 205 mm needed of 230 on the down tube, 195 of 210 on the seat tube.
pub fn fits(_: &mut Build) {}

/// A frame with 180 mm on the seat tube.
pub fn does_not_fit(build: &mut Build) {
    build.parts.frame.make("").bottle_room_seat_mm = Some(180.0.into());
}

/// Nobody measured the room on the seat tube.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").bottle_room_seat_mm = None);
