//! The hubs go between fork ends and stays.
//!
//! - Looks at: axle and hub spacing of each wheel; axle and spacing of fork and frame.
//! - Why: a hub that is narrower is clamped on nothing, one that is wider does not go in; axles of 12 and 15 mm do not
//!   mix either.
//! - Source: common practice, no source: 12 x 100 in front and 12 x 142 behind on road bikes with disc brakes
//! - Fits: 12 x 100 and 12 x 142, on both sides.
//! - Does not fit: a rear wheel for 12 x 148.
//! - Not known: nobody said which axle the front wheel takes.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, sizes, take};
use crate::fact;
use crate::finding::{figure, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: 12 x 100 in front and 12 x 142 behind on road bikes with disc brakes";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["wheel", "frame", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let [front, rear] = &model.ends;
    let mut lacking = Missing::default();
    for (end, own, at, holder) in [
        (front, fact!(model.fork, axle), model.fork.at("axle"), "fork"),
        (rear, fact!(model.frame, axle), model.frame.at("axle"), "frame"),
    ] {
        let wheel = fact!(end.wheel, axle).and_then(|text| sizes::through_axle(&text));
        let own = own.and_then(|text| sizes::through_axle(&text));
        let Some((wheel, own)) = take(all((wheel, own)), &mut lacking) else { continue };
        if !compare::same_within(wheel.diameter_mm, own.diameter_mm, 0.1)
            || !compare::same_within(wheel.spacing_mm, own.spacing_mm, 0.5)
        {
            let axle =
                |axle: sizes::ThroughAxle| format!("{} x {}", figure(axle.diameter_mm, 1), figure(axle.spacing_mm, 1));
            out.say(
                vec![end.wheel.at("axle"), at],
                format!("The {} wheel does not go into the {holder}.", end.side.word()),
                format!("The wheel is made for {} and the {holder} for {}.", axle(wheel), axle(own)),
                "Ask the hub's maker for other end caps; where there are none, it is the wrong wheel.".into(),
            );
        }
        // The hub's own spacing was measured over its end caps; it must be that of its axle.
        if let Ok(measured_mm) = fact!(end.wheel, hub_spacing_mm)
            && !compare::same_within(measured_mm, wheel.spacing_mm, 0.5)
        {
            out.say(
                vec![end.wheel.at("hub_spacing"), end.wheel.at("axle")],
                format!("The {} hub is not as wide as its axle says.", end.side.word()),
                format!("Its end caps are {} apart and its axle is for {}.", mm(measured_mm), mm(wheel.spacing_mm)),
                "Look whether an end cap is missing or belongs to another hub.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether the wheels go into fork and frame");
}

/// 12 x 100 and 12 x 142, on both sides.
pub fn fits(_: &mut Build) {}

/// A rear wheel for 12 x 148.
pub fn does_not_fit(build: &mut Build) {
    build.parts.wheel.make("rear").axle = Some("12 x 148".into());
}

/// Nobody said which axle the front wheel takes.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("front").axle = None);
