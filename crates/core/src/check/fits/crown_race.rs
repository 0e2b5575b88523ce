//! The crown race sits on this fork.
//!
//! - Looks at: the crown-race seat that the headset's lower designation names, and the seat on the fork.
//! - Why: a race of another diameter either does not go on or does not hold, and the fork knocks from the first kilometre.
//! - Source: the standardized headset identification system, from memory: the figure behind the stroke is the seat, named
//!   33 for 33.0 mm and 40 for 39.8 mm.
//! - Fits: a lower headset IS52/40 on a seat of 39.8 mm.
//! - Does not fit: the same headset on a fork with a seat of 33 mm.
//! - Not known: nobody measured the fork's seat.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{About, mm};

/// A nominal 40 stands for 39.8, a nominal 33 for 33.0.
const NOMINAL_WITHIN_MM: f64 = 0.3;
/// Where the limit comes from.
pub const SOURCE: &str = "standardized headset identification system, from memory: IS52/40 sits on 39.8 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["fork", "headset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let pair = all((fact!(model.headset, lower_shis), fact!(model.fork, crown_race_diameter_mm)));
    let Some((shis, seat_mm)) = out.need(pair, "whether the crown race fits the fork") else { return };
    // A designation without the figure behind the stroke says nothing of the race.
    let Some(named_mm) = shis.split_once('/').and_then(|(_, seat)| compare::plain(seat).parse::<f64>().ok()) else {
        return;
    };
    if !compare::same_within(named_mm, seat_mm, NOMINAL_WITHIN_MM) {
        out.say(
            vec![About::path("parts.headset.lower_shis"), About::path("parts.fork.crown_race_diameter")],
            "The crown race does not fit the fork.".into(),
            format!("The lower headset {shis} wants a seat of {} and the fork has {}.", mm(named_mm), mm(seat_mm)),
            format!("Order the lower headset with a race for {}.", mm(seat_mm)),
        );
    }
}

/// The sample's seat is a nominal 40.
pub fn fits(_: &mut Build) {}

/// A fork with a smaller seat.
pub fn does_not_fit(build: &mut Build) {
    build.parts.fork.make("").crown_race_diameter_mm = Some(33.0.into());
}

/// Nobody measured the seat.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").crown_race_diameter_mm = None);
