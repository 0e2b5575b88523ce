//! The rider is within the frame's limits.
//!
//! - Looks at: the rider's mass against the frame's limit for riders; rider and bike against its limit for both.
//! - Why: beyond its limit a light frame is ridden without its maker's word, and without insurance.
//! - Source: the limits that the frame's maker states.
//! - Fits: 68 kg on a frame for 110.
//! - Does not fit: 115 kg on the same frame.
//! - Not known: the rider was not weighed.

use crate::build::Build;
use crate::check::words::kg;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::About;
use crate::model::{Missing, Place};
use crate::number::{MASS, Side};

/// No race bike with bottles and computer is heavier; where it makes no difference, the list need not be complete.
const HEAVIEST_BIKE_G: f64 = 15_000.0;
/// Where the limit comes from.
pub const SOURCE: &str = "the limits that the frame's maker states";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let question = "whether the rider is within the frame's limits";
    let rider = Place { path: "rider", part: Some(&model.build.rider) };
    let mut lacking = Missing::default();
    let rider = take(fact!(rider, mass_g), &mut lacking);
    let alone = take(fact!(model.frame, rider_mass_max_g), &mut lacking);
    let together = take(fact!(model.frame, system_mass_max_g), &mut lacking);
    if let (Some(rider_g), Some(most_g)) = (rider, alone)
        && rider_g > most_g
    {
        out.say(
            vec![About::path("rider.mass"), About::path("parts.frame.rider_mass_max")],
            "The rider is heavier than the frame allows.".into(),
            format!("The rider weighs {} and the frame's maker allows {}.", kg(rider_g), kg(most_g)),
            "Find another frame, or get the maker's word in writing.".into(),
        );
    }
    if let (Some(rider_g), Some(most_g)) = (rider, together) {
        let line = case.number(&MASS, Side::None);
        let weighed = line.and_then(|line| line.measured.as_ref()).map(|read| read.value);
        if rider_g + HEAVIEST_BIKE_G > most_g {
            let bike = weighed.map_or_else(|| case.planned(&MASS, Side::None), Ok);
            if let Some(bike_g) = take(bike, &mut lacking).filter(|bike_g| rider_g + bike_g > most_g) {
                out.say(
                    vec![About::path("rider.mass"), About::path("parts.frame.system_mass_max")],
                    "Rider and bike are heavier than the frame allows.".into(),
                    format!(
                        "Together they weigh {} and the frame's maker allows {}.",
                        kg(rider_g + bike_g),
                        kg(most_g)
                    ),
                    "Find another frame, or get the maker's word in writing.".into(),
                );
            }
        }
    }
    out.not_known(&lacking, question);
}

/// The sample's rider is light enough.
pub fn fits(_: &mut Build) {}

/// A heavy rider.
pub fn does_not_fit(build: &mut Build) {
    build.rider.mass_g = Some(115_000.0.into());
}

/// Nobody weighed the rider.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.rider.mass_g = None);
