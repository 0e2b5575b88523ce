//! The axle heads sit in frame and fork.
//!
//! - Looks at: shape of each axle's head, and the shape that frame and fork take.
//! - Why: a cone in a flat seat bears on its edge and comes loose; a flat head in a cone stands out and never clamps.
//! - Source: the axle that the makers of frame and fork name
//! - Fits: flush cones throughout.
//! - Does not fit: a flat head with a washer in the fork.
//! - Not known: nobody looked at the fork's seat.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the axle that the makers of frame and fork name";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["axle", "frame", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let [front, rear] = &model.ends;
    let mut lacking = Missing::default();
    for (end, seat, at, holder) in [
        (front, fact!(model.fork, axle_head), model.fork.at("axle_head"), "fork"),
        (rear, fact!(model.frame, axle_head), model.frame.at("axle_head"), "frame"),
    ] {
        if end.axle.part.is_none() {
            continue;
        }
        let Some((own, seat)) = take(all((fact!(end.axle, head), seat)), &mut lacking) else { continue };
        if !compare::same_name(&own, &seat) {
            out.say(
                vec![end.axle.at("head"), at],
                format!("The {} axle's head does not sit in the {holder}.", end.side.word()),
                format!("Its head is «{own}» and the {holder} takes «{seat}»."),
                format!("Use the axle that the {holder}'s maker names."),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the axle heads sit in frame and fork");
}

/// Flush cones throughout.
pub fn fits(_: &mut Build) {}

/// A flat head with a washer in the fork.
pub fn does_not_fit(build: &mut Build) {
    build.parts.axle.make("front").head = Some("flat with washer".into());
}

/// Nobody looked at the fork's seat.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").axle_head = None);
