//! The toe meets the front tyre only in turns that nobody pedals through.
//!
//! - Looks at: the smallest angle of the bar at which the tyre can touch the shoe, and the radius of that turn.
//! - Why: on a small frame the toe touches in a slow turn, the wheel stops turning, and the rider falls.
//! - Source: common practice, no source: at walking pace the bar is turned up to about 20°; a touch below 12° comes in
//!   turns of five metres' radius. The rule 16 CFR 1512.17(d), 89 mm ahead of the pedal, holds for pedals without foot
//!   retention only, and a bike that passes it still touches.
//! - Fits: short cranks and a short shoe, which clear 20°.
//! - Does not fit: a long shoe on long cranks, which touches at once.
//! - Not known: nobody measured how far the shoe stands ahead of the pedal.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::finding::{About, Severity, deg, figure};
use crate::number::{HEAD_ANGLE, Side, TOE_CONTACT, WHEELBASE};
use witnessmark_mechanics::toe::SlowTurn;

/// The bar is turned so far at walking pace.
const SLOW_TURN_DEG: f64 = 20.0;
/// A touch below this is met in turns that are pedalled through.
const PEDALLED_TURN_DEG: f64 = 12.0;
/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: 20° at walking pace, 12° in turns that are pedalled";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let contact = case.planned(&TOE_CONTACT, Side::None);
    let Some(contact_deg) = out.need(contact, "at what angle of the bar the toe meets the tyre") else { return };
    if contact_deg >= SLOW_TURN_DEG {
        return;
    }
    let turn = match (case.planned(&WHEELBASE, Side::None), case.planned(&HEAD_ANGLE, Side::None)) {
        (Ok(wheelbase_mm), Ok(head_angle_deg)) if contact_deg > 0.0 => {
            let radius_mm = SlowTurn { wheelbase_mm, head_angle_deg, steer_deg: contact_deg }.radius_mm();
            format!(", in a turn of {} m radius", figure(radius_mm / 1000.0, 1))
        }
        _ => String::new(),
    };
    let severity = if contact_deg < PEDALLED_TURN_DEG { Severity::Caution } else { Severity::Note };
    out.say_as(
        severity,
        vec![About::number(&TOE_CONTACT, Side::None)],
        if contact_deg > 0.0 {
            "The toe can touch the front tyre in a slow turn.".into()
        } else {
            "The toe touches the front tyre even straight ahead.".into()
        },
        format!("They meet with the bar turned {}{turn}.", deg(contact_deg)),
        "Tell the rider at hand-over, and show it on the stand with the rider's own shoe.".into(),
    );
}

/// Short cranks, and a shoe set well back.
pub fn fits(build: &mut Build) {
    build.parts.crankset.make("").arm_length_mm = Some(160.0.into());
    build.parts.pedal.make("").toe_ahead_mm = Some(90.0.into());
}

/// Long cranks and a long shoe.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").arm_length_mm = Some(175.0.into());
    build.parts.pedal.make("").toe_ahead_mm = Some(150.0.into());
}

/// Nobody measured the shoe.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.pedal.make("").toe_ahead_mm = None);
