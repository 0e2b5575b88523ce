//! Whether the front wheel touches the shoe when it is turned, and at which steering angle first.
//!
//! The tyre is a torus, the toe of the shoe a sphere. The usual single number (front centre less wheel less crank) says
//! little: the wheel swings sideways as well, and what a rider wants to know is how far he can turn.

use crate::angle::{sin_cos_deg, tan_deg};
use crate::frame::steering_axis;
use crate::roots::{Bracket, Least, least, root};
use crate::vector::{Point2, Point3};

/// The front wheel on its steering axis, pointing straight ahead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrontWheel {
    /// Head angle, degrees.
    pub head_angle_deg: f64,
    /// Any point of the steering axis, for instance the crown-race seat.
    pub axis_point: Point2,
    /// Front axle.
    pub axle: Point2,
    /// Outer radius of the tyre, mm.
    pub outer_radius_mm: f64,
    /// Half the tyre's width: the radius of its section, mm.
    pub section_radius_mm: f64,
}

/// A foot on its pedal, level, with the cleat done up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Foot {
    /// Crank length, mm.
    pub crank_mm: f64,
    /// Pedal axle to the tip of the shoe, mm.
    pub tip_ahead_mm: f64,
    /// Middle of the shoe's toe above the pedal axle, mm.
    pub toe_height_mm: f64,
    /// Radius of the toe, half the shoe's thickness and breadth there, mm.
    pub toe_radius_mm: f64,
    /// Foot's centre line from the bike's plane, mm.
    pub lateral_mm: f64,
}

/// A front wheel and the foot beside it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ToeOverlap {
    /// The wheel.
    pub wheel: FrontWheel,
    /// The foot on the side towards which the back of the wheel swings.
    pub foot: Foot,
}

/// The nearest the toe comes to the tyre at one steering angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ToeClearance {
    /// Gap between shoe and tyre, mm; negative when they overlap.
    pub gap_mm: f64,
    /// Crank angle at which it is least, degrees above forward.
    pub crank_angle_deg: f64,
}

/// Crank angles searched for the least gap, degrees: the front half turn. Behind it the foot only moves away.
const CRANK_DEG: i16 = 90;

/// Step of the first search over crank angles, degrees. The gap over the crank angle bends on the scale of the crank
/// (a radian), so a dip cannot hide between two steps of 5°.
const CRANK_STEP_DEG: i16 = 5;

/// Shortest step of the steering sweep, degrees: a touch within less than that of steering is not sought.
const STEER_STEP_DEG: f64 = 0.01;

impl ToeOverlap {
    /// The least gap between shoe and tyre over the crank's turn, at one steering angle (0 straight ahead; the sign
    /// does not matter, the foot is always on the side towards which the wheel's back swings).
    ///
    /// Tyre: torus with section radius ρ and centre circle r − ρ about the turned axle F and wheel axis a. For a point
    /// P: z = (P − F)·a, ϱ = |P − F − z a|, gap = √((ϱ − (r − ρ))² + z²) − ρ.
    ///
    /// - Valid without toe clips or mudguards; ignores the float of the pedal and the flex of the frame. Ten
    ///   millimetres of shoe move the touch by about 0.7°.
    ///
    /// ```
    /// use witnessmark_mechanics::{toe::*, Point2};
    /// let overlap = ToeOverlap {
    ///     wheel: FrontWheel {
    ///         head_angle_deg: 73.0, axis_point: Point2::at(424.932_038_7, 411.117_334_2),
    ///         axle: Point2::at(574.186_819_2, 70.0), outer_radius_mm: 337.0, section_radius_mm: 14.0,
    ///     },
    ///     foot: Foot { crank_mm: 172.5, tip_ahead_mm: 112.0, toe_height_mm: 15.0, toe_radius_mm: 42.0, lateral_mm: 126.0 },
    /// };
    /// assert!((overlap.clearance(0.0).gap_mm - 70.540).abs() < 1e-3);
    /// assert!((overlap.contact_steer_deg(60.0).unwrap() - 15.663_817).abs() < 1e-5);
    /// ```
    ///
    /// Source: Rodrigues' rotation and the distance from a torus; checked against a sampled torus.
    pub fn clearance(&self, steer_deg: f64) -> ToeClearance {
        let tyre = self.wheel.turned(steer_deg.abs());
        let gap_at = |crank_deg: f64| tyre.gap_mm(self.foot.toe(crank_deg)) - self.foot.toe_radius_mm;
        let mut best = Least { at: 0.0, value: gap_at(0.0) };
        for step in -(CRANK_DEG / CRANK_STEP_DEG)..=CRANK_DEG / CRANK_STEP_DEG {
            let at = f64::from(step * CRANK_STEP_DEG);
            let value = gap_at(at);
            if value < best.value {
                best = Least { at, value };
            }
        }
        let step_deg = f64::from(CRANK_STEP_DEG);
        let near = Bracket { low: best.at - step_deg, high: best.at + step_deg, tolerance: 1e-7 };
        let Least { at, value } = least(near, gap_at);
        ToeClearance { gap_mm: value, crank_angle_deg: at }
    }

    /// The steering angle at which shoe and tyre first touch, degrees.
    ///
    /// The sweep cannot step over a touch: no point of the tyre moves further than its distance from the steering axis
    /// times the turn, so from a gap g the wheel may turn by g ÷ that distance without touching. Steps shrink as the
    /// gap does; below 0.01° the sweep steps on regardless and a root finder closes in. So it ends after at most
    /// limit ÷ 0.01° steps, and usually after twenty.
    ///
    /// - `limit_deg`: how far to look; the steering lock, or 90.
    /// - Comes back: 0 when they overlap straight ahead; `None` when they do not touch up to the limit. A touch that
    ///   lasts less than 0.01° of steering may be missed.
    ///
    /// Source: conservative advancement; checked against a sampled torus.
    pub fn contact_steer_deg(&self, limit_deg: f64) -> Option<f64> {
        let arm_mm = self.wheel.furthest_from_axis_mm();
        let gap_at = |steer_deg: f64| self.clearance(steer_deg).gap_mm;
        let mut steer_deg = 0.0;
        let mut gap_mm = gap_at(steer_deg);
        if gap_mm <= 0.0 {
            return Some(0.0);
        }
        // Each step is at least STEER_STEP_DEG and the limit is at most a half turn.
        let limit_deg = limit_deg.min(180.0);
        while steer_deg < limit_deg {
            let next_deg = (steer_deg + (gap_mm / arm_mm).to_degrees().max(STEER_STEP_DEG)).min(limit_deg);
            let next_gap_mm = gap_at(next_deg);
            if next_gap_mm <= 0.0 {
                return root(Bracket { low: steer_deg, high: next_deg, tolerance: 1e-11 }, gap_at);
            }
            (steer_deg, gap_mm) = (next_deg, next_gap_mm);
        }
        None
    }

    /// Least distance forward from the pedal's centre to the tyre, with the crank level and the wheel turned to
    /// whatever angle makes it least, mm.
    ///
    /// This is the reading of a rule for bicycles without foot retention. A bike can pass it and still touch the shoe.
    ///
    /// - Comes back: `None` when the wheel never comes in front of the pedal up to `limit_deg`.
    ///
    /// Source: 16 CFR 1512.17(d), which asks for 89 mm.
    pub fn ahead_of_pedal_mm(&self, limit_deg: f64) -> Option<f64> {
        let pedal = Point3::at(self.foot.crank_mm, 0.0, self.foot.lateral_mm);
        let ahead = |steer_deg: f64| self.wheel.turned(steer_deg).ahead_of_mm(pedal);
        let mut best = Least { at: 0.0, value: f64::INFINITY };
        // One degree moves the tyre by less than 10 mm and the distance by less: its dip is many degrees wide.
        let mut steer_deg = 0.0;
        while steer_deg <= limit_deg.min(180.0) {
            let value = ahead(steer_deg);
            if value < best.value {
                best = Least { at: steer_deg, value };
            }
            steer_deg += 1.0;
        }
        if best.value.is_infinite() {
            return None;
        }
        let near = Bracket { low: (best.at - 1.0).max(0.0), high: (best.at + 1.0).min(limit_deg), tolerance: 1e-7 };
        Some(least(near, ahead).value)
    }
}

/// A bike turning slowly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlowTurn {
    /// Wheelbase, mm.
    pub wheelbase_mm: f64,
    /// Head angle on the ground, degrees.
    pub head_angle_deg: f64,
    /// Steering angle, degrees.
    pub steer_deg: f64,
}

impl SlowTurn {
    /// Radius of the turn at walking pace, bike upright, mm: wheelbase ÷ (sin H tan δ).
    ///
    /// - Comes back: infinite straight ahead.
    ///
    /// Source: kinematics of an upright bicycle without sideslip; common practice, no source.
    pub fn radius_mm(&self) -> f64 {
        self.wheelbase_mm / (sin_cos_deg(self.head_angle_deg).0 * tan_deg(self.steer_deg))
    }
}

impl Foot {
    /// Middle of the toe's sphere with the crank at this angle above forward, on the rider's right.
    fn toe(&self, crank_deg: f64) -> Point3 {
        let pedal = Point2::direction(crank_deg) * self.crank_mm;
        (pedal + Point2::at(self.tip_ahead_mm - self.toe_radius_mm, self.toe_height_mm)).with_z(self.lateral_mm)
    }
}

/// A tyre in space.
struct Tyre {
    middle: Point3,
    /// Direction of the axle, length 1.
    axle: Point3,
    ring_radius_mm: f64,
    section_radius_mm: f64,
}

impl FrontWheel {
    /// The tyre with the handlebar turned left, so that the wheel's back swings to the rider's right.
    fn turned(&self, steer_deg: f64) -> Tyre {
        let axis = steering_axis(self.head_angle_deg).with_z(0.0);
        let axis_point = self.axis_point.with_z(0.0);
        Tyre {
            middle: axis_point + (self.axle.with_z(0.0) - axis_point).turned_about(axis, steer_deg),
            axle: Point3::at(0.0, 0.0, 1.0).turned_about(axis, steer_deg),
            ring_radius_mm: self.outer_radius_mm - self.section_radius_mm,
            section_radius_mm: self.section_radius_mm,
        }
    }

    /// No point of the tyre lies further from the steering axis than this.
    fn furthest_from_axis_mm(&self) -> f64 {
        let offset_mm = steering_axis(self.head_angle_deg).cross(self.axle - self.axis_point).abs();
        offset_mm + self.outer_radius_mm + self.section_radius_mm
    }
}

impl Tyre {
    /// Distance of a point from the tyre's surface; negative inside.
    fn gap_mm(&self, point: Point3) -> f64 {
        let step = point - self.middle;
        let z_mm = step.dot(self.axle);
        let ring_mm = (step - self.axle * z_mm).length_mm();
        libm::hypot(ring_mm - self.ring_radius_mm, z_mm) - self.section_radius_mm
    }

    /// How far straight ahead of a point the tyre begins; infinite if a line ahead misses it.
    fn ahead_of_mm(&self, point: Point3) -> f64 {
        // Walking by the gap never enters the tyre. A line that grazes it needs many steps; 500 leave less than 0.01 mm
        // undecided, and a graze is never the least distance.
        let most_mm = self.ring_radius_mm * 4.0;
        let mut ahead_mm = 0.0;
        for _ in 0..500 {
            let gap_mm = self.gap_mm(point + Point3::at(ahead_mm, 0.0, 0.0));
            if gap_mm < 1e-10 {
                return ahead_mm;
            }
            ahead_mm += gap_mm;
            if ahead_mm > most_mm {
                return f64::INFINITY;
            }
        }
        ahead_mm
    }
}
