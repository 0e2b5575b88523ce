//! A heavy rider has enough spokes.
//!
//! - Looks at: the rider's mass and the number of spokes of each wheel.
//! - Why: with few spokes one that breaks takes the wheel out of true at once, and the tyre touches the stay.
//! - Source: common practice, no source: from 85 kg on 24 in front and 24 behind, from 95 kg on 28 behind
//! - Fits: 68 kg on 24 spokes.
//! - Does not fit: a rider of 90 kg on 20 spokes in front.
//! - Not known: nobody counted the rear spokes.

use crate::build::Build;
use crate::check::words::kg;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::{About, Severity};
use crate::model::{Missing, Place};
use crate::number::Side;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: from 85 kg on 24 in front and 24 behind, from 95 kg on 28 behind";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a custom of wheel builders, and no limit");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let rider = Place { path: "rider", part: Some(&model.build.rider) };
    let mut lacking = Missing::default();
    let rider = take(fact!(rider, mass_g), &mut lacking);
    for end in &model.ends {
        let spokes = take(fact!(end.wheel, spokes), &mut lacking);
        let (Some(rider_g), Some(spokes)) = (rider, spokes) else { continue };
        let least = match end.side {
            Side::Rear if rider_g >= 95_000.0 => 28,
            _ if rider_g >= 85_000.0 => 24,
            _ => continue,
        };
        if spokes < least {
            out.say(
                vec![About::path("rider.mass"), end.wheel.at("spokes")],
                format!("The {} wheel has few spokes for this rider.", end.side.word()),
                format!("The rider weighs {}, the wheel has {spokes} spokes, and {least} are usual.", kg(rider_g)),
                "Talk about a stronger wheel; if it stays, true it again after the first rides.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the wheels have enough spokes for the rider");
}

/// 68 kg on 24 spokes.
pub fn fits(_: &mut Build) {}

/// A rider of 90 kg on 20 spokes in front.
pub fn does_not_fit(build: &mut Build) {
    build.rider.mass_g = Some(90_000.0.into());
    build.parts.wheel.make("front").spokes = Some(20.into());
}

/// Nobody counted the rear spokes.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("rear").spokes = None);
