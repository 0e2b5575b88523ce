//! The tape covers the outside of the bend, and lasts to its stop.
//!
//! - Looks at: the overlap on the outside of the tightest bend, the glue on the tape's back, what is left of the roll, and
//!   the piece behind the lever.
//! - Why: turns fan out on the outside of a bend; there the bar shows first, and glue that does not lie on the bar lets go.
//! - Source: common practice, no source: a quarter to a third overlaps, with glue a third at least
//! - Fits: nine turns to the lever, and a hand's breadth left.
//! - Does not fit: six turns of a tape of 30 mm.
//! - Not known: nobody measured how far the tape is pulled.

use crate::build::Build;
use crate::check::{Case, Report, Weight, sentence};
use crate::fact;
use crate::finding::{About, Severity, figure, mm};
use crate::number::{self, Side};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: a quarter to a third overlaps, with glue a third at least";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "it is wound again in a quarter of an hour");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The least overlap on the outside of a bend, per cent.
const LEAST_PERCENT: f64 = 10.0;
/// The least overlap on a straight run of a tape with glue on its back, per cent.
const WITH_GLUE_PERCENT: f64 = 30.0;

/// The check. A workshop that plans no tape is not asked for it.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let (model, tape) = (case.model, &case.worked.tape);
    let settings = &model.build.settings;
    let planned = settings.tape_turns_left.is_some()
        || settings.tape_turns_right.is_some()
        || settings.tape_overlap_percent.is_some();
    if !tape.listed || !planned {
        return;
    }
    let glue = fact!(model.tape, adhesive).unwrap_or(false);
    let mut lacking = crate::model::Missing::default();
    for side in [Side::Left, Side::Right] {
        let one = match tape.side(side) {
            Ok(one) => one,
            Err(missing) => {
                lacking = lacking.and(missing);
                continue;
            }
        };
        let about = || vec![About::number(&number::TAPE_OVERLAP, side), About::number(&number::TAPE_TURNS, side)];
        if one.outside_percent < LEAST_PERCENT {
            let (what, shows) = if one.outside_percent < 0.0 {
                ("leaves the bar bare on the outside of the bend", "the bar shows between the turns")
            } else {
                ("hardly overlaps on the outside of the bend", "it opens with the first hard pull")
            };
            out.say(
                about(),
                sentence(&format!("the tape on the {} {what}.", side.word())),
                format!(
                    "At a pitch of {} the turns overlap by {} % there: {shows}.",
                    mm(one.pitch_mm),
                    figure(one.outside_percent, 0)
                ),
                "Wind closer: a turn or two more from the end to the lever, on both sides alike.".into(),
            );
        } else if glue && one.overlap_percent < WITH_GLUE_PERCENT {
            out.say(
                about(),
                sentence(&format!("the glue of the tape on the {} meets tape and not bar.", side.word())),
                format!("The turns overlap by {} % on a straight run.", figure(one.overlap_percent, 0)),
                "With glue on its back, let a third or more overlap.".into(),
            );
        }
        if one.left_mm < 0.0 {
            out.say(
                vec![About::number(&number::TAPE_LEFT, side)],
                sentence(&format!("the roll on the {} does not reach its stop.", side.word())),
                format!(
                    "It takes {} ± {}, and the roll is {} long.",
                    mm(one.used_mm),
                    mm(one.plus_minus_mm.round()),
                    mm(one.used_mm + one.left_mm)
                ),
                "Wind a little further apart, end the tape further out on both sides, or choose a longer roll.".into(),
            );
        } else if one.piece_from_this_roll() == Some(false) {
            out.say_as(
                Severity::Note,
                vec![About::number(&number::TAPE_LEFT, side)],
                sentence(&format!("the piece behind the {} lever does not come out of this roll.", side.word())),
                format!(
                    "{} are left and {} are wanted.",
                    mm(one.left_mm.round()),
                    mm(one.piece_mm.unwrap_or(0.0).round())
                ),
                "Cut the pieces from a third roll, or wrap a figure of eight.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "how the tape lies on the bends");
}

/// Nine turns to the lever, and a hand's breadth left.
pub fn fits(_: &mut Build) {}

/// Six turns of a tape of 30 mm.
pub fn does_not_fit(build: &mut Build) {
    build.settings.tape_turns_left = Some(6.0.into());
    build.settings.tape_turns_right = Some(6.0.into());
}

/// Nobody measured how far the tape is pulled.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.tape.make("").stretch_percent = None);
