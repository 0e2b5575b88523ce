//! The through axles hold by enough turns.
//!
//! - Looks at: length and pitch of each axle's thread.
//! - Why: an axle that holds by a few turns strips them in the fork, and the wheel is then held by nothing.
//! - Source: common practice, no source: eight turns or more
//! - Fits: 14 mm at 1.5 in front, at 1 behind.
//! - Does not fit: a front axle with 9 mm of thread.
//! - Not known: nobody measured the front axle's thread.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, take};
use crate::fact;
use crate::finding::{Severity, figure, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: eight turns or more";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["axle"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        if end.axle.part.is_none() {
            continue;
        }
        let facts = all((fact!(end.axle, thread_length_mm), fact!(end.axle, pitch_mm)));
        let Some((thread_mm, pitch_mm)) = take(facts, &mut lacking) else { continue };
        let turns = thread_mm / pitch_mm;
        if turns < LEAST_TURNS {
            out.say(
                vec![end.axle.at("thread_length"), end.axle.at("pitch")],
                format!("The {} axle holds by too few turns.", end.side.word()),
                format!(
                    "Its thread of {} at a pitch of {} mm makes {} turns; {} are wanted.",
                    mm(thread_mm),
                    figure(pitch_mm, 2),
                    figure(turns, 1),
                    figure(LEAST_TURNS, 0)
                ),
                "Count the turns as it goes in, and use the axle that the maker of fork or frame names.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the axles hold by enough turns");
}

/// Turns of thread that hold a wheel.
const LEAST_TURNS: f64 = 8.0;

/// 14 mm at 1.5 in front, at 1 behind.
pub fn fits(_: &mut Build) {}

/// A front axle with 9 mm of thread.
pub fn does_not_fit(build: &mut Build) {
    build.parts.axle.make("front").thread_length_mm = Some(9.0.into());
}

/// Nobody measured the front axle's thread.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.axle.make("front").thread_length_mm = None);
