//! A frame and its fork in the side view, from the figures a maker prints.
//!
//! A geometry table usually says more than it must, so it can contradict itself. [`FrameTable::closure_miss_mm`]
//! measures by how much; [`disagreement`] asks of every figure in turn what it would have to be.

use crate::angle::{sin_cos_deg, tan_deg};
use crate::vector::Point2;

/// How a maker measures a fork's length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ForkLength {
    /// From the crown-race seat along the steering axis to the foot of the axle's offset.
    AlongAxis,
    /// From the crown-race seat straight to the axle; 2 to 3 mm longer at the offsets of road forks.
    Straight,
}

/// The figures of a frame and its fork.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrameTable {
    /// Bottom-bracket centre up to the middle of the head tube's upper face, mm.
    pub stack_mm: f64,
    /// Bottom-bracket centre forward to the middle of the head tube's upper face, mm.
    pub reach_mm: f64,
    /// Angle of the steering axis to the ground line, measured behind the tube, degrees.
    pub head_angle_deg: f64,
    /// Length of the head tube along its axis, mm.
    pub head_tube_mm: f64,
    /// Lower headset: from the head tube's lower face to the fork's crown-race seat, mm.
    pub lower_stack_mm: f64,
    /// Fork length from the crown-race seat to the axle, measured as `fork_length_is` says, mm.
    pub fork_length_mm: f64,
    /// How the fork length is measured.
    pub fork_length_is: ForkLength,
    /// Fork offset: distance of the axle in front of the steering axis, mm.
    pub fork_offset_mm: f64,
    /// How far the bottom-bracket centre lies below the rear axle, mm.
    pub bb_drop_mm: f64,
    /// Bottom-bracket centre straight to the rear axle, mm.
    pub chainstay_mm: f64,
}

impl FrameTable {
    /// Middle of the head tube's upper face: (reach, stack).
    ///
    /// Source: definition of stack and reach.
    pub fn head_tube_top(&self) -> Point2 {
        Point2::at(self.reach_mm, self.stack_mm)
    }

    /// Middle of the head tube's lower face: a head tube's length down the axis.
    ///
    /// Source: elementary geometry.
    pub fn head_tube_bottom(&self) -> Point2 {
        self.head_tube_top() - steering_axis(self.head_angle_deg) * self.head_tube_mm
    }

    /// The fork's crown-race seat on the axis, from which fork and steerer are measured.
    ///
    /// Source: elementary geometry.
    pub fn crown_race_seat(&self) -> Point2 {
        self.head_tube_bottom() - steering_axis(self.head_angle_deg) * self.lower_stack_mm
    }

    /// Fork length along the steering axis, mm: as printed, or √(a² − f²) from a straight length a and offset f.
    ///
    /// - Comes back: not a number when a straight length is shorter than the offset; no fork has that shape.
    ///
    /// Source: Pythagoras.
    pub fn fork_length_along_axis_mm(&self) -> f64 {
        match self.fork_length_is {
            ForkLength::AlongAxis => self.fork_length_mm,
            ForkLength::Straight => libm::sqrt(
                (self.fork_length_mm - self.fork_offset_mm)
                    * (self.fork_length_mm + self.fork_offset_mm),
            ),
        }
    }

    /// Front axle from the fork's length and offset: down the axis from the crown-race seat, then square forward.
    ///
    /// Needs head-tube length, lower stack and fork length. Where these are not known,
    /// [`FrameTable::front_axle_from_drop`] needs none of them.
    ///
    /// - Comes back: not a number where [`FrameTable::fork_length_along_axis_mm`] is.
    ///
    /// Source: elementary geometry.
    pub fn front_axle(&self) -> Point2 {
        self.crown_race_seat()
            - steering_axis(self.head_angle_deg) * self.fork_length_along_axis_mm()
            + square_to_axis(self.head_angle_deg) * self.fork_offset_mm
    }

    /// Front axle where it lies when the axles are level; see [`LevelTable::front_axle`].
    ///
    /// Source: see [`LevelTable::front_axle`].
    pub fn front_axle_from_drop(&self) -> Point2 {
        self.level_table().front_axle()
    }

    /// The part of the table that fixes the front axle on a bike with level axles.
    ///
    /// Source: selection of figures.
    pub fn level_table(&self) -> LevelTable {
        LevelTable {
            stack_mm: self.stack_mm,
            reach_mm: self.reach_mm,
            head_angle_deg: self.head_angle_deg,
            fork_offset_mm: self.fork_offset_mm,
            bb_drop_mm: self.bb_drop_mm,
        }
    }

    /// Rear axle; see [`rear_axle`].
    ///
    /// Source: see [`rear_axle`].
    pub fn rear_axle(&self) -> Option<Point2> {
        rear_axle(self.chainstay_mm, self.bb_drop_mm)
    }

    /// By how much the table fails to close: the front axle's height over the rear axle's, mm.
    ///
    /// Zero for a consistent table of a bike with equal tyres. Figures rounded to whole millimetres and tenths of a
    /// degree leave up to [`ROUNDED_TABLE_MISS_MM`].
    ///
    /// Source: elementary geometry.
    pub fn closure_miss_mm(&self) -> f64 {
        self.front_axle().y_mm - self.bb_drop_mm
    }

    /// The fork length that would close the table, in the table's own way of measuring, mm.
    ///
    /// Along the axis: (stack − drop + f cos H)/sin H − head tube − lower stack.
    ///
    /// ```
    /// use witnessmark_mechanics::frame::{ForkLength, FrameTable};
    /// let table = FrameTable {
    ///     stack_mm: 545.0, reach_mm: 384.0, head_angle_deg: 73.0, head_tube_mm: 140.0, lower_stack_mm: 0.0,
    ///     fork_length_mm: 370.0, fork_length_is: ForkLength::AlongAxis, fork_offset_mm: 43.0,
    ///     bb_drop_mm: 70.0, chainstay_mm: 410.0,
    /// };
    /// assert!((table.closure_miss_mm() + 0.143_442_238_1).abs() < 1e-9);
    /// assert!((table.closing_fork_length_mm() - 369.850_003_6).abs() < 1e-7);
    /// ```
    ///
    /// Source: elementary geometry.
    pub fn closing_fork_length_mm(&self) -> f64 {
        let (sin, cos) = sin_cos_deg(self.head_angle_deg);
        let along_axis_mm = (self.stack_mm - self.bb_drop_mm + self.fork_offset_mm * cos) / sin
            - self.head_tube_mm
            - self.lower_stack_mm;
        match self.fork_length_is {
            ForkLength::AlongAxis => along_axis_mm,
            ForkLength::Straight => libm::hypot(along_axis_mm, self.fork_offset_mm),
        }
    }
}

/// The figures that fix the front axle when the axles are level; no fork length and no head tube among them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LevelTable {
    /// Bottom-bracket centre up to the middle of the head tube's upper face, mm.
    pub stack_mm: f64,
    /// Bottom-bracket centre forward to the middle of the head tube's upper face, mm.
    pub reach_mm: f64,
    /// Angle of the steering axis to the ground line, degrees.
    pub head_angle_deg: f64,
    /// Fork offset, mm.
    pub fork_offset_mm: f64,
    /// How far the bottom-bracket centre lies below the axles, mm.
    pub bb_drop_mm: f64,
}

impl LevelTable {
    /// Front axle of a bike with level axles: x = reach + (stack − drop)/tan H + f/sin H, y = drop.
    ///
    /// - Valid when both axles are equally high in the frame's coordinates (equal tyres, the fork the frame was drawn
    ///   for), 0° < H < 180°.
    ///
    /// ```
    /// use witnessmark_mechanics::frame::LevelTable;
    /// let table = LevelTable {
    ///     stack_mm: 545.0, reach_mm: 384.0, head_angle_deg: 73.0, fork_offset_mm: 43.0, bb_drop_mm: 70.0,
    /// };
    /// assert!((table.front_axle().x_mm - 574.186_819_2).abs() < 1e-7);
    /// ```
    ///
    /// Source: elementary geometry.
    pub fn front_axle(&self) -> Point2 {
        let (sin, _) = sin_cos_deg(self.head_angle_deg);
        Point2::at(
            self.reach_mm
                + (self.stack_mm - self.bb_drop_mm) / tan_deg(self.head_angle_deg)
                + self.fork_offset_mm / sin,
            self.bb_drop_mm,
        )
    }
}

/// Rear axle from the chainstay, measured straight, and the drop: (−√(c² − d²), d).
///
/// - Comes back: `None` when the drop is larger than the chainstay.
///
/// Source: Pythagoras.
pub fn rear_axle(chainstay_mm: f64, bb_drop_mm: f64) -> Option<Point2> {
    let reached = chainstay_mm >= bb_drop_mm.abs();
    reached.then(|| {
        Point2::at(
            -libm::sqrt((chainstay_mm - bb_drop_mm) * (chainstay_mm + bb_drop_mm)),
            bb_drop_mm,
        )
    })
}

/// The direction up the steering axis: (−cos H, sin H).
///
/// Source: definition of the head angle.
pub fn steering_axis(head_angle_deg: f64) -> Point2 {
    let (sin, cos) = sin_cos_deg(head_angle_deg);
    Point2::at(-cos, sin)
}

/// The direction forward and square to the steering axis: (sin H, cos H).
///
/// Source: definition of the head angle.
pub fn square_to_axis(head_angle_deg: f64) -> Point2 {
    let (sin, cos) = sin_cos_deg(head_angle_deg);
    Point2::at(sin, cos)
}
