//! The battery sits where the frame has room for it.
//!
//! - Looks at: where the battery is to sit and where the frame has its place.
//! - Why: a battery for the post finds a bent seat tube, one for the down tube no clip; the wires are then cut to the
//!   wrong place too.
//! - Source: the frame maker's word on the battery's place
//! - Fits: both say in the down tube.
//! - Does not fit: a battery for the post.
//! - Not known: nobody said where the frame holds it.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the frame maker's word on the battery's place";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["battery", "frame"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    if model.battery.part.is_none() {
        return;
    }
    let facts = all((fact!(model.battery, place), fact!(model.frame, battery_place)));
    let Some((own, frame)) = out.need(facts, "whether the battery sits where the frame has room for it") else {
        return;
    };
    // A battery on the derailleurs needs no place in the frame.
    let on_derailleur = own.to_lowercase().contains("derailleur");
    if !on_derailleur && !compare::same_name(&own, &frame) {
        out.say(
            vec![model.battery.at("place"), model.frame.at("battery_place")],
            "The battery does not sit where the frame holds one.".into(),
            format!("It is to sit «{own}» and the frame holds it «{frame}»."),
            "Choose holder and wires for the frame's own place.".into(),
        );
    }
}

/// Both say in the down tube.
pub fn fits(_: &mut Build) {}

/// A battery for the post.
pub fn does_not_fit(build: &mut Build) {
    build.parts.battery.make("").place = Some("in the post".into());
}

/// Nobody said where the frame holds it.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").battery_place = None);
