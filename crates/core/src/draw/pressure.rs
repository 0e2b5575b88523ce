//! The pressures of a tyre on a scale: where a trial starts, what is set, and the limit beyond which nobody goes.
//!
//! Places are shares of the scale's length. Both tyres are read off one scale, so that the eye compares them.

use super::ScaleMark;
use crate::compute::{TyreAtWheel, Tyres};

/// From one figure to the next.
const STEP_KPA: f64 = 100.0;

/// The scale that has room for everything known of both tyres.
#[derive(Clone, Debug, PartialEq)]
pub struct PressureScale {
    low_kpa: f64,
    high_kpa: f64,
    /// A mark for every 100 kPa.
    pub marks: Vec<ScaleMark>,
}

/// One tyre on the scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PressureMarks {
    /// The start of a trial.
    pub start: Option<f64>,
    /// The least and the most that its doubt leaves.
    pub between: Option<(f64, f64)>,
    /// What is set.
    pub set: Option<f64>,
    /// The lowest limit that is known; where others are missing it may be lower.
    pub most: Option<f64>,
}

impl PressureScale {
    /// The scale of these tyres; nothing where no pressure of them is known.
    pub fn of(tyres: &Tyres) -> Option<Self> {
        let mut all = Vec::new();
        for tyre in [&tyres.front, &tyres.rear] {
            all.extend(tyre.start.iter().flat_map(|start| [start.low_kpa, start.high_kpa]));
            all.extend(tyre.set_kpa);
            all.extend(tyre.limits.first().map(|limit| limit.kpa));
        }
        let least = all.iter().copied().reduce(f64::min)?;
        let most = all.iter().copied().reduce(f64::max)?;
        let low_kpa = ((least / STEP_KPA).floor() - 1.0).max(0.0) * STEP_KPA;
        let high_kpa = ((most / STEP_KPA).ceil() + 1.0) * STEP_KPA;
        let mut scale = PressureScale { low_kpa, high_kpa, marks: Vec::new() };
        // No part states more than some thousands of kPa: a few dozen marks.
        let mut value = low_kpa;
        while value <= high_kpa {
            scale.marks.push(ScaleMark { share: scale.share(value), value });
            value += STEP_KPA;
        }
        Some(scale)
    }

    /// A tyre on it.
    pub fn on(&self, tyre: &TyreAtWheel) -> PressureMarks {
        let start = tyre.start.as_ref().ok();
        PressureMarks {
            start: start.map(|start| self.share(start.kpa)),
            between: start.map(|start| (self.share(start.low_kpa), self.share(start.high_kpa))),
            set: tyre.set_kpa.map(|set| self.share(set)),
            most: tyre.limits.first().map(|limit| self.share(limit.kpa)),
        }
    }

    fn share(&self, kpa: f64) -> f64 {
        ((kpa - self.low_kpa) / (self.high_kpa - self.low_kpa)).clamp(0.0, 1.0)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a pressure that is not known is to stop the test")]

    use super::*;
    use crate::build::sample::sample;
    use crate::compute::work_out;
    use crate::model::Model;

    #[test]
    fn the_start_stands_below_the_limit_and_the_scale_has_room_for_both_tyres() {
        let build = sample();
        let tyres = work_out(&Model::new(&build)).tyres;
        let scale = PressureScale::of(&tyres).unwrap();
        for tyre in [&tyres.front, &tyres.rear] {
            let marks = scale.on(tyre);
            let ((low, high), start, most) = (marks.between.unwrap(), marks.start.unwrap(), marks.most.unwrap());
            assert!(0.0 < low && low <= start && start <= high && high <= most && most < 1.0, "{marks:?}");
        }
        let steps: Vec<f64> = scale.marks.windows(2).map(|pair| pair[1].share - pair[0].share).collect();
        assert!(steps.iter().all(|step| (step - steps[0]).abs() < 1e-12));
    }

    #[test]
    fn nothing_known_makes_no_scale() {
        let build = crate::build::Build::default();
        assert_eq!(PressureScale::of(&work_out(&Model::new(&build)).tyres), None);
    }
}
