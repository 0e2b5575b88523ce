//! From seat tube and post to the saddle's top, forwards and backwards, and the two lengths that decide whether a
//! post may be used.
//!
//! Saddle height has no single meaning in the trade; [`HeightLine`] names the three that are met.

use crate::angle::sin_cos_deg;
use crate::vector::Point2;

/// The seat tube's axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeatTube {
    /// Angle to the ground line, measured behind the tube, degrees.
    pub angle_deg: f64,
    /// Where the axis passes at the height of the bottom-bracket centre: 0 through it, + in front, mm.
    pub axis_x_at_bb_mm: f64,
}

impl SeatTube {
    /// The direction up the axis: (−cos A, sin A).
    ///
    /// Source: definition of the seat angle.
    pub fn upwards(&self) -> Point2 {
        let (sin, cos) = sin_cos_deg(self.angle_deg);
        Point2::at(-cos, sin)
    }

    /// The direction backwards and square to the axis: (−sin A, −cos A).
    ///
    /// Source: definition of the seat angle.
    pub fn backwards(&self) -> Point2 {
        let (sin, cos) = sin_cos_deg(self.angle_deg);
        Point2::at(-sin, -cos)
    }

    /// Where the axis passes at the height of the bottom-bracket centre.
    ///
    /// Source: definition.
    pub const fn foot(&self) -> Point2 {
        Point2::at(self.axis_x_at_bb_mm, 0.0)
    }
}

/// A seat post's head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Post {
    /// How far the middle of the rail clamp lies behind the post's axis, square to it, mm.
    pub offset_mm: f64,
}

/// A saddle, measured on the bench with its rails level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SaddleShape {
    /// Nose to reference point along the saddle, mm.
    pub nose_to_reference_mm: f64,
    /// How much higher the nose stands than the reference point, mm; usually negative or 0.
    pub nose_above_reference_mm: f64,
    /// Middle of the rail clamp up to the top of the saddle at the reference point, mm.
    pub clamp_to_top_mm: f64,
}

/// What is set with a tool.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SaddleSetting {
    /// From the seat tube axis's foot at bottom-bracket height along the axis up to the rail clamp, mm.
    pub extension_mm: f64,
    /// How far the saddle's reference point stands in front of the middle of the rail clamp, along the rails, mm.
    pub rail_shift_mm: f64,
    /// Tilt of the saddle, degrees, nose up positive.
    pub tilt_deg: f64,
}

/// A saddle in place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SaddlePoints {
    /// Middle of the rail clamp.
    pub clamp: Point2,
    /// The saddle's reference point on its top.
    pub reference: Point2,
    /// The saddle's nose.
    pub nose: Point2,
}

/// Where the saddle stands with this setting.
///
/// clamp = foot + extension · v + offset · m; reference = clamp + Rot(tilt)(shift, clamp to top); nose = reference +
/// Rot(tilt)(nose length, nose rise), with v up the seat tube and m square to it backwards.
///
/// ```
/// use witnessmark_mechanics::{saddle::*, Point2};
/// let saddle = saddle_position(
///     SeatTube { angle_deg: 73.5, axis_x_at_bb_mm: 0.0 },
///     Post { offset_mm: 20.0 },
///     SaddleShape { nose_to_reference_mm: 150.0, nose_above_reference_mm: 0.0, clamp_to_top_mm: 46.0 },
///     SaddleSetting { extension_mm: 690.0, rail_shift_mm: 0.0, tilt_deg: 0.0 },
/// );
/// assert!(saddle.reference.distance_mm(Point2::at(-215.146_982_5, 701.905_310_2)) < 1e-6);
/// ```
///
/// Source: elementary geometry; checked against a chain of homogeneous transforms.
pub fn saddle_position(seat_tube: SeatTube, post: Post, shape: SaddleShape, setting: SaddleSetting) -> SaddlePoints {
    let clamp = seat_tube.foot() + seat_tube.upwards() * setting.extension_mm + seat_tube.backwards() * post.offset_mm;
    let reference = clamp + Point2::at(setting.rail_shift_mm, shape.clamp_to_top_mm).rotated_deg(setting.tilt_deg);
    let nose =
        reference + Point2::at(shape.nose_to_reference_mm, shape.nose_above_reference_mm).rotated_deg(setting.tilt_deg);
    SaddlePoints { clamp, reference, nose }
}

/// Where the saddle's reference point should be, and at what tilt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SaddleWanted {
    /// Where the reference point should be.
    pub reference: Point2,
    /// At what tilt, degrees, nose up positive.
    pub tilt_deg: f64,
}

/// The extension and rail shift that put the saddle's reference point where it is wanted.
///
/// - Comes back: `None` when the rails run along the post, so that shift and extension do the same. Whether the
///   extension and the shift are possible is for the caller; see [`Insertion`] and [`RailClamp`].
///
/// ```
/// use witnessmark_mechanics::{saddle::*, Point2};
/// let setting = saddle_setting_for(
///     SaddleWanted { reference: Point2::at(-215.0, 715.0), tilt_deg: 0.0 },
///     SeatTube { angle_deg: 73.5, axis_x_at_bb_mm: 0.0 },
///     Post { offset_mm: 20.0 },
///     SaddleShape { nose_to_reference_mm: 150.0, nose_above_reference_mm: 0.0, clamp_to_top_mm: 46.0 },
/// ).unwrap();
/// assert!((setting.extension_mm - 703.657_092_5).abs() < 1e-6);
/// assert!((setting.rail_shift_mm - 4.025_806_385).abs() < 1e-6);
/// ```
///
/// Source: [`saddle_position`] solved by Cramer's rule for its two lengths.
pub fn saddle_setting_for(
    wanted: SaddleWanted,
    seat_tube: SeatTube,
    post: Post,
    shape: SaddleShape,
) -> Option<SaddleSetting> {
    let up = seat_tube.upwards();
    let along_rails = Point2::direction(wanted.tilt_deg);
    let step = wanted.reference
        - seat_tube.foot()
        - seat_tube.backwards() * post.offset_mm
        - along_rails.quarter_turned() * shape.clamp_to_top_mm;
    let spread = up.cross(along_rails);
    // A spread of 1e-6 is a ten-thousandth of a degree between post and rails: nothing that is built.
    (spread.abs() > 1e-6).then(|| SaddleSetting {
        extension_mm: step.cross(along_rails) / spread,
        rail_shift_mm: up.cross(step) / spread,
        tilt_deg: wanted.tilt_deg,
    })
}

/// Along which line a saddle height is measured, from the bottom-bracket centre to the same point of the saddle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeightLine {
    /// Straight up.
    Vertical,
    /// With a tape from centre to point.
    Straight,
    /// Along the direction of the seat tube: from the axis's foot at bottom-bracket height to the point's own foot on the
    /// axis. A tape held along the tube up to the saddle's top line reads less, by 2 mm at usual setbacks: y ÷ sin A.
    AlongSeatTube,
}

impl HeightLine {
    /// The height of a point along this line, mm.
    ///
    /// ```
    /// use witnessmark_mechanics::{saddle::{HeightLine, SeatTube}, Point2};
    /// let tube = SeatTube { angle_deg: 73.5, axis_x_at_bb_mm: 0.0 };
    /// let reference = Point2::at(-215.146_982_5, 701.905_310_2);
    /// assert!((HeightLine::Straight.height_mm(reference, tube) - 734.138_466_9).abs() < 1e-6);
    /// assert!((HeightLine::AlongSeatTube.height_mm(reference, tube) - 734.105_707_8).abs() < 1e-6);
    /// ```
    ///
    /// Source: definitions met in fitters' sheets; common practice, no source.
    pub fn height_mm(self, point: Point2, seat_tube: SeatTube) -> f64 {
        match self {
            Self::Vertical => point.y_mm,
            Self::Straight => point.length_mm(),
            Self::AlongSeatTube => (point - seat_tube.foot()).dot(seat_tube.upwards()),
        }
    }

    /// The point at a given height along this line and at a given x (negative behind the bottom bracket).
    ///
    /// So a height of one definition becomes a height of another: take the point, then measure it along the other
    /// line.
    ///
    /// - Comes back: `None` when a straight height is shorter than the setback, or the seat tube lies level.
    ///
    /// Source: [`HeightLine::height_mm`] solved for y.
    pub fn point_at(self, measured: MeasuredHeight, seat_tube: SeatTube) -> Option<Point2> {
        let MeasuredHeight { height_mm, x_mm } = measured;
        let y_mm = match self {
            Self::Vertical => Some(height_mm),
            Self::Straight => (height_mm >= x_mm.abs()).then(|| libm::sqrt((height_mm - x_mm) * (height_mm + x_mm))),
            Self::AlongSeatTube => {
                let (sin, cos) = sin_cos_deg(seat_tube.angle_deg);
                (sin.abs() > 1e-6).then(|| (height_mm + (x_mm - seat_tube.axis_x_at_bb_mm) * cos) / sin)
            }
        }?;
        Some(Point2::at(x_mm, y_mm))
    }
}

/// A saddle height and the setback of the same point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredHeight {
    /// The height, along the line it was measured on, mm.
    pub height_mm: f64,
    /// x of the same point, mm; negative behind the bottom bracket.
    pub x_mm: f64,
}

/// The part of the leg's stroke that belongs to the bike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CrankAndPedal {
    /// Crank length, mm.
    pub crank_mm: f64,
    /// Sole of the foot above the pedal axle, mm.
    pub pedal_stack_mm: f64,
}

/// A change of crank or pedal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LegChange {
    /// What the position was set with.
    pub old: CrankAndPedal,
    /// What goes on now.
    pub new: CrankAndPedal,
}

impl LegChange {
    /// How much the straight height grows when the leg's extension at the bottom of the stroke is kept, mm:
    /// old crank − new crank + new pedal stack − old pedal stack.
    ///
    /// Source: common practice; sum of lengths along the line from saddle to pedal at full stretch.
    pub const fn straight_height_gain_mm(&self) -> f64 {
        self.old.crank_mm - self.new.crank_mm + self.new.pedal_stack_mm - self.old.pedal_stack_mm
    }

    /// The saddle's reference point moved along its own ray from the bottom bracket, so that the leg's extension is
    /// kept.
    ///
    /// - Comes back: `None` when the point lies on the bottom bracket or would have to pass it.
    ///
    /// ```
    /// use witnessmark_mechanics::{saddle::{CrankAndPedal, LegChange}, Point2};
    /// let change = LegChange {
    ///     old: CrankAndPedal { crank_mm: 172.5, pedal_stack_mm: 11.0 },
    ///     new: CrankAndPedal { crank_mm: 165.0, pedal_stack_mm: 11.0 },
    /// };
    /// let moved = change.keep_extension(Point2::at(-215.0, 715.0)).unwrap();
    /// assert!(moved.distance_mm(Point2::at(-217.159_716_6, 722.182_313_3)) < 1e-6);
    /// ```
    ///
    /// Source: as [`LegChange::straight_height_gain_mm`].
    pub fn keep_extension(&self, reference: Point2) -> Option<Point2> {
        let straight_mm = reference.length_mm();
        let new_straight_mm = straight_mm + self.straight_height_gain_mm();
        (straight_mm > 0.0 && new_straight_mm > 0.0).then(|| reference * (new_straight_mm / straight_mm))
    }
}

/// Straight distance from the saddle's reference point to the sole at the top of the stroke, mm: straight height −
/// crank − pedal stack.
///
/// With the extension kept, a crank shorter by c opens this by 2c.
///
/// Source: sum of lengths along the ray from saddle to bottom bracket.
pub fn top_of_stroke_mm(reference: Point2, leg: CrankAndPedal) -> f64 {
    reference.length_mm() - leg.crank_mm - leg.pedal_stack_mm
}

/// How deep a post sits in its frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Insertion {
    /// Post length from the middle of the rail clamp, along the axis, to the lower end, mm.
    pub post_length_mm: f64,
    /// [`SaddleSetting::extension_mm`].
    pub extension_mm: f64,
    /// From the axis's foot at bottom-bracket height along the axis up to the frame's collar edge, mm.
    pub collar_mm: f64,
}

impl Insertion {
    /// Length of post above the collar, to the middle of the rail clamp, mm; negative when the clamp would have to
    /// sit below the collar.
    ///
    /// Source: difference of lengths.
    pub const fn exposed_mm(&self) -> f64 {
        self.extension_mm - self.collar_mm
    }

    /// Length of post inside the frame, mm.
    ///
    /// ```
    /// use witnessmark_mechanics::saddle::Insertion;
    /// let post = Insertion { post_length_mm: 350.0, extension_mm: 680.0, collar_mm: 510.0 };
    /// assert_eq!((post.exposed_mm(), post.inserted_mm()), (170.0, 180.0));
    /// ```
    ///
    /// Source: difference of lengths.
    pub const fn inserted_mm(&self) -> f64 {
        self.post_length_mm - self.exposed_mm()
    }

    /// How much is left on each side of the limits.
    ///
    /// Source: the least insertion is the larger of the post's mark and the frame's minimum; common practice.
    pub fn margin(&self, limits: InsertionLimits) -> InsertionMargin {
        InsertionMargin {
            over_least_mm: self.inserted_mm() - limits.post_mark_mm.max(limits.frame_least_mm),
            under_most_mm: limits.frame_most_mm - self.inserted_mm(),
        }
    }
}

/// Limits on a post's insertion. A limit that is not known is left out by the caller with −∞ or +∞ and said so there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InsertionLimits {
    /// Least insertion marked on the post, mm.
    pub post_mark_mm: f64,
    /// Least insertion the frame's maker asks, mm.
    pub frame_least_mm: f64,
    /// Most the frame takes before a boss, a bend or a battery, mm.
    pub frame_most_mm: f64,
}

/// What an insertion has in hand; negative on the side where it breaks a limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InsertionMargin {
    /// Beyond the least insertion, mm.
    pub over_least_mm: f64,
    /// Short of the most, mm.
    pub under_most_mm: f64,
}

/// A saddle's rails and the clamp that holds them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RailClamp {
    /// Length of rail on which the maker allows a clamp, mm.
    pub straight_rail_mm: f64,
    /// Length of rail the clamp covers, mm.
    pub clamp_length_mm: f64,
    /// How far the reference point stands in front of the middle of that straight part, along the rails, mm.
    pub reference_ahead_of_middle_mm: f64,
}

impl RailClamp {
    /// Least and most rail shift at which the clamp stays on the straight part of the rails.
    ///
    /// - Comes back: `None` when the clamp is longer than the rail.
    ///
    /// Source: difference of lengths.
    pub fn shift_range(&self) -> Option<ShiftRange> {
        let half_mm = (self.straight_rail_mm - self.clamp_length_mm) / 2.0;
        (half_mm >= 0.0).then_some(ShiftRange {
            least_mm: self.reference_ahead_of_middle_mm - half_mm,
            most_mm: self.reference_ahead_of_middle_mm + half_mm,
        })
    }
}

/// The rail shifts a clamp allows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShiftRange {
    /// Furthest back, mm.
    pub least_mm: f64,
    /// Furthest forward, mm.
    pub most_mm: f64,
}
