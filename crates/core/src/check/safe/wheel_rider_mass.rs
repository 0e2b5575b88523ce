//! The wheels carry this rider.
//!
//! - Looks at: the rider's mass, and the heaviest rider that the maker of each wheel allows.
//! - Why: light wheels have few spokes and thin rims; beyond the limit they break spokes first, then the rim.
//! - Source: the limit that the wheel's maker states
//! - Fits: 68 kg on wheels for 115.
//! - Does not fit: a rider of 68 kg on a front wheel for 60.
//! - Not known: the rear wheel's limit is not told.

use crate::build::Build;
use crate::check::words::kg;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::{About, Severity};
use crate::model::{Missing, Place};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the limit that the wheel's maker states";
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
    for end in &model.ends {
        let most = take(fact!(end.wheel, rider_mass_max_g), &mut lacking);
        let (Some(rider_g), Some(most_g)) = (rider, most) else { continue };
        if rider_g > most_g {
            out.say(
                vec![About::path("rider.mass"), end.wheel.at("rider_mass_max")],
                format!("The rider is heavier than the {} wheel allows.", end.side.word()),
                format!("The rider weighs {} and the wheel's maker allows {}.", kg(rider_g), kg(most_g)),
                "Choose a wheel with more spokes, or get the maker's word in writing.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the wheels carry this rider");
}

/// 68 kg on wheels for 115.
pub fn fits(_: &mut Build) {}

/// A rider of 68 kg on a front wheel for 60.
pub fn does_not_fit(build: &mut Build) {
    build.parts.wheel.make("front").rider_mass_max_g = Some(60_000.0.into());
}

/// The rear wheel's limit is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("rear").rider_mass_max_g = None);
