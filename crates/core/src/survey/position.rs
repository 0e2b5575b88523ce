//! From points to the registry's numbers, each with its uncertainty.
//!
//! A number is a formula of the points. Its slopes are taken from that formula itself by a small step to either side, so
//! that value and uncertainty cannot come from two different formulas; the covariance carries every correlation along.

use super::net::Layout;
use super::points::Pair;
use super::solve::Solved;
use crate::build::SurveyPoint as P;
use crate::model::{Known, Missing};
use crate::number::{self, Number, Side};
use witnessmark_mechanics::Point2;
use witnessmark_mechanics::adjustment::Alarm;

/// A number as the survey gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SurveyedValue {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty.
    pub sd: f64,
    /// How far a mistake in one reading that just escapes notice moves it; infinite where it hangs on a reading that
    /// nothing checks.
    pub hidden: f64,
}

/// 95 of 100 normal deviates are no larger.
pub const NINETY_FIVE: f64 = 1.959_963_984_540_054;

impl SurveyedValue {
    /// The half width of the interval that holds the truth 95 times in 100.
    pub fn plus_minus(&self) -> f64 {
        NINETY_FIVE * self.sd
    }
}

/// A number of the survey.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyedNumber {
    /// What the number is.
    pub number: &'static Number,
    /// On which side.
    pub side: Side,
    /// Its value, or what is missing for it.
    pub value: Known<SurveyedValue>,
}

/// Unknowns with their slopes.
pub(super) type Slopes = Vec<(usize, f64)>;

/// The points at some values of the unknowns.
pub(super) struct Places<'a> {
    layout: &'a Layout,
    values: &'a [f64],
}

impl Places<'_> {
    fn at(&self, point: P) -> Option<Point2> {
        self.layout.spot(point).map(|spot| spot.place(self.values).side_view())
    }

    fn half_mm(&self, pair: Pair) -> Option<f64> {
        self.layout.half(pair).map(|half| half.value(self.values))
    }

    fn floor(&self) -> Option<(f64, f64)> {
        let stand = self.layout.stand;
        let is_known = matches!(stand.height_mm, witnessmark_mechanics::network::Figure::Known(_));
        (!is_known).then(|| (stand.floor_deg.value(self.values), stand.height_mm.value(self.values)))
    }

    fn hood(&self, side: Side) -> Option<Point2> {
        self.at(if side == Side::Left { P::HoodLeft } else { P::HoodRight })
    }

    /// The steering axis as a point on it and its direction upwards.
    fn steering(&self) -> Option<(Point2, Point2)> {
        let (bottom, top) = (self.at(P::HeadBottom)?, self.at(P::HeadTop)?);
        let along = top - bottom;
        (along.length_mm() > 0.0).then(|| (bottom, along * (1.0 / along.length_mm())))
    }

    /// Head angle and trail on the floor.
    fn on_the_floor(&self) -> Option<(f64, f64)> {
        let (foot, up) = self.steering()?;
        let (floor_deg, height_mm) = self.floor()?;
        let axle = self.at(P::FrontAxle)?;
        let forward = Point2::direction(floor_deg);
        let square = forward.quarter_turned();
        // Heights over the floor of the axis' foot and its rise: how far to go down along it.
        let down = (height_mm + foot.dot(square)) / up.dot(square);
        let meets = foot - up * down;
        let head_angle_deg = 180.0 - (up.angle_deg() - floor_deg);
        Some((head_angle_deg, (meets - axle).dot(forward)))
    }
}

/// How a number follows from the points.
pub(super) struct Spec {
    pub(super) number: &'static Number,
    pub(super) side: Side,
    /// The points it needs, for saying which were not read.
    needs: &'static [P],
    formula: fn(&Places<'_>) -> Option<f64>,
}

macro_rules! specs {
    ($($number:ident $side:ident [$($point:ident),*] $formula:expr;)*) => {
        &[$(Spec { number: &number::$number, side: Side::$side, needs: &[$(P::$point),*], formula: $formula }),*]
    };
}

/// The numbers a survey can give, in the order of the walk-round.
pub(super) static SPECS: &[Spec] = specs! {
    HOOD_X Left [HoodLeft] |p| Some(p.hood(Side::Left)?.x_mm);
    HOOD_X Right [HoodRight] |p| Some(p.hood(Side::Right)?.x_mm);
    HOOD_Y Left [HoodLeft] |p| Some(p.hood(Side::Left)?.y_mm);
    HOOD_Y Right [HoodRight] |p| Some(p.hood(Side::Right)?.y_mm);
    BAR_X None [BarClamp] |p| Some(p.at(P::BarClamp)?.x_mm);
    BAR_Y None [BarClamp] |p| Some(p.at(P::BarClamp)?.y_mm);
    SADDLE_TO_HOOD Left [SaddleTop, HoodLeft] |p| Some(p.at(P::SaddleTop)?.distance_mm(p.hood(Side::Left)?));
    SADDLE_TO_HOOD Right [SaddleTop, HoodRight] |p| Some(p.at(P::SaddleTop)?.distance_mm(p.hood(Side::Right)?));
    SADDLE_TO_BAR None [SaddleNose, BarClamp] |p| Some(p.at(P::SaddleNose)?.distance_mm(p.at(P::BarClamp)?));
    SADDLE_BAR_DROP None [SaddleTop, BarClamp] |p| Some(p.at(P::SaddleTop)?.y_mm - p.at(P::BarClamp)?.y_mm);
    SADDLE_HOOD_DROP Left [SaddleTop, HoodLeft] |p| Some(p.at(P::SaddleTop)?.y_mm - p.hood(Side::Left)?.y_mm);
    SADDLE_HOOD_DROP Right [SaddleTop, HoodRight] |p| Some(p.at(P::SaddleTop)?.y_mm - p.hood(Side::Right)?.y_mm);
    BAR_WIDTH_ENDS None [BarEndLeft, BarEndRight] |p| Some(2.0 * p.half_mm(Pair::BarEnds)?);
    WHEELBASE None [RearAxle, FrontAxle] |p| {
        let turn_deg = p.floor().map_or(0.0, |(floor_deg, _)| floor_deg);
        Some((p.at(P::FrontAxle)? - p.at(P::RearAxle)?).dot(Point2::direction(turn_deg)))
    };
    FRONT_CENTRE None [FrontAxle] |p| Some(p.at(P::FrontAxle)?.length_mm());
    TRAIL None [HeadBottom, HeadTop, FrontAxle] |p| Some(p.on_the_floor()?.1);
    WHEEL_FLOP None [HeadBottom, HeadTop, FrontAxle] |p| {
        let (head_angle_deg, trail_mm) = p.on_the_floor()?;
        let (sin, cos) = head_angle_deg.to_radians().sin_cos();
        Some(trail_mm * sin * cos)
    };
    HEAD_ANGLE None [HeadBottom, HeadTop] |p| {
        let (_, up) = p.steering()?;
        Some(180.0 - (up.angle_deg() - p.floor()?.0))
    };
    BB_HEIGHT None [BottomBracket] |p| Some(p.floor()?.1);
    SADDLE_HEIGHT None [SaddleTop] |p| Some(p.at(P::SaddleTop)?.length_mm());
    SADDLE_HEIGHT_VERTICAL None [SaddleTop] |p| Some(p.at(P::SaddleTop)?.y_mm);
    SADDLE_SETBACK None [SaddleNose] |p| Some(-p.at(P::SaddleNose)?.x_mm);
    SADDLE_TILT None [] |p| Some(p.layout.saddle()?.value(p.values));
    POST_EXTENSION None [Collar, RailClamp] |p| {
        let (collar, clamp) = (p.at(P::Collar)?, p.at(P::RailClamp)?);
        Some((clamp - collar).dot(collar * (1.0 / collar.length_mm())))
    };
};

/// A number that the usual place of points pins down to this standard uncertainty is hardly open; common practice, no
/// source.
const HARDLY_OPEN_MM: f64 = 5.0;

impl Spec {
    /// The value at these values of the unknowns.
    pub(super) fn value(&self, layout: &Layout, values: &[f64]) -> Option<f64> {
        (self.formula)(&Places { layout, values }).filter(|value| value.is_finite())
    }

    /// How it grows with each unknown: the difference over a step of a micrometre to either side. The formulas bend by
    /// less than one part in a hundred over a millimetre, so the rest is below 1e-9.
    pub(super) fn slopes(&self, layout: &Layout, values: &[f64]) -> Option<Slopes> {
        const STEP: f64 = 1e-3;
        let mut moved = values.to_vec();
        let mut slopes = Vec::new();
        for at in 0..values.len() {
            let mut look = |to: f64| {
                moved[at] = to;
                let value = self.value(layout, &moved);
                moved[at] = values[at];
                value
            };
            let slope = (look(values[at] + STEP)? - look(values[at] - STEP)?) / (2.0 * STEP);
            if slope.abs() > 1e-8 {
                slopes.push((at, slope));
            }
        }
        Some(slopes)
    }

    /// The number with its uncertainty.
    pub(super) fn surveyed(&self, layout: &Layout, solved: &Solved, alarm: Alarm) -> SurveyedNumber {
        SurveyedNumber { number: self.number, side: self.side, value: self.known(layout, solved, alarm) }
    }

    fn known(&self, layout: &Layout, solved: &Solved, alarm: Alarm) -> Known<SurveyedValue> {
        let values = solved.adjusted.values();
        let slopes = self.slopes(layout, values);
        let (Some(value), Some(slopes)) = (self.value(layout, values), slopes) else {
            return Err(self.lacking(layout));
        };
        let strictly = solved.adjusted.variance_of(&slopes).map(|variance| (&solved.adjusted, variance));
        let loosely = || {
            let loosely = solved.loosely.as_ref()?;
            let variance = loosely.variance_of(&slopes)?;
            (variance <= HARDLY_OPEN_MM * HARDLY_OPEN_MM).then_some((loosely, variance))
        };
        let (adjusted, variance) = strictly
            .or_else(loosely)
            .ok_or_else(|| Missing::refused("the readings leave it open: one more is needed".to_owned()))?;
        let readings = 0..solved.readings.len();
        let hidden = readings.map(|at| adjusted.harm(at, &slopes, alarm)).fold(0.0, f64::max);
        Ok(SurveyedValue { value, sd: variance.sqrt(), hidden })
    }

    fn lacking(&self, layout: &Layout) -> Missing {
        let unread: Vec<&str> =
            self.needs.iter().filter(|point| !layout.has(**point)).map(|point| super::words::point(*point)).collect();
        match (unread.as_slice(), self.number.id) {
            ([], "saddle-tilt") => Missing::refused("nobody read the saddle's tilt"),
            ([], _) => Missing::refused("nobody read a height over the floor"),
            (unread, _) => Missing::refused(format!("nobody read to the {}", unread.join(" and the "))),
        }
    }
}
