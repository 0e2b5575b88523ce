//! A bike whose points are known, and readings taken from it: exactly, or with the scatter of a hand.

#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::panic,
    reason = "helpers of several tests; a test stops where it fails"
)]

use std::collections::BTreeMap;
use witnessmark_core::build::sample::sample;
use witnessmark_core::build::{Build, SurveyLine, SurveyPoint, SurveyReading, Taken};
use witnessmark_core::plan::plan;
use witnessmark_core::survey::Survey;
use witnessmark_mechanics::Point3;

pub(crate) use witnessmark_core::build::SurveyPoint as P;

/// A bike as it stands: its points in its own frame, and how level and floor lie to it.
#[derive(Clone)]
pub(crate) struct Bike {
    pub(crate) points: BTreeMap<P, Point3>,
    /// The level above the bike's forward direction, front up.
    pub(crate) level_deg: f64,
    /// The floor above the bike's forward direction, front up.
    pub(crate) floor_deg: f64,
    pub(crate) height_mm: f64,
    pub(crate) saddle_deg: f64,
}

impl Bike {
    /// The sound sample of the house, its points as the plan works them out: another road to every number.
    pub(crate) fn sample() -> (Build, Self) {
        let build = sample();
        let worked = plan(&build).worked;
        let side = |point: witnessmark_mechanics::Point2| point.with_z(0.0);
        let (front, rear) = (worked.chassis.front_axle.unwrap(), worked.chassis.rear_axle.unwrap());
        let saddle = worked.rear.points.unwrap();
        let top = worked.chassis.head_tube_top.unwrap();
        let (sin, cos) = worked.chassis.head_angle_deg.unwrap().to_radians().sin_cos();
        let length = build.parts.frame.at("").unwrap().head_tube_mm.as_ref().unwrap().value;
        let tail = saddle.nose + (saddle.reference - saddle.nose) * 1.8;
        let ground = worked.chassis.ground.unwrap();
        let points = BTreeMap::from([
            (P::BottomBracket, Point3::ORIGIN),
            (P::RearAxle, side(rear)),
            (P::FrontAxle, side(front)),
            (P::SaddleNose, side(saddle.nose)),
            (P::SaddleTop, side(saddle.reference)),
            (P::SaddleTail, side(tail)),
            (P::BarClamp, side(worked.front.bar_clamp.unwrap())),
            (P::HoodLeft, worked.front.hood_left.unwrap().trough),
            (P::HoodRight, worked.front.hood_right.unwrap().trough),
            (P::HeadTop, side(top)),
            (P::HeadBottom, Point3::at(top.x_mm + cos * length, top.y_mm - sin * length, 0.0)),
            (P::Collar, Point3::at(-148.0, 482.0, 0.0)),
        ]);
        let saddle_deg = build.settings.saddle_tilt_deg.as_ref().unwrap().value;
        let bike = Bike {
            points,
            level_deg: ground.tilt_deg,
            floor_deg: ground.tilt_deg,
            height_mm: ground.bb_height_mm,
            saddle_deg,
        };
        (build, bike)
    }

    /// What an instrument without a mistake reads: worked out with plain trigonometry, not with the network's formulas.
    pub(crate) fn read(&self, what: Taken, from: P, to: P, line: Option<SurveyLine>) -> f64 {
        let (a, b) = (self.points[&from], self.points[&to]);
        let turned = |degrees: f64| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            move |p: Point3| (p.x_mm * cos + p.y_mm * sin, p.y_mm * cos - p.x_mm * sin)
        };
        let (level, floor) = (turned(self.level_deg), turned(self.floor_deg));
        let ends = |line: Option<SurveyLine>| match line.unwrap() {
            SurveyLine::SeatTube => (self.points[&P::BottomBracket], self.points[&P::Collar]),
            SurveyLine::HeadTube => (self.points[&P::HeadBottom], self.points[&P::HeadTop]),
        };
        match what {
            Taken::Straight => {
                ((a.x_mm - b.x_mm).powi(2) + (a.y_mm - b.y_mm).powi(2) + (a.z_mm - b.z_mm).powi(2)).sqrt()
            }
            Taken::Across => b.z_mm - a.z_mm,
            Taken::Height => self.height_mm + floor(b).1,
            Taken::Ahead => level(b).0 - level(a).0,
            Taken::Above => level(b).1 - level(a).1,
            Taken::Slope => (b.y_mm - a.y_mm).atan2(b.x_mm - a.x_mm).to_degrees() - self.level_deg,
            Taken::Off | Taken::Along => {
                let (foot, tip) = ends(line);
                let angle = (tip.y_mm - foot.y_mm).atan2(tip.x_mm - foot.x_mm).to_degrees();
                let along = turned(angle);
                if what == Taken::Along { along(b).0 - along(a).0 } else { along(foot).1 - along(b).1 }
            }
            Taken::SaddleTilt => self.saddle_deg - self.level_deg,
            Taken::FloorSlope => self.floor_deg - self.level_deg,
        }
    }

    /// Reads it and writes the reading down.
    pub(crate) fn put(&self, build: &mut Build, what: Taken, from: P, to: P) -> String {
        self.put_along(build, what, from, to, None)
    }

    pub(crate) fn put_along(&self, build: &mut Build, what: Taken, from: P, to: P, line: Option<SurveyLine>) -> String {
        let value = self.read(what, from, to, line);
        let is_angle = matches!(what, Taken::Slope | Taken::SaddleTilt | Taken::FloorSlope);
        let name = format!("r{:02}", build.survey.len());
        let reading = SurveyReading {
            what: Some(what.into()),
            from: Some(from.into()),
            to: Some(to.into()),
            line: line.map(Into::into),
            value_mm: (!is_angle).then(|| value.into()),
            angle_deg: is_angle.then(|| value.into()),
            ..SurveyReading::default()
        };
        build.survey.insert(name.clone(), reading);
        name
    }

    /// A survey of ten minutes: 28 readings.
    pub(crate) fn ten_minutes(&self, build: &mut Build) {
        build.survey.clear();
        for point in [P::BottomBracket, P::RearAxle, P::FrontAxle] {
            self.put(build, Taken::Height, point, point);
        }
        for point in [P::SaddleNose, P::SaddleTop, P::BarClamp, P::HoodLeft, P::HoodRight] {
            self.put(build, Taken::Height, point, point);
            self.put(build, Taken::Straight, P::BottomBracket, point);
            self.put(build, Taken::Ahead, P::BottomBracket, point);
        }
        for (from, to) in [
            (P::BottomBracket, P::RearAxle),
            (P::BottomBracket, P::FrontAxle),
            (P::RearAxle, P::FrontAxle),
            (P::SaddleNose, P::BarClamp),
            (P::SaddleNose, P::HoodLeft),
            (P::SaddleNose, P::HoodRight),
            (P::SaddleTop, P::SaddleNose),
        ] {
            self.put(build, Taken::Straight, from, to);
        }
        self.put(build, Taken::Across, P::HoodLeft, P::HoodRight);
        self.put(build, Taken::SaddleTilt, P::BottomBracket, P::BottomBracket);
        self.put(build, Taken::FloorSlope, P::BottomBracket, P::BottomBracket);
    }

    /// The same and twelve more: 40 readings.
    pub(crate) fn forty(&self, build: &mut Build) {
        self.ten_minutes(build);
        for (from, to) in [
            (P::FrontAxle, P::HoodLeft),
            (P::FrontAxle, P::HoodRight),
            (P::RearAxle, P::SaddleTop),
            (P::RearAxle, P::HeadTop),
            (P::RearAxle, P::BarClamp),
            (P::FrontAxle, P::HeadTop),
            (P::HeadTop, P::BarClamp),
            (P::BarClamp, P::HoodLeft),
        ] {
            self.put(build, Taken::Straight, from, to);
        }
        self.put(build, Taken::Slope, P::HeadBottom, P::HeadTop);
        self.put(build, Taken::Straight, P::HeadBottom, P::HeadTop);
        self.put(build, Taken::Straight, P::HeadBottom, P::FrontAxle);
        self.put(build, Taken::Straight, P::BottomBracket, P::HeadBottom);
        assert_eq!(build.survey.len(), 40);
    }
}

/// Changes a length that was read.
pub(crate) fn misread(build: &mut Build, name: &str, change: impl Fn(f64) -> f64) {
    let given = build.survey.get_mut(name).unwrap().value_mm.as_mut().unwrap();
    given.value = change(given.value);
}

/// The name of a reading.
pub(crate) fn named(build: &Build, what: Taken, from: P, to: P) -> String {
    let is = |reading: &SurveyReading| {
        let value = |point: &Option<witnessmark_core::field::Given<SurveyPoint>>| point.as_ref().unwrap().value;
        reading.what.as_ref().unwrap().value == what && value(&reading.from) == from && value(&reading.to) == to
    };
    build.survey.iter().find(|(_, reading)| is(reading)).unwrap().0.clone()
}

/// The sentences of the findings of a check.
pub(crate) fn said(survey: &Survey, check: &str) -> Vec<String> {
    let of_check = survey.findings.iter().filter(|finding| finding.check == check);
    of_check.map(|finding| format!("{} {} {}", finding.what, finding.why, finding.action)).collect()
}

/// Random numbers with a seed that can be printed: `xorshift64*`, and Box and Muller's normal deviates.
pub(crate) struct Random(u64);

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        Random(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    pub(crate) fn share(&mut self) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        #[allow(clippy::cast_precision_loss, reason = "53 bits")]
        let share = (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11) as f64 / (1_u64 << 53) as f64;
        share
    }

    pub(crate) fn normal(&mut self) -> f64 {
        let (u, v) = (1.0 - self.share(), self.share());
        (-2.0 * u.ln()).sqrt() * (std::f64::consts::TAU * v).cos()
    }
}
