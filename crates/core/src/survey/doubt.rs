//! Which reading to doubt, and which slip of the hand would explain it.
//!
//! The survey as a whole is held against chi-square, each reading against Baarda's test. Where one reading explains the
//! disagreement far better than any other, it is set aside until it is read again; where several explain it nearly as
//! well, they are named together, all of them stay in, and all are asked for again. A slip is tried as a hypothesis: what
//! should have been read, and is that what the other readings say?

use super::net::{Item, Layout};
use super::points::other_side;
use super::solve::{Solved, solve};
use super::words;
use crate::build::{SurveyPoint, Taken};
use crate::finding::{figure, mm};
use crate::model::Missing;
use std::collections::BTreeSet;
use witnessmark_mechanics::adjustment::{Alarm, Bias};

/// One reading explains the disagreement better than another when the odds are 20 to 1: twice the logarithm of that, in
/// squared deviates.
const CLEARLY_BETTER: f64 = 5.991_464_547;

/// Two readings whose mistakes look more alike than this cannot be told apart by any disagreement that is likely to occur.
pub(super) const LOOK_ALIKE: f64 = 0.95;

/// A reading with a smaller redundancy number is checked by next to nothing. Common practice in geodesy: 0.1.
pub(super) const UNCHECKED_BELOW: f64 = 0.1;

/// A slip explains a reading that it puts within so many standard uncertainties of what the others say.
const EXPLAINS_WITHIN: f64 = 2.0;

/// So many tapes are needed before their common end can be doubted. Source: with fewer, the network's size takes the
/// mistake up.
const TAPES_FOR_AN_END: usize = 6;

/// A reading in doubt, or several that cannot be told apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Their places in the survey's list of readings, the likeliest first; `None` for an assumption.
    pub readings: Vec<Doubted>,
    /// It was set aside: the values of the survey come from the others.
    pub set_aside: bool,
}

/// One reading in doubt.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubted {
    /// Its place in the survey's list; `None` for an assumption.
    pub place: Option<usize>,
    /// What it is.
    pub words: String,
    /// It is an angle.
    pub is_angle: bool,
    /// As it was read, from point to point.
    pub value: f64,
    /// What all other readings make of it.
    pub allowed: f64,
    /// Standard uncertainty of the difference between the two.
    pub sd: f64,
    /// The difference in standard uncertainties.
    pub deviate: f64,
    /// How many other readings have a say in it.
    pub others: usize,
    /// Slips that would explain it, the likeliest first.
    pub slips: Vec<Slip>,
}

/// A slip that would explain a reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Slip {
    /// As a question: "was 563 read for 553".
    pub words: String,
    /// How far what would then have been right lies from what the others say, in standard uncertainties.
    pub off: f64,
}

/// All tapes are too long or too short by the same.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WornEnd {
    /// By how much, mm; too long is positive.
    pub too_long: Bias,
    /// How many tapes.
    pub tapes: usize,
}

/// What the tests found.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Doubts {
    pub(super) suspects: Vec<Suspect>,
    pub(super) worn_end: Option<WornEnd>,
    pub(super) aside: BTreeSet<usize>,
}

/// At most so many readings are set aside; a survey with more slips is to be taken again.
const MOST_ASIDE: usize = 4;

/// Tests a solved survey, and solves it again without what is set aside.
pub(super) fn examine(
    layout: &Layout,
    all: &[Item],
    mut solved: Solved,
    alarm: Alarm,
    bar_radius_mm: Option<f64>,
) -> Result<(Solved, Doubts), Missing> {
    let mut doubts = Doubts::default();
    for _ in 0..=MOST_ASIDE {
        let Some((worst, deviate)) = worst(&solved) else { break };
        if let Some(worn) = worn_end(&solved).filter(|worn| worn.too_long.deviate().abs() > alarm.beyond)
            && worn.too_long.deviate().abs() > deviate
        {
            doubts.worn_end = Some(worn);
            break;
        }
        if deviate <= alarm.beyond {
            break;
        }
        let mut group = vec![worst];
        for other in 0..solved.readings.len() {
            let explains = solved.adjusted.deviate(other).map_or(0.0, f64::abs);
            let alike = solved.adjusted.likeness(worst, other).is_some_and(|alike| alike.abs() > LOOK_ALIKE);
            let as_well = deviate * deviate - explains * explains < CLEARLY_BETTER;
            if other != worst && (alike || as_well) {
                group.push(other);
            }
        }
        group[1..].sort_by(|a, b| {
            let explains = |at: &usize| solved.adjusted.deviate(*at).map_or(0.0, f64::abs);
            explains(b).total_cmp(&explains(a))
        });
        let alone = group.len() == 1 && solved.places[worst].is_some() && doubts.aside.len() < MOST_ASIDE;
        let readings: Vec<Doubted> =
            group.iter().filter_map(|at| doubted(layout, all, &solved, *at, &doubts.aside, bar_radius_mm)).collect();
        doubts.suspects.push(Suspect { readings, set_aside: alone });
        if !alone {
            break;
        }
        doubts.aside.extend(solved.places[worst]);
        solved = solve(layout, all, &doubts.aside)?;
    }
    Ok((solved, doubts))
}

/// The reading that disagrees most, and by how many standard uncertainties.
fn worst(solved: &Solved) -> Option<(usize, f64)> {
    (0..solved.readings.len())
        .filter_map(|at| solved.adjusted.deviate(at).map(|deviate| (at, deviate.abs())))
        .max_by(|(_, a), (_, b)| a.total_cmp(b))
}

fn worn_end(solved: &Solved) -> Option<WornEnd> {
    let tapes = solved.items.iter().filter(|item| item.is_tape()).count();
    if tapes < TAPES_FOR_AN_END {
        return None;
    }
    let too_long = solved.adjusted.shared_error(|at| f64::from(u8::from(solved.items[at].is_tape())))?;
    Some(WornEnd { too_long, tapes })
}

/// By how much a reading is too large for the bike that the others give: solved again without it, because a gross slip
/// bends the whole network.
fn error_without(layout: &Layout, all: &[Item], solved: &Solved, at: usize, aside: &BTreeSet<usize>) -> Option<Bias> {
    let mut without = aside.clone();
    without.insert(solved.places[at]?);
    let others = solve(layout, all, &without).ok()?;
    let row = layout.network(&others.readings).row(&solved.readings[at], others.adjusted.values());
    let variance = others.adjusted.variance_of(row.terms())?;
    Some(Bias { size: -row.misfit, sd: variance.sqrt().hypot(solved.items[at].sd) })
}

fn doubted(
    layout: &Layout,
    all: &[Item],
    solved: &Solved,
    at: usize,
    aside: &BTreeSet<usize>,
    bar_radius_mm: Option<f64>,
) -> Option<Doubted> {
    let item = &solved.items[at];
    let value = item.value?;
    let error = error_without(layout, all, solved, at, aside).or_else(|| solved.adjusted.seeming_error(at))?;
    let others = (0..solved.readings.len())
        .filter(|other| *other != at && solved.adjusted.likeness(at, *other).is_some_and(|alike| alike.abs() > 0.05))
        .count();
    let allowed = value - error.size;
    Some(Doubted {
        place: solved.places[at],
        words: item.words.clone(),
        is_angle: item.is_angle(),
        value,
        allowed,
        sd: error.sd,
        deviate: error.deviate().abs(),
        others,
        slips: if item.assumed { Vec::new() } else { slips(layout, solved, at, allowed, error, bar_radius_mm) },
    })
}

/// The classic slips, each tried against what the other readings say, the likeliest first.
fn slips(
    layout: &Layout,
    solved: &Solved,
    at: usize,
    allowed: f64,
    error: Bias,
    bar_radius_mm: Option<f64>,
) -> Vec<Slip> {
    let item = &solved.items[at];
    let Some(value) = item.value else { return Vec::new() };
    // What stood on the tape, without what was added.
    let read = value - item.added_mm;
    let mut found: Vec<Slip> = Vec::new();
    let mut put = |right: f64, sd: f64, words: String| {
        let off = (right - allowed).abs() / sd;
        if off <= EXPLAINS_WITHIN {
            found.push(Slip { words, off });
        }
    };
    if item.is_angle() {
        put(-value, error.sd, "was the angle read with the wrong sign".to_owned());
        put(90.0 - value, error.sd, "was the angle read from the plumb line and not from the level".to_owned());
        put(180.0 - value, error.sd, "was the gauge laid on the other way round".to_owned());
    } else {
        for by in [10.0, -10.0, 100.0, -100.0, 20.0, -20.0, 50.0, -50.0] {
            put(value - by, error.sd, format!("was {} read for {}", figure(read, 1), figure(read - by, 1)));
        }
        put(
            read * 25.4 + item.added_mm,
            error.sd,
            format!("was {} read off the inch side of the tape", figure(read, 2)),
        );
        put(read * 10.0 + item.added_mm, error.sd, format!("is {} in centimetres", figure(read, 1)));
        put(read / 10.0 + item.added_mm, error.sd, format!("was a zero too many written in {}", figure(read, 1)));
        if item.added_mm.abs() > 0.0 {
            put(read, error.sd, format!("were {} added to a tape that went to the centre already", mm(item.added_mm)));
        }
        for (right, text) in exchanged(read) {
            put(right + item.added_mm, error.sd, format!("were two figures exchanged, {} for {text}", figure(read, 1)));
        }
        let to_bar = [item.from, item.to].contains(&SurveyPoint::BarClamp);
        if let (true, Some(radius)) = (to_bar, bar_radius_mm) {
            let edge = match item.what {
                Taken::Height | Taken::Above => "to the top of the bar instead of its centre",
                _ => "to the far edge of the bar, or with the end hooked behind it, instead of its centre",
            };
            put(value - radius, error.sd, format!("did it go {edge}"));
            let near = match item.what {
                Taken::Height | Taken::Above => "to the underside of the bar instead of its centre",
                _ => "to the near edge of the bar instead of its centre",
            };
            put(value + radius, error.sd, format!("did it go {near}"));
        }
        // A hook at the tape's end that catches behind an axle or a bolt's head: some millimetres too long.
        if item.is_tape() && (2.0..=9.0).contains(&error.size) {
            put(
                value - 5.0,
                error.sd,
                "did the hook at the tape's end catch behind the point instead of lying on it".to_owned(),
            );
        }
    }
    wrong_points(layout, solved, at, &mut found);
    found.sort_by(|a, b| a.off.total_cmp(&b.off));
    found.truncate(3);
    found
}

/// What two figures next to each other read when exchanged: the value, and how it is written.
fn exchanged(read: f64) -> Vec<(f64, String)> {
    let text = figure(read, 1);
    let letters: Vec<char> = text.chars().collect();
    let whole = text.find('.').unwrap_or(letters.len());
    (1..whole)
        .filter(|at| {
            letters[*at].is_ascii_digit() && letters[at - 1].is_ascii_digit() && letters[*at] != letters[at - 1]
        })
        .filter_map(|at| {
            let mut other = letters.clone();
            other.swap(at - 1, at);
            let text: String = other.into_iter().collect();
            text.parse().ok().map(|value| (value, text.clone()))
        })
        .collect()
}

/// The tape went to another point than the one that was written down: left for right, one end of the saddle for the other.
fn wrong_points(layout: &Layout, solved: &Solved, at: usize, found: &mut Vec<Slip>) {
    let item = &solved.items[at];
    let Some(value) = item.value else { return };
    let also_taken_for = |point: SurveyPoint| -> Vec<SurveyPoint> {
        use SurveyPoint::{Collar, HeadBottom, HeadTop, RailClamp, SaddleNose, SaddleTail, SaddleTop};
        match point {
            SaddleNose => vec![SaddleTop],
            SaddleTop => vec![SaddleNose, SaddleTail],
            HeadTop => vec![HeadBottom],
            HeadBottom => vec![HeadTop],
            Collar => vec![RailClamp],
            RailClamp => vec![Collar],
            other => other_side(other).into_iter().collect(),
        }
    };
    let network = layout.network(&solved.readings);
    let values = solved.adjusted.values();
    let mut try_points = |from: SurveyPoint, to: SurveyPoint, meant: SurveyPoint, was: SurveyPoint| {
        if from == to && item.from != item.to {
            return;
        }
        let other = Item { from, to, ..item.clone() };
        let Some(taken) = layout.taken(&other) else { return };
        let mut row = network.row(&witnessmark_mechanics::network::Reading { taken, value, sd: item.sd }, values);
        // How well the others know what the tape would have read between those points.
        row.misfit = 0.0;
        let Some(variance) = solved.adjusted.variance_of(row.terms()) else { return };
        let sd = variance.sqrt().hypot(item.sd);
        let off = (network.would_read(taken, values) - value).abs() / sd;
        if off <= EXPLAINS_WITHIN {
            let words = format!("was it the {} and not the {}", words::point(was), words::point(meant));
            found.push(Slip { words, off });
        }
    };
    if matches!(item.what, Taken::Across | Taken::SaddleTilt | Taken::FloorSlope) {
        return;
    }
    let single = item.from == item.to;
    for was in also_taken_for(item.to) {
        try_points(if single { was } else { item.from }, was, item.to, was);
    }
    if !single {
        for was in also_taken_for(item.from) {
            try_points(was, item.to, item.from, was);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exchanged_figures_are_those_next_to_each_other() {
        let values: Vec<f64> = exchanged(563.5).into_iter().map(|(value, _)| value).collect();
        assert_eq!(values, [653.5, 536.5]);
        assert!(exchanged(55.0).is_empty());
    }
}
