//! What a reading is usually taken with, and how well.
//!
//! A standard uncertainty has two parts that have nothing to do with each other: the instrument's own, and how well the
//! hand finds the points it goes to. Common practice, no source, save where a line says otherwise; a reading that states
//! its own uncertainty is believed.

use super::points::found_to_mm;
use crate::build::{Instrument, SurveyPoint, Taken};

/// What such a reading is usually taken with.
pub(super) const fn usual(what: Taken) -> Instrument {
    match what {
        Taken::Straight | Taken::Along => Instrument::Tape,
        Taken::Across | Taken::Off => Instrument::Rule,
        Taken::Height => Instrument::HeightGauge,
        Taken::Ahead => Instrument::Plumb,
        Taken::Above | Taken::Slope | Taken::SaddleTilt | Taken::FloorSlope => Instrument::Level,
    }
}

/// The instrument's own standard uncertainty for a length, mm.
const fn own_mm(with: Instrument) -> f64 {
    match with {
        Instrument::Caliper => 0.2,
        Instrument::DepthGauge => 0.3,
        Instrument::Rule => 0.6,
        // A tape sags and is held askew; a gauge on a floor has the floor's waves; a plumb line swings.
        Instrument::Tape | Instrument::HeightGauge | Instrument::Plumb | Instrument::Level => 1.2,
        Instrument::Laser => 1.5,
        // A survey is no instrument for a reading of a survey.
        Instrument::Scale | Instrument::Wrench | Instrument::Eye | Instrument::Survey => 3.0,
    }
}

/// The standard uncertainty of a reading that does not state one, mm or degrees.
pub(super) fn usual_sd(what: Taken, with: Instrument, ends: [SurveyPoint; 2]) -> f64 {
    match what {
        // Makers of digital levels print 0.1° to 0.2°; laying it on adds as much.
        Taken::Slope | Taken::FloorSlope => 0.2,
        Taken::SaddleTilt => 0.3,
        Taken::Height | Taken::Off => own_mm(with).hypot(found_to_mm(ends[1])),
        _ => own_mm(with).hypot(found_to_mm(ends[0])).hypot(found_to_mm(ends[1])),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tape_is_good_to_a_millimetre_and_a_half_between_clear_points_and_to_two_at_saddle_and_hood() {
        let tape = |from, to| usual_sd(Taken::Straight, Instrument::Tape, [from, to]);
        let clear = tape(SurveyPoint::BottomBracket, SurveyPoint::RearAxle);
        let soft = tape(SurveyPoint::SaddleNose, SurveyPoint::HoodLeft);
        assert!((1.3..1.6).contains(&clear), "{clear}");
        assert!((2.0..2.5).contains(&soft), "{soft}");
    }
}
