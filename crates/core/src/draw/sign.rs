//! The sign of the house: three short strokes, asked over planned over measured, on one scale with the tolerance behind.
//!
//! In line, they are one unbroken line; moved, the line is broken where it moved; not read, its foot is missing. An
//! uncertain reading has a paler width about its stroke. The scale ends three tolerances from the middle; a stroke beyond
//! it is an arrow tip at the end it left by. Page and paper draw the same strokes; the unit is the sign's own, y down.

use super::Point2;
use crate::compute::PlannedNumber;

/// The width of a sign, in its own units.
pub const WIDTH: f64 = 72.0;
/// The height of a stroke; three of them touch.
pub const ROW: f64 = 10.0;
/// The width of one tolerance.
pub const STEP: f64 = 10.0;
/// How many tolerances the scale holds to either side.
pub const REACH: f64 = 3.0;
/// The width of a stroke.
pub const STROKE: f64 = 4.0;

/// The values of one number, in one unit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Values {
    /// As asked.
    pub asked: Option<f64>,
    /// As worked out.
    pub planned: Option<f64>,
    /// As read.
    pub measured: Option<f64>,
    /// How far the truth may be from the reading.
    pub plus_minus: f64,
    /// How far off is still the same.
    pub tolerance: f64,
}

/// Where a stroke stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stroke {
    /// On the scale: its middle, and the width of the interval in which the truth surely lies.
    At {
        /// The middle of the stroke.
        x: f64,
        /// The width of the interval.
        width: f64,
    },
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
    pub fn strokes(&self) -> [Option<Stroke>; 3] {
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

    /// The left and right edge of the pale band of what is still right; none where nothing may be off or nothing stands.
    pub fn band(&self) -> Option<(f64, f64)> {
        (self.tolerance > 0.0 && self.middle().is_some()).then_some((WIDTH / 2.0 - STEP, WIDTH / 2.0 + STEP))
    }

    /// The left and right edge of what the reading leaves open, cut off at the ends of the picture; `None` where that is
    /// no wider than its stroke.
    pub fn spread(&self) -> Option<(f64, f64)> {
        let Some(Stroke::At { x, width }) = self.strokes()[2] else { return None };
        (width > STROKE).then(|| ((x - width / 2.0).max(0.0), (x + width / 2.0).min(WIDTH)))
    }
}

impl Stroke {
    /// The outline of a stroke in a row (0 asked, 1 planned, 2 measured): a rectangle, or a tip that points to where the
    /// value went.
    pub fn outline(self, row: usize) -> Vec<Point2> {
        let rows: f64 = [0.0, 1.0, 2.0].get(row).copied().unwrap_or(2.0);
        let (top, foot) = (rows * ROW, (rows + 1.0) * ROW);
        let at = |x_mm: f64, y_mm: f64| Point2 { x_mm, y_mm };
        match self {
            Stroke::At { x, .. } => {
                let (left, right) = (x - STROKE / 2.0, x + STROKE / 2.0);
                vec![at(left, top), at(right, top), at(right, foot), at(left, foot)]
            }
            Stroke::Below => vec![at(0.0, f64::midpoint(top, foot)), at(ROW, top), at(ROW, foot)],
            Stroke::Above => {
                vec![at(WIDTH, f64::midpoint(top, foot)), at(WIDTH - ROW, top), at(WIDTH - ROW, foot)]
            }
        }
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
        assert_eq!(values.band(), Some((26.0, 46.0)));
        // Each stroke is as high as a row, so that they touch.
        for row in 0..2 {
            let foot = values.strokes()[row].map(|stroke| stroke.outline(row)[2]);
            let head = values.strokes()[row + 1].map(|stroke| stroke.outline(row + 1)[1]);
            assert_eq!(foot, head);
        }
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
    }

    #[test]
    fn a_value_that_is_not_known_leaves_its_stroke_out() {
        let values = Values { asked: Some(588.0), planned: Some(588.0), tolerance: 2.0, ..Values::default() };
        assert_eq!(values.strokes(), [at(36.0), at(36.0), None]);
        assert_eq!(Values::default().strokes(), [None; 3]);
        assert_eq!(Values { tolerance: 2.0, ..Values::default() }.band(), None);
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
        assert_eq!(values.spread(), Some((31.0, 41.0)));
        assert_eq!(Values { plus_minus: 0.01, ..values }.spread(), None, "narrower than its stroke");
        let hopeless = Values { measured: Some(14.0), plus_minus: 1e9, ..values };
        assert_eq!(hopeless.spread(), Some((26.0, WIDTH)), "cut off at the picture's end");
    }

    #[test]
    fn beyond_three_tolerances_a_tip_points_to_where_the_value_went() {
        let values =
            Values { asked: Some(0.0), planned: Some(6.0), measured: Some(6.1), tolerance: 2.0, ..Values::default() };
        assert_eq!(values.strokes(), [at(36.0), at(66.0), Some(Stroke::Above)]);
        let values = Values { measured: Some(-1e300), ..values };
        assert_eq!(values.strokes()[2], Some(Stroke::Below));
        assert_eq!(Stroke::Below.outline(2)[0], Point2 { x_mm: 0.0, y_mm: 25.0 });
    }

    #[test]
    fn nothing_leaves_the_picture() {
        for off in [-7.0, -6.0, -5.9, 0.0, 5.9, 6.0, 7.0] {
            for plus_minus in [0.0, 1.0, 100.0] {
                let values =
                    Values { asked: Some(0.0), measured: Some(off), plus_minus, tolerance: 2.0, ..Values::default() };
                if let Some(stroke) = values.strokes()[2] {
                    for corner in stroke.outline(2) {
                        assert!((0.0..=WIDTH).contains(&corner.x_mm), "{off} ± {plus_minus}: {corner:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn where_nothing_may_be_off_the_band_is_gone_and_a_unit_is_a_step() {
        let values = Values { asked: Some(2.0), measured: Some(3.0), tolerance: 0.0, ..Values::default() };
        assert_eq!(values.strokes()[2], at(46.0));
        assert_eq!(values.band(), None);
    }
}
