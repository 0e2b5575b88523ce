//! Points and directions in the bike's own coordinates.
//!
//! x forward, y up, z to the rider's right, all in mm from the bottom-bracket centre. The same type serves a point
//! and the step between two points; which one it is follows from the name of the variable.

use crate::angle::sin_cos_deg;
use core::ops::{Add, Mul, Neg, Sub};

/// Which side of the bike, as the rider sees it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The rider's left: z is negative.
    Left,
    /// The rider's right, the drive side: z is positive.
    Right,
}

impl Side {
    /// +1 on the right, −1 on the left: the sign of z.
    ///
    /// Source: convention of this crate (z to the drive side).
    pub const fn sign(self) -> f64 {
        match self {
            Self::Left => -1.0,
            Self::Right => 1.0,
        }
    }
}

/// A point, or a step, in the side view.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point2 {
    /// Forward of the bottom-bracket centre, mm.
    pub x_mm: f64,
    /// Above the bottom-bracket centre, mm.
    pub y_mm: f64,
}

impl Point2 {
    /// The bottom-bracket centre.
    pub const ORIGIN: Self = Self { x_mm: 0.0, y_mm: 0.0 };

    /// The point at these coordinates.
    ///
    /// Source: convention of this crate.
    pub const fn at(x_mm: f64, y_mm: f64) -> Self {
        Self { x_mm, y_mm }
    }

    /// The step of length 1 that climbs at this angle above forward.
    ///
    /// Source: definition of sine and cosine.
    pub fn direction(angle_deg: f64) -> Self {
        let (sin, cos) = sin_cos_deg(angle_deg);
        Self::at(cos, sin)
    }

    /// How far this point is from the bottom-bracket centre; the length of a step.
    ///
    /// ```
    /// # use witnessmark_mechanics::Point2;
    /// assert_eq!(Point2::at(30.0, 40.0).length_mm(), 50.0);
    /// ```
    ///
    /// Source: Pythagoras.
    pub fn length_mm(self) -> f64 {
        libm::hypot(self.x_mm, self.y_mm)
    }

    /// The straight distance between two points.
    ///
    /// Source: Pythagoras.
    pub fn distance_mm(self, other: Self) -> f64 {
        (self - other).length_mm()
    }

    /// The scalar product of two steps.
    ///
    /// Source: definition.
    pub fn dot(self, other: Self) -> f64 {
        self.x_mm * other.x_mm + self.y_mm * other.y_mm
    }

    /// The area a step spans with another, positive when the other lies anticlockwise of it (nose up).
    ///
    /// Source: definition of the plane cross product.
    pub fn cross(self, other: Self) -> f64 {
        self.x_mm * other.y_mm - self.y_mm * other.x_mm
    }

    /// The step turned a quarter anticlockwise: forward becomes up.
    ///
    /// Source: definition of a rotation by 90°.
    #[must_use]
    pub const fn quarter_turned(self) -> Self {
        Self::at(-self.y_mm, self.x_mm)
    }

    /// The point turned about the origin; a positive angle lifts what is in front.
    ///
    /// Source: definition of a plane rotation.
    #[must_use]
    pub fn rotated_deg(self, angle_deg: f64) -> Self {
        let (sin, cos) = sin_cos_deg(angle_deg);
        Self::at(self.x_mm * cos - self.y_mm * sin, self.x_mm * sin + self.y_mm * cos)
    }

    /// The angle of a step above forward, −180° to 180°.
    ///
    /// Source: definition of the two-argument arc tangent.
    pub fn angle_deg(self) -> f64 {
        libm::atan2(self.y_mm, self.x_mm).to_degrees()
    }

    /// The same point, standing out of the bike's plane by z.
    ///
    /// Source: convention of this crate.
    pub const fn with_z(self, z_mm: f64) -> Point3 {
        Point3::at(self.x_mm, self.y_mm, z_mm)
    }
}

/// A point, or a step, in space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point3 {
    /// Forward of the bottom-bracket centre, mm.
    pub x_mm: f64,
    /// Above the bottom-bracket centre, mm.
    pub y_mm: f64,
    /// To the rider's right of the bike's plane, mm.
    pub z_mm: f64,
}

impl Point3 {
    /// The bottom-bracket centre.
    pub const ORIGIN: Self = Self { x_mm: 0.0, y_mm: 0.0, z_mm: 0.0 };

    /// The point at these coordinates.
    ///
    /// Source: convention of this crate.
    pub const fn at(x_mm: f64, y_mm: f64, z_mm: f64) -> Self {
        Self { x_mm, y_mm, z_mm }
    }

    /// The point as seen from the side.
    ///
    /// Source: convention of this crate.
    pub const fn side_view(self) -> Point2 {
        Point2::at(self.x_mm, self.y_mm)
    }

    /// How far this point is from the bottom-bracket centre; the length of a step.
    ///
    /// Source: Pythagoras.
    pub fn length_mm(self) -> f64 {
        libm::sqrt(self.dot(self))
    }

    /// The straight distance between two points: what a tape between them reads.
    ///
    /// Source: Pythagoras.
    pub fn distance_mm(self, other: Self) -> f64 {
        (self - other).length_mm()
    }

    /// The scalar product of two steps.
    ///
    /// Source: definition.
    pub fn dot(self, other: Self) -> f64 {
        self.x_mm * other.x_mm + self.y_mm * other.y_mm + self.z_mm * other.z_mm
    }

    /// The vector product of two steps (right-handed).
    ///
    /// Source: definition.
    #[must_use]
    pub fn cross(self, other: Self) -> Self {
        Self::at(
            self.y_mm * other.z_mm - self.z_mm * other.y_mm,
            self.z_mm * other.x_mm - self.x_mm * other.z_mm,
            self.x_mm * other.y_mm - self.y_mm * other.x_mm,
        )
    }

    /// The point turned about a line through the origin, by the right-hand rule.
    ///
    /// `axis` must have length 1; any other length gives a point that is not a rotation.
    ///
    /// Source: Rodrigues' rotation formula.
    #[must_use]
    pub fn turned_about(self, axis: Self, angle_deg: f64) -> Self {
        let (sin, cos) = sin_cos_deg(angle_deg);
        self * cos + axis.cross(self) * sin + axis * (axis.dot(self) * (1.0 - cos))
    }

    /// The same point on the other side of the bike.
    ///
    /// Source: mirror image in the bike's plane.
    #[must_use]
    pub const fn mirrored(self) -> Self {
        Self::at(self.x_mm, self.y_mm, -self.z_mm)
    }
}

impl Add for Point2 {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::at(self.x_mm + other.x_mm, self.y_mm + other.y_mm)
    }
}

impl Sub for Point2 {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::at(self.x_mm - other.x_mm, self.y_mm - other.y_mm)
    }
}

impl Mul<f64> for Point2 {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::at(self.x_mm * factor, self.y_mm * factor)
    }
}

impl Neg for Point2 {
    type Output = Self;
    fn neg(self) -> Self {
        Self::at(-self.x_mm, -self.y_mm)
    }
}

impl Add for Point3 {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::at(self.x_mm + other.x_mm, self.y_mm + other.y_mm, self.z_mm + other.z_mm)
    }
}

impl Sub for Point3 {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::at(self.x_mm - other.x_mm, self.y_mm - other.y_mm, self.z_mm - other.z_mm)
    }
}

impl Mul<f64> for Point3 {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::at(self.x_mm * factor, self.y_mm * factor, self.z_mm * factor)
    }
}

impl Neg for Point3 {
    type Output = Self;
    fn neg(self) -> Self {
        Self::at(-self.x_mm, -self.y_mm, -self.z_mm)
    }
}
