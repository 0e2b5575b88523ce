//! The rings clear the chainstay.
//!
//! - Looks at: the distance of each ring from the bike's plane, half its thickness, and the outer face of the stay
//!   where its tips pass.
//! - Why: frame and ring flex under load; a ring that touches the stay saws into it.
//! - Source: at least 2 mm, 3 where frame or cranks are soft; common practice, no source
//! - Fits: 6.8 and 11.3 mm of room.
//! - Does not fit: a wide stay that leaves 1.3 mm.
//! - Not known: nobody measured the stay's face; then the frame maker's largest ring is the limit.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::finding::{About, Severity, mm};
use crate::number::{CHAIN_LINE, Side};

/// Least room.
pub const ROOM_LEAST_MM: f64 = 2.0;
/// Where the limit or the custom comes from.
pub const SOURCE: &str = "at least 2 mm, 3 where frame or cranks are soft; common practice, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let worked = &case.worked.transmission;
    if worked.absent {
        return;
    }
    let rooms_mm = match &worked.stay_room_mm {
        Ok(rooms_mm) => rooms_mm,
        Err(missing) => {
            out.not_known_as(Severity::Note, missing, "how much room the rings have to the chainstay");
            return;
        }
    };
    let Ok(rings) = &worked.rings else { return };
    for (ring, room_mm) in rings.iter().zip(rooms_mm) {
        if *room_mm < ROOM_LEAST_MM {
            out.say(
                vec![About::path("parts.frame.stay_face"), About::number(&CHAIN_LINE, Side::None)],
                format!("The ring of {ring} teeth stands too near the chainstay."),
                format!("It has {} of room and {} are the least.", mm(*room_mm), mm(ROOM_LEAST_MM)),
                "Fit a smaller ring, or move the cranks out where their maker allows it.".into(),
            );
        }
    }
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// A wide stay.
pub fn does_not_fit(build: &mut Build) {
    build.parts.frame.make("").stay_face_inner_ring_mm = Some(38.5.into());
}

/// Nobody measured the stay.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").stay_face_mm = None);
