//! The battery goes into the post, and is counted below it.
//!
//! - Looks at: diameter of a battery in the post and the post's bore; how far its holder reaches below the post, and
//!   what the post's depth counts.
//! - Why: a battery that is half a millimetre thick does not go in; one that is not counted below the post is crushed
//!   on a bottle boss.
//! - Source: common practice, no source: 0.3 mm of play, and the holder's length counted in full
//! - Fits: a battery in the down tube.
//! - Does not fit: a battery of 25 mm for a bore of 23.
//! - Not known: nobody measured the post's bore.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: 0.3 mm of play, and the holder's length counted in full";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["battery", "post"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    if model.battery.part.is_none() {
        return;
    }
    let place = take(fact!(model.battery, place), &mut lacking);
    if place.is_some_and(|place| place.to_lowercase().contains("post")) {
        let facts = all((fact!(model.battery, diameter_mm), fact!(model.post, bore_mm)));
        if let Some((battery_mm, bore_mm)) = take(facts, &mut lacking)
            && compare::exceeds(battery_mm + PLAY_MM, bore_mm)
        {
            out.say(
                vec![model.battery.at("diameter"), model.post.at("bore")],
                "The battery does not go into the post.".into(),
                format!("It measures {} and the post's bore {}.", mm(battery_mm), mm(bore_mm)),
                "Choose a post with a larger bore, or a holder that hangs the battery below it.".into(),
            );
        }
        let facts = all((fact!(model.battery, holder_length_mm), fact!(model.post, inside_below_mm)));
        if let Some((holder_mm, counted_mm)) = take(facts, &mut lacking)
            && compare::exceeds(holder_mm, counted_mm)
        {
            out.say(
                vec![model.battery.at("holder_length"), model.post.at("inside_below")],
                "The battery reaches deeper than was counted.".into(),
                format!(
                    "Holder and battery reach {} below the post and {} are counted.",
                    mm(holder_mm),
                    mm(counted_mm)
                ),
                format!("Enter {} for what reaches below the post, and look at the depth again.", mm(holder_mm)),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the battery goes into the post");
}

/// What it needs to slide in.
const PLAY_MM: f64 = 0.3;

/// A battery in the down tube.
pub fn fits(_: &mut Build) {}

/// A battery of 25 mm for a bore of 23.
pub fn does_not_fit(build: &mut Build) {
    let battery = build.parts.battery.make("");
    battery.place = Some("in the post".into());
    battery.diameter_mm = Some(25.0.into());
    battery.holder_length_mm = Some(0.0.into());
}

/// Nobody measured the post's bore.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.battery.make("").place = Some("in the post".into());
    build.parts.post.make("").bore_mm = None;
});
