//! Bar tape: how it is wound on each side, what it takes of its roll, and what is left of that.
//!
//! From the end to the lever's clamp, and from there to where it stops on the tops, the bar is the curve of its figures and
//! a straight across. The tube is taken as round and everywhere as thick as at the levers: the bulge at the clamp, the
//! corner from ramp to tops and an oval top are not in the figures, and are within the doubt of a length told by hand.

use super::Front;
use crate::build::TapeAtLever;
use crate::model::{Known, Missing, Model};
use crate::number::Side;
use crate::{choice, fact, known};
use witnessmark_mechanics::bar::{ArcSpan, BarCurve};
use witnessmark_mechanics::tape::{Overlap, Roll, Run, Strip};

/// Tape that is tucked into the bar's end under the plug: common practice, no source.
pub const END_TUCK_MM: f64 = 40.0;
/// How far either end of the piece behind the lever goes under the hood: common practice, no source.
pub const PIECE_TUCK_MM: f64 = 20.0;
/// How far off a length of tape may be that a hand pulled, of the whole: an assumption.
pub const BY_HAND_SHARE: f64 = 0.05;

choice! {
    /// What decides the pitch.
    pub enum PitchFrom {
        /// The turns asked for, from the end to the lever.
        Turns = "turns asked",
        /// The overlap asked for, on a straight run.
        Overlap = "overlap asked",
    }
}

/// The tape of one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TapeSide {
    /// What decides the pitch.
    pub from: PitchFrom,
    /// Advance along the bar with each turn.
    pub pitch_mm: f64,
    /// Turns from the bar's end to the lever's clamp.
    pub turns_to_lever: f64,
    /// Turns from the lever's clamp to where the tape stops.
    pub turns_to_stop: f64,
    /// Bar from its end to the lever's clamp, centre line.
    pub end_to_lever_mm: f64,
    /// Bar from the lever's clamp to where the tape stops.
    pub lever_to_stop_mm: f64,
    /// From the mount's centre to where the tape stops.
    pub stop_mm: f64,
    /// Overlap on a straight run, per cent of the width.
    pub overlap_percent: f64,
    /// The least overlap, on the outside of the tightest bend; below nothing the bar shows.
    pub outside_percent: f64,
    /// The greatest overlap, on the inside of it.
    pub inside_percent: f64,
    /// Off the roll: for the helix alone.
    pub helix_mm: f64,
    /// Off the roll: what passing the lever takes more.
    pub at_lever_mm: f64,
    /// That was measured in this workshop and is not worked out.
    pub at_lever_measured: bool,
    /// Off the roll: everything, the tuck at the end too.
    pub used_mm: f64,
    /// How far off that may be, either way.
    pub plus_minus_mm: f64,
    /// Left of the roll; below nothing it is short.
    pub left_mm: f64,
    /// The piece behind the lever, where one is wanted.
    pub piece_mm: Option<f64>,
}

impl TapeSide {
    /// The piece behind the lever can be cut from what is left of this roll, for certain, for certain not, or perhaps.
    pub fn piece_from_this_roll(&self) -> Option<bool> {
        let piece_mm = self.piece_mm?;
        let (sure, possible) = (self.left_mm - self.plus_minus_mm, self.left_mm + self.plus_minus_mm);
        if sure >= piece_mm {
            Some(true)
        } else if possible < piece_mm {
            Some(false)
        } else {
            None
        }
    }
}

/// The tape of both sides.
#[derive(Clone, Debug, PartialEq)]
pub struct Tape {
    /// A tape is listed.
    pub listed: bool,
    /// The left side.
    pub left: Known<TapeSide>,
    /// The right side.
    pub right: Known<TapeSide>,
    /// How it passes the levers, where that is chosen.
    pub passes: Option<TapeAtLever>,
}

impl Tape {
    /// The tape on a side.
    pub fn side(&self, side: Side) -> &Known<TapeSide> {
        if side == Side::Right { &self.right } else { &self.left }
    }

    /// Both sides are wound alike: as many turns, and an end at the same place within a millimetre.
    pub fn alike(&self) -> Known<bool> {
        known!(left = self.left.clone(), right = self.right.clone());
        Ok((left.turns_to_lever - right.turns_to_lever).abs() <= 0.5 && (left.stop_mm - right.stop_mm).abs() <= 1.0)
    }
}

/// Winds the tape.
pub fn tape(model: &Model<'_>, front: &Front) -> Tape {
    Tape {
        listed: model.tape.part.is_some(),
        left: side(model, front, Side::Left),
        right: side(model, front, Side::Right),
        passes: fact!(model.settings, tape_at_lever).ok(),
    }
}

fn side(model: &Model<'_>, front: &Front, side: Side) -> Known<TapeSide> {
    let settings = &model.settings;
    let (turns, stop, lever) = if side == Side::Right {
        (fact!(settings, tape_turns_right), fact!(settings, tape_stop_right_mm), &model.lever_right)
    } else {
        (fact!(settings, tape_turns_left), fact!(settings, tape_stop_left_mm), &model.lever_left)
    };
    known!(
        width_mm = fact!(model.tape, width_mm),
        length_mm = fact!(model.tape, length_mm),
        thickness_mm = fact!(model.tape, thickness_mm),
        stretch_percent = fact!(model.tape, stretch_percent),
        curve = front.curve.clone(),
        hood = front.hood(side).clone(),
        across_mm = model.width_at_hoods_mm(),
        tube_mm = model.tube_mm(),
        stop_mm = stop,
    );
    if fact!(model.tape, layers).is_ok_and(|layers| layers > 1) {
        return Err(Missing::refused("the tape is worked out for one layer, and more are wanted"));
    }
    let roll = Roll { width_mm, thickness_mm, length_mm, stretch_percent };
    let strip = Strip { tube_mm, thickness_mm, width_mm: roll.wound_width_mm() };
    let to_lever = ArcSpan { from_mm: hood.clamp_arc_mm, to_mm: curve.length_mm() };
    let end_to_lever_mm = to_lever.to_mm - to_lever.from_mm;
    let (from, pitch_mm) = pitch(model, &strip, turns.ok(), end_to_lever_mm)?;
    let wound = |runs: &[Run]| {
        strip.wind(pitch_mm, runs.iter().copied()).ok_or_else(|| {
            Missing::refused("a bend of the bar is tighter than the taped bar is thick, or nothing is left to tape")
        })
    };
    let lower_runs = runs(&curve, to_lever);
    let mut upper_runs = runs(&curve, ArcSpan { from_mm: 0.0, to_mm: hood.clamp_arc_mm });
    let tops_mm = across_mm / 2.0 - stop_mm;
    if tops_mm > 0.0 {
        upper_runs.push(Run { length_mm: tops_mm, bend_mm: None });
    }
    known!(lower = wound(&lower_runs), upper = wound(&upper_runs));
    let lever_to_stop_mm = hood.clamp_arc_mm + tops_mm;
    let (at_lever_mm, at_lever_measured, piece_mm) = at_lever(model, &strip, &roll, fact!(lever, foot_to_clamp_mm))?;
    let helix_mm = roll.off_the_roll_mm(lower.strip_mm + upper.strip_mm);
    let used_mm = helix_mm + at_lever_mm + END_TUCK_MM;
    let percent = |share: f64| share * 100.0;
    let Overlap { outside, .. } =
        strip.overlap(pitch_mm, None).ok_or_else(|| Missing::refused("no pitch is possible on this bar"))?;
    Ok(TapeSide {
        from,
        pitch_mm,
        turns_to_lever: lower.turns,
        turns_to_stop: upper.turns,
        end_to_lever_mm,
        lever_to_stop_mm,
        stop_mm,
        overlap_percent: percent(outside),
        outside_percent: percent(lower.least_overlap.min(upper.least_overlap)),
        inside_percent: percent(lower.most_overlap.max(upper.most_overlap)),
        helix_mm,
        at_lever_mm,
        at_lever_measured,
        used_mm,
        plus_minus_mm: used_mm * BY_HAND_SHARE,
        left_mm: length_mm - used_mm,
        piece_mm,
    })
}

/// The pitch, by the turns where they are set, or else by the overlap.
fn pitch(model: &Model<'_>, strip: &Strip, turns: Option<f64>, end_to_lever_mm: f64) -> Known<(PitchFrom, f64)> {
    if let Some(turns) = turns {
        return if turns > 0.0 && end_to_lever_mm > 0.0 {
            Ok((PitchFrom::Turns, end_to_lever_mm / turns))
        } else {
            Err(Missing::refused("no turn of tape goes from the end to the lever"))
        };
    }
    known!(percent = fact!(model.settings, tape_overlap_percent));
    let pitch_mm = strip
        .pitch_for_mm(percent / 100.0)
        .ok_or_else(|| Missing::refused(format!("a tape cannot overlap by {percent} % on this bar")))?;
    Ok((PitchFrom::Overlap, pitch_mm))
}

/// What passing the lever takes more than the helix, off the roll; whether that was measured; the piece wanted.
fn at_lever(model: &Model<'_>, strip: &Strip, roll: &Roll, foot: Known<f64>) -> Known<(f64, bool, Option<f64>)> {
    known!(way = fact!(model.settings, tape_at_lever));
    let piece_mm = (way == TapeAtLever::Piece).then(|| strip.piece_mm(PIECE_TUCK_MM));
    if let Ok(measured_mm) = fact!(model.settings, tape_over_lever_mm) {
        return Ok((measured_mm, true, piece_mm));
    }
    let more_mm = match way {
        TapeAtLever::Piece | TapeAtLever::Once => 0.0,
        TapeAtLever::FigureOfEight => {
            known!(foot_mm = foot);
            // The clamp sits in the middle of the foot.
            roll.off_the_roll_mm(strip.figure_of_eight_mm(2.0 * foot_mm))
        }
    };
    Ok((more_mm, false, piece_mm))
}

fn runs(curve: &BarCurve, span: ArcSpan) -> Vec<Run> {
    curve.runs(span).map(|(length_mm, bend_mm)| Run { length_mm, bend_mm }).collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a side that is not known is to stop the test")]

    use super::*;
    use crate::build::Build;
    use crate::build::sample::sample;
    use crate::compute::{chassis, front};

    fn of(build: &Build) -> Tape {
        let model = Model::new(build);
        let front = front(&model, &chassis(&model));
        tape(&model, &front)
    }

    #[test]
    fn the_overlap_asked_gives_turns_and_the_turns_give_the_same_overlap_back() {
        let mut build = sample();
        build.settings.tape_turns_left = None;
        build.settings.tape_overlap_percent = Some(35.0.into());
        let by_overlap = of(&build).left.unwrap();
        assert_eq!(by_overlap.from, PitchFrom::Overlap);
        assert!((by_overlap.overlap_percent - 35.0).abs() < 1e-9);
        build.settings.tape_turns_left = Some(by_overlap.turns_to_lever.into());
        let by_turns = of(&build).left.unwrap();
        assert_eq!(by_turns.from, PitchFrom::Turns);
        assert!((by_turns.overlap_percent - 35.0).abs() < 1e-9);
    }

    #[test]
    fn more_turns_lie_closer_and_take_more_of_the_roll() {
        let mut build = sample();
        build.settings.tape_turns_left = Some(10.0.into());
        let few = of(&build).left.unwrap();
        build.settings.tape_turns_left = Some(14.0.into());
        let many = of(&build).left.unwrap();
        assert!(many.outside_percent > few.outside_percent && many.used_mm > few.used_mm && many.left_mm < few.left_mm);
        assert!(few.outside_percent < few.overlap_percent && few.overlap_percent < few.inside_percent);
        // The count of turns is the one asked for, and the rest goes on at the same pitch.
        assert!((many.turns_to_lever - 14.0).abs() < 1e-9);
        assert!((many.turns_to_stop - many.lever_to_stop_mm / many.pitch_mm).abs() < 1e-9);
    }

    #[test]
    fn a_figure_of_eight_takes_more_and_wants_no_piece() {
        let mut build = sample();
        build.settings.tape_at_lever = Some(TapeAtLever::Piece.into());
        let piece = of(&build).left.unwrap();
        assert!(piece.piece_mm.is_some_and(|mm| (70.0..120.0).contains(&mm)), "{piece:?}");
        build.settings.tape_at_lever = Some(TapeAtLever::FigureOfEight.into());
        let eight = of(&build).left.unwrap();
        assert!(eight.piece_mm.is_none() && eight.at_lever_mm > 100.0 && eight.used_mm > piece.used_mm);
        build.settings.tape_over_lever_mm = Some(90.0.into());
        let measured = of(&build).left.unwrap();
        assert!(measured.at_lever_measured && (measured.at_lever_mm - 90.0).abs() < 1e-12);
    }

    #[test]
    fn whether_the_piece_can_be_cut_from_the_roll_may_be_in_doubt() {
        let mut build = sample();
        build.settings.tape_at_lever = Some(TapeAtLever::Piece.into());
        let one = of(&build).left.unwrap();
        let mut with_roll = |length_mm: f64| {
            build.parts.tape.make("").length_mm = Some(length_mm.into());
            of(&build).left.unwrap().piece_from_this_roll()
        };
        let wanted = one.used_mm + one.piece_mm.unwrap();
        assert_eq!(with_roll(wanted + 150.0), Some(true));
        assert_eq!(with_roll(wanted), None);
        assert_eq!(with_roll(wanted - 150.0), Some(false));
    }

    #[test]
    fn without_a_choice_of_turns_or_overlap_it_is_not_known() {
        let mut build = sample();
        build.settings.tape_turns_left = None;
        build.settings.tape_overlap_percent = None;
        assert_eq!(of(&build).left.unwrap_err().paths, ["settings.tape_overlap"]);
    }
}
