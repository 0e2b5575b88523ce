//! The points of a bike: where they usually are, whether they come in pairs, and how well a hand finds them.
//!
//! The usual place is only where the search for the true one begins: it decides between mirror images, and nothing else.

use crate::build::SurveyPoint;
use witnessmark_mechanics::Point2;

/// Two points alike on both sides of the bike, as far apart as nobody knows beforehand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Pair {
    /// The troughs of the hoods.
    Hoods,
    /// Their tips.
    HoodTips,
    /// The bar's open ends.
    BarEnds,
}

impl Pair {
    /// All of them.
    pub(super) const ALL: [Pair; 3] = [Pair::Hoods, Pair::HoodTips, Pair::BarEnds];

    /// Left and right.
    pub(super) const fn points(self) -> [SurveyPoint; 2] {
        match self {
            Pair::Hoods => [SurveyPoint::HoodLeft, SurveyPoint::HoodRight],
            Pair::HoodTips => [SurveyPoint::HoodTipLeft, SurveyPoint::HoodTipRight],
            Pair::BarEnds => [SurveyPoint::BarEndLeft, SurveyPoint::BarEndRight],
        }
    }

    /// Half of how far apart they usually are, and the standard uncertainty of taking that for a fact, mm.
    /// Common practice, no source: bars 340 to 440 mm wide.
    pub(super) const fn usual_half_mm(self) -> (f64, f64) {
        match self {
            Pair::Hoods => (190.0, 15.0),
            Pair::HoodTips => (178.0, 18.0),
            Pair::BarEnds => (205.0, 20.0),
        }
    }

    /// What they are called together.
    pub(super) const fn words(self) -> &'static str {
        match self {
            Pair::Hoods => "hoods",
            Pair::HoodTips => "tips of the hoods",
            Pair::BarEnds => "ends of the bar",
        }
    }
}

/// The pair a point belongs to, and the sign of its side.
pub(super) fn pair_of(point: SurveyPoint) -> Option<(Pair, f64)> {
    Pair::ALL.into_iter().find_map(|pair| {
        let [left, right] = pair.points();
        (point == left).then_some((pair, -1.0)).or((point == right).then_some((pair, 1.0)))
    })
}

/// The point on the other side of the bike.
pub(super) fn other_side(point: SurveyPoint) -> Option<SurveyPoint> {
    let (pair, sign) = pair_of(point)?;
    Some(pair.points()[usize::from(sign < 0.0)])
}

/// Where the point usually is, from the bottom bracket, mm: a bike of middling size.
pub(super) const fn usual(point: SurveyPoint) -> Point2 {
    match point {
        SurveyPoint::BottomBracket => Point2::ORIGIN,
        SurveyPoint::RearAxle => Point2::at(-405.0, 70.0),
        SurveyPoint::FrontAxle => Point2::at(580.0, 70.0),
        SurveyPoint::SaddleNose => Point2::at(-60.0, 708.0),
        SurveyPoint::SaddleTop => Point2::at(-195.0, 710.0),
        SurveyPoint::SaddleTail => Point2::at(-315.0, 718.0),
        SurveyPoint::RailClamp => Point2::at(-190.0, 660.0),
        SurveyPoint::Collar => Point2::at(-148.0, 490.0),
        SurveyPoint::BarClamp => Point2::at(475.0, 612.0),
        SurveyPoint::HoodLeft | SurveyPoint::HoodRight => Point2::at(565.0, 615.0),
        SurveyPoint::HoodTipLeft | SurveyPoint::HoodTipRight => Point2::at(620.0, 665.0),
        SurveyPoint::BarEndLeft | SurveyPoint::BarEndRight => Point2::at(450.0, 490.0),
        SurveyPoint::HeadTop => Point2::at(385.0, 548.0),
        SurveyPoint::HeadBottom => Point2::at(427.0, 412.0),
        SurveyPoint::Crown => Point2::at(430.0, 405.0),
    }
}

/// How well a hand finds the point, as a standard uncertainty, mm. Common practice, no source: a crank bolt's dimple is
/// sharp, the lowest point of a soft hood is not.
pub(super) const fn found_to_mm(point: SurveyPoint) -> f64 {
    match point {
        SurveyPoint::BottomBracket | SurveyPoint::RearAxle | SurveyPoint::FrontAxle => 0.5,
        SurveyPoint::Collar | SurveyPoint::BarEndLeft | SurveyPoint::BarEndRight => 0.7,
        SurveyPoint::BarClamp | SurveyPoint::HeadTop | SurveyPoint::HeadBottom => 0.8,
        SurveyPoint::Crown => 1.0,
        SurveyPoint::SaddleNose | SurveyPoint::SaddleTail | SurveyPoint::HoodTipLeft | SurveyPoint::HoodTipRight => 1.2,
        SurveyPoint::SaddleTop | SurveyPoint::RailClamp | SurveyPoint::HoodLeft | SurveyPoint::HoodRight => 1.5,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_other_side_of_the_other_side_is_the_point_itself() {
        for pair in Pair::ALL {
            for point in pair.points() {
                assert_ne!(other_side(point), Some(point));
                assert_eq!(other_side(point).and_then(other_side), Some(point));
            }
        }
        assert_eq!(other_side(SurveyPoint::BarClamp), None);
    }
}
