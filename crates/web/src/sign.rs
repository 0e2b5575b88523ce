//! The witness sign: three short strokes, asked over planned over measured, on one scale with the tolerance behind.
//!
//! In line, they are one unbroken line; moved, the line is broken where it moved; not read, its foot is missing. An
//! uncertain reading has a paler width about its stroke. The scale ends three tolerances from the middle; a stroke beyond it is an
//! arrow tip at the end it left by.

use crate::words;
use maud::{Markup, html};
use std::fmt::Write as _;
use witnessmark_core::compute::{PlannedNumber, Verdict};
use witnessmark_core::field::Choice;

/// The width of a sign, in its own units.
const WIDTH: f64 = 72.0;
/// The height of a stroke; three of them touch.
const ROW: f64 = 10.0;
/// The width of one tolerance.
const STEP: f64 = 10.0;
/// How many tolerances the scale holds to either side.
const REACH: f64 = 3.0;
/// The width of a stroke.
const STROKE: f64 = 4.0;

/// The values of one number, in one unit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Values {
    /// As asked.
    pub(crate) asked: Option<f64>,
    /// As worked out.
    pub(crate) planned: Option<f64>,
    /// As read.
    pub(crate) measured: Option<f64>,
    /// How far the truth may be from the reading.
    pub(crate) plus_minus: f64,
    /// How far off is still the same.
    pub(crate) tolerance: f64,
}

/// Where a stroke stands.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Stroke {
    /// On the scale: its middle, and the width of the interval in which the truth surely lies.
    At { x: f64, width: f64 },
    /// Left of it.
    Below,
    /// Right of it.
    Above,
}

impl Values {
    /// What the others are held against: the middle of the scale.
    fn middle(&self) -> Option<f64> {
        self.asked.or(self.planned).or(self.measured)
    }

    /// Asked, planned, measured.
    fn strokes(&self) -> [Option<Stroke>; 3] {
        let Some(middle) = self.middle() else { return [None; 3] };
        // Where nothing may be off, a whole unit is as far off as a tolerance elsewhere.
        let unit = if self.tolerance > 0.0 { self.tolerance } else { 1.0 };
        let place = |value: f64, plus_minus: f64| {
            let off = (value - middle) / unit;
            if off < -REACH {
                Stroke::Below
            } else if off > REACH {
                Stroke::Above
            } else {
                let width = (2.0 * plus_minus / unit * STEP).min(2.0 * REACH * STEP);
                Stroke::At { x: WIDTH / 2.0 + off * STEP, width }
            }
        };
        [
            self.asked.map(|value| place(value, 0.0)),
            self.planned.map(|value| place(value, 0.0)),
            self.measured.map(|value| place(value, self.plus_minus)),
        ]
    }
}

impl From<&PlannedNumber> for Values {
    fn from(number: &PlannedNumber) -> Self {
        Values {
            asked: number.asked.map(|asked| asked.value),
            planned: number.planned.as_ref().ok().copied(),
            measured: number.measured.as_ref().map(|read| read.value),
            plus_minus: number.measured.as_ref().and_then(|read| read.plus_minus).unwrap_or(0.0),
            tolerance: number.tolerance,
        }
    }
}

/// The sign of a number.
pub(crate) fn sign(number: &PlannedNumber) -> Markup {
    drawn(&number.into(), number.verdict, &in_words(number))
}

/// The strokes alone, for a picture that already is one.
pub(crate) fn strokes(number: &PlannedNumber) -> Markup {
    inside(&number.into())
}

/// What the sign says: "asked 588 mm, planned 590.2 mm, measured 589 mm: in line".
pub(crate) fn in_words(number: &PlannedNumber) -> String {
    let kind = number.number.kind;
    let said =
        |column: &str, value: Option<f64>| value.map(|value| format!("{column} {}", words::with_unit(kind, value)));
    let read = number.measured.as_ref().map(|read| read.value);
    let parts: Vec<String> = [
        said("asked", number.asked.map(|asked| asked.value)),
        said("planned", number.planned.as_ref().ok().copied()),
        said("measured", read),
    ]
    .into_iter()
    .flatten()
    .collect();
    if parts.is_empty() {
        number.verdict.name().to_owned()
    } else {
        format!("{}: {}", parts.join(", "), number.verdict.name())
    }
}

fn drawn(values: &Values, verdict: Verdict, words: &str) -> Markup {
    html! {
        svg class={ "sign " (class_of(verdict)) } viewBox={ "0 0 " (WIDTH) " " (3.0 * ROW) }
            role="img" aria-label=(words) {
            (inside(values))
        }
    }
}

fn inside(values: &Values) -> Markup {
    let strokes = values.strokes();
    let band = if values.tolerance > 0.0 { STEP } else { 0.0 };
    html! {
        @if strokes.iter().any(Option::is_some) {
            rect.band x=(WIDTH / 2.0 - band) y="0" width=(2.0 * band) height=(3.0 * ROW) {}
            @if let Some(spread) = spread(&strokes) { path.spread d=(spread) {} }
            path.strokes d=(outline(&strokes)) {}
        }
    }
}

/// The outline of all strokes as one path: a rectangle each, or a triangle that points to where the value went.
fn outline(strokes: &[Option<Stroke>; 3]) -> String {
    let mut path = String::new();
    let mut y = 0.0;
    for stroke in strokes {
        // Writing into a string does not fail.
        let _ = match stroke {
            None => Ok(()),
            Some(Stroke::At { x, .. }) => write!(path, "M{} {y}h{STROKE}v{ROW}h-{STROKE}z", round(x - STROKE / 2.0)),
            Some(Stroke::Below) => write!(path, "M0 {}l{ROW} {}v{ROW}z", y + ROW / 2.0, -ROW / 2.0),
            Some(Stroke::Above) => write!(path, "M{WIDTH} {}l{} {}v{ROW}z", y + ROW / 2.0, -ROW, -ROW / 2.0),
        };
        y += ROW;
    }
    path
}

/// The outline of what the reading leaves open, cut off at the ends of the picture; `None` where that is no wider than
/// its stroke.
fn spread(strokes: &[Option<Stroke>; 3]) -> Option<String> {
    let Some(Stroke::At { x, width }) = strokes[2] else { return None };
    let (left, right) = ((x - width / 2.0).max(0.0), (x + width / 2.0).min(WIDTH));
    (width > STROKE)
        .then(|| format!("M{} {}h{}v{ROW}h{}z", round(left), 2.0 * ROW, round(right - left), round(left - right)))
}

/// A tenth of a unit is less than anybody sees.
fn round(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

/// The class by which the style tells verdicts apart, beside the shape.
pub(crate) fn class_of(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::InLine => "in-line",
        Verdict::Moved => "moved",
        Verdict::NotRead => "not-read",
        Verdict::NotKnown => "not-known",
    }
}

/// The sign of a whole build: one stroke a number, those in line first; moved ones are broken, unread ones end early.
/// Numbers that nobody asked or planned are no part of it.
pub(crate) fn share(verdicts: impl Iterator<Item = Verdict>) -> Markup {
    let mut counts = [0_usize; 3];
    for verdict in verdicts {
        match verdict {
            Verdict::InLine => counts[0] += 1,
            Verdict::Moved => counts[1] += 1,
            Verdict::NotRead => counts[2] += 1,
            Verdict::NotKnown => {}
        }
    }
    let [in_line, moved, not_read] = counts;
    let total = in_line + moved + not_read;
    let words = format!("{in_line} of {total} in line, {moved} moved, {not_read} not read");
    let (line, broken, open) = share_paths(counts);
    html! {
        svg.share viewBox={ "0 0 " (SHARE_STEP * total.max(SHARE_LEAST)) " 24" } preserveAspectRatio="none"
            role="img" aria-label=(words) {
            path.in-line d=(line) {}
            path.not-read d=(open) {}
            path.moved d=(broken) {}
        }
    }
}

/// The room of one number in the sign of a build.
const SHARE_STEP: usize = 4;

/// A build with fewer numbers leaves the rest of its sign blank, so that strokes stay strokes.
const SHARE_LEAST: usize = 50;

fn share_paths(counts: [usize; 3]) -> (String, String, String) {
    let [in_line, moved, not_read] = counts;
    let strokes = |from: usize, many: usize, shape: &str| -> String {
        let places = (from..from + many).map(|at| at * SHARE_STEP + 1);
        places.fold(String::new(), |path, x| path + &format!("M{x} 0{shape}"))
    };
    (strokes(0, in_line, "v24"), strokes(in_line, moved, "v14m1.5 2v8"), strokes(in_line + moved, not_read, "v14"))
}

/// The house's own sign, before its name: a line over two parts, unbroken.
pub(crate) fn brand() -> Markup {
    html! {
        svg.brand-sign viewBox="0 0 24 24" aria-hidden="true" {
            path.part d="M0 1h24v10H0zM4 13h20v10H4z" {}
            path.line d="M15 0v24" {}
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unnecessary_wraps, reason = "the helper makes the expected rows easy to read")]

    use super::*;

    fn at(x: f64) -> Option<Stroke> {
        Some(Stroke::At { x, width: 0.0 })
    }

    #[test]
    fn in_line_the_three_strokes_are_one_unbroken_line_over_the_middle_of_the_band() {
        let values = Values {
            asked: Some(588.0),
            planned: Some(588.0),
            measured: Some(588.0),
            tolerance: 2.0,
            ..Values::default()
        };
        assert_eq!(values.strokes(), [at(36.0); 3]);
        // Each stroke is as high as a row, so that they touch.
        assert_eq!(outline(&values.strokes()), "M34 0h4v10h-4zM34 10h4v10h-4zM34 20h4v10h-4z");
    }

    #[test]
    fn a_stroke_on_the_tolerance_stands_on_the_edge_of_the_band() {
        let values = Values {
            asked: Some(588.0),
            planned: Some(590.0),
            measured: Some(586.0),
            tolerance: 2.0,
            ..Values::default()
        };
        assert_eq!(values.strokes(), [at(36.0), at(36.0 + STEP), at(36.0 - STEP)]);
        let picture = drawn(&values, Verdict::InLine, "").into_string();
        assert!(picture.contains(r#"class="band" x="26" y="0" width="20""#), "{picture}");
    }

    #[test]
    fn a_value_that_is_not_known_leaves_its_stroke_out() {
        let values = Values { asked: Some(588.0), planned: Some(588.0), tolerance: 2.0, ..Values::default() };
        assert_eq!(values.strokes(), [at(36.0), at(36.0), None]);
        assert_eq!(Values::default().strokes(), [None; 3]);
        assert!(!drawn(&Values::default(), Verdict::NotKnown, "not known").into_string().contains("<path"));
    }

    #[test]
    fn without_an_asked_value_the_planned_one_is_the_middle() {
        let values = Values { planned: Some(100.0), measured: Some(101.0), tolerance: 1.0, ..Values::default() };
        assert_eq!(values.strokes(), [None, at(36.0), at(46.0)]);
        let values = Values { measured: Some(101.0), tolerance: 1.0, ..Values::default() };
        assert_eq!(values.strokes(), [None, None, at(36.0)]);
    }

    #[test]
    fn an_uncertain_reading_is_as_wide_as_its_interval() {
        let values =
            Values { asked: Some(10.0), measured: Some(10.0), plus_minus: 1.0, tolerance: 2.0, ..Values::default() };
        // One unit either way is half a tolerance either way: a whole step in all.
        assert_eq!(values.strokes()[2], Some(Stroke::At { x: 36.0, width: STEP }));
        assert_eq!(spread(&values.strokes()).as_deref(), Some("M31 20h10v10h-10z"));
        let sharp = Values { plus_minus: 0.01, ..values };
        assert_eq!(spread(&sharp.strokes()), None, "narrower than its stroke");
        let hopeless = Values { measured: Some(14.0), plus_minus: 1e9, ..values };
        assert_eq!(spread(&hopeless.strokes()).as_deref(), Some("M26 20h46v10h-46z"), "cut off at the picture's end");
    }

    #[test]
    fn beyond_three_tolerances_a_tip_points_to_where_the_value_went() {
        let values =
            Values { asked: Some(0.0), planned: Some(6.0), measured: Some(6.1), tolerance: 2.0, ..Values::default() };
        assert_eq!(values.strokes(), [at(36.0), at(66.0), Some(Stroke::Above)]);
        let values = Values { measured: Some(-1e300), ..values };
        assert_eq!(values.strokes()[2], Some(Stroke::Below));
        assert!(outline(&values.strokes()).ends_with("M0 25l10 -5v10z"), "{}", outline(&values.strokes()));
    }

    #[test]
    fn nothing_leaves_the_picture() {
        for off in [-7.0, -6.0, -5.9, 0.0, 5.9, 6.0, 7.0] {
            for plus_minus in [0.0, 1.0, 100.0] {
                let values =
                    Values { asked: Some(0.0), measured: Some(off), plus_minus, tolerance: 2.0, ..Values::default() };
                if let Some(Stroke::At { x, .. }) = values.strokes()[2] {
                    assert!((STROKE / 2.0..=WIDTH - STROKE / 2.0).contains(&x), "{off} ± {plus_minus}: {x}");
                }
            }
        }
    }

    #[test]
    fn where_nothing_may_be_off_the_band_is_gone_and_a_unit_is_a_step() {
        let values = Values { asked: Some(2.0), measured: Some(3.0), tolerance: 0.0, ..Values::default() };
        assert_eq!(values.strokes()[2], at(46.0));
        assert!(drawn(&values, Verdict::Moved, "").into_string().contains(r#"width="0""#));
    }

    #[test]
    fn the_share_of_a_build_counts_what_is_to_be_brought_in_line() {
        use Verdict::{InLine, Moved, NotKnown, NotRead};
        let picture = share([NotRead, InLine, NotKnown, Moved, InLine].into_iter()).into_string();
        assert!(picture.contains("2 of 4 in line, 1 moved, 1 not read"), "{picture}");
        assert!(picture.contains(r#"viewBox="0 0 200 24""#), "{picture}");
        let (line, broken, open) = share_paths([2, 1, 1]);
        assert_eq!(line, "M1 0v24M5 0v24");
        assert_eq!(broken, "M9 0v14m1.5 2v8");
        assert_eq!(open, "M13 0v14");
    }
}
