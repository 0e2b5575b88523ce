//! The through axles are those of frame and fork.
//!
//! - Looks at: length and thread pitch of each axle, and what frame and fork want.
//! - Why: an axle of another pitch goes in for three turns and takes the thread of a new fork with it; a long one
//!   meets the rotor.
//! - Source: the axle that the makers of frame and fork name; length within 1 mm
//! - Fits: 120 mm at 1.5 in the fork, 164 mm at 1 in the frame.
//! - Does not fit: a rear axle with a pitch of 1.5.
//! - Not known: the pitch of the fork's thread is not told.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, all, compare, sentence, take};
use crate::fact;
use crate::finding::{About, figure, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the axle that the makers of frame and fork name; length within 1 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["axle", "frame", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let [front, rear] = &model.ends;
    let mut lacking = Missing::default();
    let fork = (fact!(model.fork, axle_length_mm), fact!(model.fork, axle_pitch_mm), model.fork.path, "fork");
    let frame = (fact!(model.frame, axle_length_mm), fact!(model.frame, axle_pitch_mm), model.frame.path, "frame");
    for (end, (length, pitch, path, holder)) in [(front, fork), (rear, frame)] {
        // An axle that is not listed comes with its frame or fork.
        if end.axle.part.is_none() {
            continue;
        }
        let mut about = Vec::new();
        let mut each = Vec::new();
        if let Some((own_mm, wanted_mm)) = take(all((fact!(end.axle, length_mm), length)), &mut lacking)
            && !compare::same_within(own_mm, wanted_mm, 1.0)
        {
            about.extend([end.axle.at("length"), About::path(&format!("{path}.axle_length"))]);
            each.push(format!("it is {} long and the {holder} wants {}", mm(own_mm), mm(wanted_mm)));
        }
        if let Some((own_mm, wanted_mm)) = take(all((fact!(end.axle, pitch_mm), pitch)), &mut lacking)
            && !compare::same_within(own_mm, wanted_mm, 0.0)
        {
            about.extend([end.axle.at("pitch"), About::path(&format!("{path}.axle_pitch"))]);
            each.push(format!(
                "its thread has a pitch of {} mm and the {holder} wants {} mm",
                figure(own_mm, 2),
                figure(wanted_mm, 2)
            ));
        }
        if !each.is_empty() {
            out.say(
                about,
                format!("The {} axle is not that of the {holder}.", end.side.word()),
                format!("{}.", sentence(&and_list(&each))),
                format!("Use the axle that the {holder}'s maker names; never turn another in with a tool."),
            );
        }
    }
    out.not_known(&lacking, "whether the axles are those of frame and fork");
}

/// 120 mm at 1.5 in the fork, 164 mm at 1 in the frame.
pub fn fits(_: &mut Build) {}

/// A rear axle with a pitch of 1.5.
pub fn does_not_fit(build: &mut Build) {
    build.parts.axle.make("rear").pitch_mm = Some(1.5.into());
}

/// The pitch of the fork's thread is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").axle_pitch_mm = None);
