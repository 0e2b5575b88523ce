//! The upper wheel stands as near the largest sprocket as the derailleur's maker wants.
//!
//! - Looks at: the gap between the tips of the upper wheel and of the largest sprocket, from the pivot's place, and
//!   the gap that the maker wants.
//! - Why: too near, it grinds and climbs; too far, it shifts late.
//! - Source: the maker's gap; that a pivot read by rule is good for 3 mm is common practice, no source
//! - Fits: 6.1 mm where 6 are wanted.
//! - Does not fit: a pivot that was set 10 mm too low.
//! - Not known: the maker's gap is not on hand.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::number::{DERAILLEUR_GAP, Side};
use witnessmark_mechanics::chain::place;
use witnessmark_mechanics::chain_line::{WheelAndSprocket, wheel_gap_mm};

/// A gap worked out from a pivot read by rule is good for so much.
pub const READ_WITHIN_MM: f64 = 3.0;
/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the maker's gap; that a pivot read by rule is good for 3 mm is common practice, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "it is a turn of a screw");
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let worked = &case.worked.transmission;
    if worked.absent {
        return;
    }
    let derailleur = crate::compute::drivetrain(case.model).rear_derailleur;
    let facts = (
        worked.chain.as_ref().map_err(Clone::clone),
        worked.gears.as_ref().map_err(Clone::clone),
        fact!(derailleur, wheel_gap_mm),
    );
    let (chain, gears, wanted_mm) = match all(facts) {
        Ok(facts) => facts,
        Err(missing) => {
            out.not_known_as(Severity::Note, &missing, "how near the upper wheel is to stand to the largest sprocket");
            return;
        }
    };
    // Set on the inner ring, where the cage swings furthest back.
    let Some((line, Ok(swing))) = gears.last().zip(chain.swings.last()) else { return };
    let Some(cage_deg) = line.cage.and_then(|cage| cage.cage_deg()) else { return };
    let drive = swing.drive();
    let upper = drive.wheels(cage_deg)[place::UPPER];
    let at = WheelAndSprocket {
        centres_mm: upper.centre.distance_mm(drive.rear_axle),
        wheel_teeth: upper.teeth,
        sprocket_teeth: line.gear.sprocket,
    };
    let Some(gap_mm) = wheel_gap_mm(at) else { return };
    if (gap_mm - wanted_mm).abs() > READ_WITHIN_MM {
        let (side, way) = if gap_mm < wanted_mm { ("near", "in") } else { ("far from", "out") };
        out.say(
            vec![About::number(&DERAILLEUR_GAP, Side::None), About::path("parts.rear_derailleur.pivot_below_largest")],
            format!("The upper wheel stands too {side} the largest sprocket."),
            format!("The pivot's place leaves {}, and {} are wanted.", mm(gap_mm), mm(wanted_mm)),
            format!("Turn the gap screw at the hanger {way}, and read the gap with a gauge."),
        );
    }
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// Set too low.
pub fn does_not_fit(build: &mut Build) {
    build.parts.rear_derailleur.make("").pivot_below_largest_mm = Some(104.0.into());
}

/// No figure on hand.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.rear_derailleur.make("").wheel_gap_mm = None);
