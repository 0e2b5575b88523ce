//! The ground under two wheels, and how the bike steers on it.
//!
//! The ground is the common lower tangent of the two tyre circles. Nothing here assumes level axles: as soon as the
//! tyres differ, or a fork is exchanged, the frame stands tilted and every angle to the ground changes with it.

use crate::angle::sin_cos_deg;
use crate::vector::Point2;

/// The two wheels in the frame's own coordinates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wheels {
    /// Centre of the front axle.
    pub front_axle: Point2,
    /// Centre of the rear axle.
    pub rear_axle: Point2,
    /// Outer radius of the front tyre (unloaded), mm.
    pub front_radius_mm: f64,
    /// Outer radius of the rear tyre (unloaded), mm.
    pub rear_radius_mm: f64,
}

/// The ground line as seen from the frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ground {
    /// Angle of the ground against the frame's x axis, degrees; positive when the ground rises towards the front in
    /// the frame's view, that is when the bike stands nose down.
    pub tilt_deg: f64,
    /// Distance between the two points of contact, mm.
    pub wheelbase_mm: f64,
    /// Height of the bottom-bracket centre above the ground, mm.
    pub bb_height_mm: f64,
}

impl Ground {
    /// The ground under these wheels.
    ///
    /// With L the distance between the axles and r the radii: tilt = slope of the axle line − asin((rf − rr)/L);
    /// wheelbase = √(L² − (rf − rr)²).
    ///
    /// - Comes back: `None` when no ground line touches both from below: the front axle is not in front of the rear
    ///   one, or one wheel swallows the other (L ≤ |rf − rr|), or a figure is not a number.
    ///
    /// ```
    /// use witnessmark_mechanics::{ground::{Ground, Wheels}, Point2};
    /// let level = Ground::from_wheels(Wheels {
    ///     front_axle: Point2::at(574.2, 70.0), front_radius_mm: 337.0,
    ///     rear_axle: Point2::at(-404.0, 70.0), rear_radius_mm: 337.0,
    /// }).unwrap();
    /// assert_eq!(level.bb_height_mm, 267.0);
    /// assert!((level.wheelbase_mm - 978.2).abs() < 1e-9);
    /// ```
    ///
    /// Source: elementary geometry of the common tangent of two circles.
    pub fn from_wheels(wheels: Wheels) -> Option<Self> {
        let axle_line = wheels.front_axle - wheels.rear_axle;
        let axle_distance_mm = axle_line.length_mm();
        let radius_step_mm = wheels.front_radius_mm - wheels.rear_radius_mm;
        // A comparison with a value that is not a number is false, so that is refused here too.
        let stands = axle_line.x_mm > 0.0 && axle_distance_mm > radius_step_mm.abs();
        if !stands {
            return None;
        }
        let tilt_deg = axle_line.angle_deg() - libm::asin(radius_step_mm / axle_distance_mm).to_degrees();
        let wheelbase_mm = libm::sqrt((axle_distance_mm - radius_step_mm) * (axle_distance_mm + radius_step_mm));
        let rear_axle_level_mm = height_along(wheels.rear_axle, tilt_deg);
        Some(Self { tilt_deg, wheelbase_mm, bb_height_mm: wheels.rear_radius_mm - rear_axle_level_mm })
    }

    /// How high a point of the frame stands above the ground, mm.
    ///
    /// Source: distance of a point from a line.
    pub fn height_of(&self, point: Point2) -> f64 {
        self.bb_height_mm + height_along(point, self.tilt_deg)
    }

    /// The same point with x along the ground and y square to it, still from the bottom-bracket centre: what a plumb
    /// line and a level read on the standing bike.
    ///
    /// Source: plane rotation by the tilt.
    pub fn as_standing(&self, point: Point2) -> Point2 {
        point.rotated_deg(-self.tilt_deg)
    }

    /// The reverse of [`Ground::as_standing`]: from readings on the standing bike to the frame's own coordinates.
    ///
    /// Source: plane rotation by the tilt.
    pub fn in_frame(&self, standing: Point2) -> Point2 {
        standing.rotated_deg(self.tilt_deg)
    }
}

/// A point's distance from the line through the origin that rises at this angle.
fn height_along(point: Point2, tilt_deg: f64) -> f64 {
    let (sin, cos) = sin_cos_deg(tilt_deg);
    point.y_mm * cos - point.x_mm * sin
}

/// The steering axis over its contact point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steering {
    /// Head angle in the frame table, degrees from the frame's x axis, measured behind the head tube.
    pub head_angle_deg: f64,
    /// Fork offset (rake): distance of the axle in front of the steering axis, mm; negative for a fork turned round.
    pub fork_offset_mm: f64,
    /// Outer radius of the front tyre, mm.
    pub front_radius_mm: f64,
    /// Tilt of the ground in the frame's view, [`Ground::tilt_deg`]; 0 when the axles are level and the tyres equal.
    pub ground_tilt_deg: f64,
}

impl Steering {
    /// Head angle against the ground the bike stands on: H + tilt.
    ///
    /// Source: sum of angles.
    pub fn head_angle_on_ground_deg(&self) -> f64 {
        self.head_angle_deg + self.ground_tilt_deg
    }

    /// Trail: how far the contact point lies behind the place where the steering axis meets the ground, mm.
    ///
    /// trail = (r cos H − f) / sin H, with r wheel radius, f fork offset, H head angle on the ground.
    ///
    /// - Valid for 0° < H < 180°; at the ends it grows without bound.
    ///
    /// ```
    /// use witnessmark_mechanics::ground::Steering;
    /// let steering = Steering { head_angle_deg: 73.0, fork_offset_mm: 43.0, front_radius_mm: 337.0, ground_tilt_deg: 0.0 };
    /// assert!((steering.trail_mm() - 58.066_494_12).abs() < 1e-7);
    /// ```
    ///
    /// Source: Meijaard, Papadopoulos, Ruina, Schwab, Proc. R. Soc. A 463 (2007) 1955–1982, where trail c and tilt
    /// λ = 90° − H are parameters; the relation c = (r sin λ − f)/cos λ is the same.
    pub fn trail_mm(&self) -> f64 {
        self.mechanical_trail_mm() / sin_cos_deg(self.head_angle_on_ground_deg()).0
    }

    /// Mechanical trail: distance of the contact point from the steering axis, square to the axis, mm: r cos H − f.
    ///
    /// Source: Meijaard and others (2007), there c cos λ.
    pub fn mechanical_trail_mm(&self) -> f64 {
        let (_, cos) = sin_cos_deg(self.head_angle_on_ground_deg());
        self.front_radius_mm * cos - self.fork_offset_mm
    }

    /// Wheel flop: the mechanical trail times cos H, mm; how far the front sinks, per unit of steering, in the usual
    /// first estimate.
    ///
    /// Source: common practice (the figure trail · sin H · cos H).
    pub fn wheel_flop_mm(&self) -> f64 {
        self.mechanical_trail_mm() * sin_cos_deg(self.head_angle_on_ground_deg()).1
    }

    /// The share of the wheel radius, from the ground up, at which the steering axis crosses the vertical through the
    /// axle: 1 − f / (r cos H).
    ///
    /// - Comes back: infinite or not a number for an upright steering axis (H = 90°).
    ///
    /// Source: ISO 4210-2:2015, annex A, recommends 0.15 to 0.60 of the radius for this height.
    pub fn axis_share_under_axle(&self) -> f64 {
        let (_, cos) = sin_cos_deg(self.head_angle_on_ground_deg());
        1.0 - self.fork_offset_mm / (self.front_radius_mm * cos)
    }

    /// How much the trail grows per degree of head angle, mm; negative on every road bike.
    ///
    /// d trail / dH = (f cos H − r) / sin² H per radian.
    ///
    /// Source: derivative of [`Steering::trail_mm`].
    pub fn trail_per_deg_head_angle_mm(&self) -> f64 {
        let (sin, cos) = sin_cos_deg(self.head_angle_on_ground_deg());
        ((self.fork_offset_mm * cos - self.front_radius_mm) / (sin * sin)).to_radians()
    }

    /// How much the trail grows per millimetre of fork offset: −1 / sin H.
    ///
    /// Source: derivative of [`Steering::trail_mm`].
    pub fn trail_per_mm_offset(&self) -> f64 {
        -1.0 / sin_cos_deg(self.head_angle_on_ground_deg()).0
    }

    /// How much the trail grows per millimetre of wheel radius: cot H. The tilt that the larger tyre brings with it is
    /// not in it; work out the ground anew for that.
    ///
    /// Source: derivative of [`Steering::trail_mm`].
    pub fn trail_per_mm_radius(&self) -> f64 {
        let (sin, cos) = sin_cos_deg(self.head_angle_on_ground_deg());
        cos / sin
    }
}

/// The upper edge of a top tube, in frame coordinates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TopTubeEdge {
    /// Where the edge starts, at the seat tube.
    pub rear: Point2,
    /// Where it ends, at the head tube.
    pub front: Point2,
}

impl TopTubeEdge {
    /// Height of the edge above the ground, mm, straight above a place x on the frame.
    ///
    /// - Comes back: `None` when x is not between the two ends: there is no tube there.
    ///
    /// Source: linear interpolation along a straight tube.
    pub fn standover_mm(&self, ground: &Ground, x_mm: f64) -> Option<f64> {
        let span_mm = self.front.x_mm - self.rear.x_mm;
        if !(self.rear.x_mm <= x_mm && x_mm <= self.front.x_mm && span_mm > 0.0) {
            return None;
        }
        let share = (x_mm - self.rear.x_mm) / span_mm;
        Some(ground.height_of(self.rear + (self.front - self.rear) * share))
    }
}
