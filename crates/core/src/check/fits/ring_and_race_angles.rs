//! Compression ring and crown race have the angles of their bearings.
//!
//! - Looks at: angle of the compression ring and inside the upper bearing; angle of the crown race and inside the
//!   lower bearing.
//! - Why: a ring of another angle centres the steerer on an edge: the play that was adjusted away is back after the
//!   first ride.
//! - Source: common practice, no source: 36° and 45° do not mix, inside as outside
//! - Fits: 36° above, 45° below.
//! - Does not fit: a crown race of 36° in a bearing for 45°.
//! - Not known: nobody said which angle the compression ring has.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, take};
use crate::fact;
use crate::finding::{Severity, deg};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: 36° and 45° do not mix, inside as outside";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["headset", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let headset = &model.headset;
    let mut lacking = Missing::default();
    for (which, name, at, own, bearing) in [
        (
            "upper",
            "compression ring",
            headset.at("compression_ring_angle"),
            fact!(headset, compression_ring_angle_deg),
            fact!(headset, upper_bearing_inner_angle_deg),
        ),
        (
            "lower",
            "crown race",
            model.fork.at("crown_race_angle"),
            fact!(model.fork, crown_race_angle_deg),
            fact!(headset, lower_bearing_inner_angle_deg),
        ),
    ] {
        let Some((own_deg, bearing_deg)) = take(all((own, bearing)), &mut lacking) else { continue };
        if (own_deg - bearing_deg).abs() > 1.0 {
            out.say(
                vec![at, headset.at(&format!("{which}_bearing_inner_angle"))],
                format!("The {name} has another angle than the {which} bearing."),
                format!("The {name} has {} and the bearing {} inside.", deg(own_deg), deg(bearing_deg)),
                format!("Find a {name} of {}, or the bearing for it.", deg(bearing_deg)),
            );
        }
    }
    out.not_known_as(
        Severity::Note,
        &lacking,
        "whether compression ring and crown race have the angles of their bearings",
    );
}

/// 36° above, 45° below.
pub fn fits(_: &mut Build) {}

/// A crown race of 36° in a bearing for 45°.
pub fn does_not_fit(build: &mut Build) {
    build.parts.fork.make("").crown_race_angle_deg = Some(36.0.into());
}

/// Nobody said which angle the compression ring has.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.parts.headset.make("").compression_ring_angle_deg = None);
