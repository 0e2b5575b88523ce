//! Bar, stem, post, saddle and pedals carry this rider.
//!
//! - Looks at: the rider's mass, and the heaviest rider that the makers of bar or one-piece cockpit, stem, post,
//!   saddle and pedals allow.
//! - Why: the lightest parts are tested for light riders; the limit stands in small print and nowhere on the part.
//! - Source: the limits that the makers of these parts state
//! - Fits: 68 kg, where the lowest limit is 110.
//! - Does not fit: a saddle for riders up to 65 kg.
//! - Not known: the post's limit is not told.

use crate::build::Build;
use crate::check::words::{and_list, kg};
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::{About, Severity};
use crate::model::{Missing, Place};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the limits that the makers of these parts state";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let rider = Place { path: "rider", part: Some(&model.build.rider) };
    let mut lacking = Missing::default();
    let rider = take(fact!(rider, mass_g), &mut lacking);
    let mut limits = vec![
        ("the seat post", model.post.at("rider_mass_max"), fact!(model.post, rider_mass_max_g)),
        ("the saddle", model.saddle.at("rider_mass_max"), fact!(model.saddle, rider_mass_max_g)),
        ("the pedals", model.pedal.at("rider_mass_max"), fact!(model.pedal, rider_mass_max_g)),
    ];
    if model.one_piece() {
        limits.push(("the cockpit", model.cockpit.at("rider_mass_max"), fact!(model.cockpit, rider_mass_max_g)));
    } else {
        limits.push(("the stem", model.stem.at("rider_mass_max"), fact!(model.stem, rider_mass_max_g)));
        limits.push(("the bar", model.bar.at("rider_mass_max"), fact!(model.bar, rider_mass_max_g)));
    }
    let mut about = vec![About::path("rider.mass")];
    let mut each = Vec::new();
    for (name, at, most) in limits {
        let (Some(rider_g), Some(most_g)) = (rider, take(most, &mut lacking)) else { continue };
        if rider_g > most_g {
            about.push(at);
            each.push(format!("{name}: {}", kg(most_g)));
        }
    }
    if let (Some(rider_g), false) = (rider, each.is_empty()) {
        out.say(
            about,
            "The rider is heavier than a part allows.".into(),
            format!("The rider weighs {}; the makers allow, for {}.", kg(rider_g), and_list(&each)),
            "Choose parts that are made for this rider.".into(),
        );
    }
    // Many makers state no limit; that is worth a note and no more.
    out.not_known_as(Severity::Note, &lacking, "whether bar, stem, post, saddle and pedals carry this rider");
}

/// 68 kg, where the lowest limit is 110.
pub fn fits(_: &mut Build) {}

/// A saddle for riders up to 65 kg.
pub fn does_not_fit(build: &mut Build) {
    build.parts.saddle.make("").rider_mass_max_g = Some(65_000.0.into());
}

/// The post's limit is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.post.make("").rider_mass_max_g = None);
