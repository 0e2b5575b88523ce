//! The steering lies within what the standard recommends.
//!
//! - Looks at: the head angle, and the height over the ground at which the steering axis meets the vertical through
//!   the front axle.
//! - Why: outside these a bike falls into turns or runs straight on; it is found when fork and frame come from two
//!   sizes.
//! - Source: ISO 4210-2:2015 annex A, a recommendation: 65° to 75°; the axis meets that vertical between 0.15 and 0.6
//!   of the wheel's radius
//! - Fits: 73.2° with an offset of 44 mm.
//! - Does not fit: A fork with an offset of 20 mm.
//! - Not known: Nobody told the fork's offset.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::finding::{About, Severity, deg, figure, mm};
use crate::number::{HEAD_ANGLE, Side};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "ISO 4210-2:2015 annex A, a recommendation: 65° to 75°; the axis meets that vertical between 0.15 and 0.6 of the wheel's radius";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "the standard recommends it and asks for nothing");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let facts = all((
        case.planned(&HEAD_ANGLE, Side::None),
        fact!(model.fork, offset_mm),
        fact!(model.tyre_front, outer_radius_mm),
    ));
    let (head_angle_deg, offset_mm, radius_mm) = match facts {
        Ok(facts) => facts,
        Err(missing) => {
            return out.not_known(&missing, "whether the steering lies within what the standard recommends");
        }
    };
    // The axle stands ahead of the axis by the offset, square to it; straight below the axle the axis is further down.
    let share = 1.0 - offset_mm / (head_angle_deg.to_radians().cos() * radius_mm);
    if (ANGLES_DEG.0..=ANGLES_DEG.1).contains(&head_angle_deg) && (SHARES.0..=SHARES.1).contains(&share) {
        return;
    }
    out.say(
        vec![About::number(&HEAD_ANGLE, Side::None), model.fork.at("offset")],
        "The steering lies outside what the standard recommends.".into(),
        format!(
            "The head angle is {} (65° to 75°), and with an offset of {} the axis meets the vertical through the axle at {} of \
             the wheel's radius over the ground (0.15 to 0.6).",
            deg(head_angle_deg),
            mm(offset_mm),
            figure(share, 2)
        ),
        "Measure head angle and offset; if they stand, find the fork that belongs to this frame size.".into(),
    );
}

/// Head angles.
const ANGLES_DEG: (f64, f64) = (65.0, 75.0);
/// Of the wheel's radius.
const SHARES: (f64, f64) = (0.15, 0.6);

/// 73.2° with an offset of 44 mm.
pub fn fits(_: &mut Build) {}

/// A fork with an offset of 20 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.fork.make("").offset_mm = Some(20.0.into());
}

/// Nobody told the fork's offset.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.fork.make("").offset_mm = None;
});
