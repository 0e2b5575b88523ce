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
            ForkLength::Straight => {
                libm::sqrt((self.fork_length_mm - self.fork_offset_mm) * (self.fork_length_mm + self.fork_offset_mm))
            }
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
        self.crown_race_seat() - steering_axis(self.head_angle_deg) * self.fork_length_along_axis_mm()
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
    reached.then(|| Point2::at(-libm::sqrt((chainstay_mm - bb_drop_mm) * (chainstay_mm + bb_drop_mm)), bb_drop_mm))
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

/// How far a consistent table may miss its own closure after its figures have been rounded, mm.
///
/// Seven figures enter the closure. Lengths printed to the millimetre are each off by up to 0.5 mm and an angle printed
/// to a tenth by up to 0.05° on an arm of about 190 mm: together 2.7 mm at the very worst, and 0.65 mm as a standard
/// deviation of rectangular errors. Three of those are the limit.
pub const ROUNDED_TABLE_MISS_MM: f64 = 2.0;

/// Standard deviation of a miss that comes from rounding alone, mm; see [`ROUNDED_TABLE_MISS_MM`].
const ROUNDING_MM: f64 = 0.65;

/// A change of this many millimetres counts as much against a figure as a miss of one standard deviation. Wide,
/// because slips in tables are of any size; it only decides between figures that explain the table equally well.
const USUAL_SLIP_MM: f64 = 10.0;

/// Further figures a maker states, which the table must reproduce. Both wheels equally large.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StatedChecks {
    /// Bottom-bracket centre straight to the front axle, mm. A horizontal front centre becomes a straight one by
    /// [`straight_front_centre_mm`].
    pub front_centre_mm: Option<f64>,
    /// Front axle to rear axle, mm.
    pub wheelbase_mm: Option<f64>,
}

/// A front centre stated along the ground, with the drop of the same table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LevelFrontCentre {
    /// Bottom-bracket centre to front axle along the ground, mm.
    pub horizontal_mm: f64,
    /// How far the bottom-bracket centre lies below the axles, mm.
    pub bb_drop_mm: f64,
}

/// Straight front centre from one that is stated along the ground, mm: √(horizontal² + drop²).
///
/// Source: Pythagoras; level axles.
pub fn straight_front_centre_mm(stated: LevelFrontCentre) -> f64 {
    libm::hypot(stated.horizontal_mm, stated.bb_drop_mm)
}

/// A figure of a geometry table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figure {
    /// [`FrameTable::fork_length_mm`].
    ForkLength,
    /// [`FrameTable::lower_stack_mm`].
    LowerStack,
    /// [`FrameTable::head_tube_mm`].
    HeadTube,
    /// [`FrameTable::fork_offset_mm`].
    ForkOffset,
    /// [`FrameTable::head_angle_deg`].
    HeadAngle,
    /// [`FrameTable::stack_mm`].
    Stack,
    /// [`FrameTable::reach_mm`].
    Reach,
    /// [`FrameTable::bb_drop_mm`].
    BbDrop,
    /// [`FrameTable::chainstay_mm`].
    Chainstay,
    /// [`StatedChecks::front_centre_mm`].
    FrontCentre,
    /// [`StatedChecks::wheelbase_mm`].
    Wheelbase,
}

impl Figure {
    /// Every figure, the more often misquoted first: fork length and lower headset have several readings and are
    /// seldom in the frame maker's hand.
    pub const ALL: [Self; 11] = [
        Self::ForkLength,
        Self::LowerStack,
        Self::HeadTube,
        Self::ForkOffset,
        Self::HeadAngle,
        Self::Stack,
        Self::Reach,
        Self::BbDrop,
        Self::Chainstay,
        Self::FrontCentre,
        Self::Wheelbase,
    ];
}

/// By how much a table contradicts itself: what follows from it, less what is stated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Misses {
    /// Front axle's height from the fork, less the drop, mm.
    pub fork_closure_mm: f64,
    /// Front centre that follows, less the stated one, mm; `None` if none is stated.
    pub front_centre_mm: Option<f64>,
    /// Wheelbase that follows, less the stated one, mm; `None` if none is stated or the rear axle is impossible.
    pub wheelbase_mm: Option<f64>,
}

impl Misses {
    /// The largest of them, without sign, mm.
    ///
    /// Source: definition.
    pub fn largest_mm(&self) -> f64 {
        self.list().iter().fold(0.0, |most: f64, miss| most.max(miss.abs()))
    }

    /// All of them; one that was not stated counts as none.
    fn list(&self) -> [f64; 3] {
        [self.fork_closure_mm, self.front_centre_mm.unwrap_or(0.0), self.wheelbase_mm.unwrap_or(0.0)]
    }
}

/// What one figure would have to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Correction {
    /// Which figure.
    pub figure: Figure,
    /// What is stated, mm or degrees.
    pub stated: f64,
    /// What it would have to be, mm or degrees: the value at which the sum of squared misses is least.
    pub corrected: f64,
    /// Size of the change on the bike, mm: the change itself, or for the head angle what it moves the front axle.
    pub change_mm: f64,
    /// The largest miss that is left after the change, mm.
    pub left_mm: f64,
}

impl Correction {
    /// Whether this one change leaves no more than rounding does, and a figure that can exist.
    ///
    /// Source: [`ROUNDED_TABLE_MISS_MM`].
    pub fn explains(&self) -> bool {
        self.left_mm <= ROUNDED_TABLE_MISS_MM && self.can_exist()
    }

    /// A length below zero cannot be what the maker meant. Drop and offset have a sign of their own.
    fn can_exist(&self) -> bool {
        matches!(self.figure, Figure::BbDrop | Figure::ForkOffset) || self.corrected >= 0.0
    }
}

/// A table that contradicts itself, and which figure is likely to be the wrong one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disagreement {
    /// The misses as the table stands.
    pub misses: Misses,
    ranked: [Correction; 11],
    count: usize,
}

impl Disagreement {
    /// Whether the table misses by more than rounding explains.
    ///
    /// Source: [`ROUNDED_TABLE_MISS_MM`].
    pub fn is_real(&self) -> bool {
        self.misses.largest_mm() > ROUNDED_TABLE_MISS_MM
    }

    /// The corrections, the likeliest first.
    ///
    /// Source: see [`disagreement`].
    pub fn ranked(&self) -> &[Correction] {
        &self.ranked[..self.count]
    }
}

/// Asks of each figure what it would have to be for the table to close, and ranks the answers.
///
/// A table has up to three misses: the fork's closure, the stated front centre, the stated wheelbase. One wrong figure
/// leaves its own pattern in the three. For each figure the correction is the one with the least sum of squared
/// misses; the rank is by (what is left ÷ rounding)² + (size of change ÷ usual slip)², least first.
///
/// With only the fork's closure to go by, nearly every figure can close it exactly, and the list is ordered by the
/// size of the change: candidates, not a verdict. With front centre and wheelbase as well, patterns differ; what
/// cannot be told apart even then is fork length, lower headset and head tube (all slide the axle along the steering
/// axis), and a wrong chainstay from a wrong wheelbase. Equal ranks keep the order of [`Figure::ALL`].
///
/// With every figure rounded as makers round, and one of them 12 mm or 1.2° wrong, the first candidate names it (or a
/// figure that cannot be told from it) in 91 of 100 cases, counted over 2100.
///
/// - Valid for one wrong figure. Two at once are blamed on whichever single one comes nearest, with a miss left over.
/// - Comes back: an empty list if the table is not even a fork (a straight length below its offset).
///
/// ```
/// use witnessmark_mechanics::frame::{disagreement, Figure, ForkLength, FrameTable, StatedChecks};
/// let table = FrameTable {
///     stack_mm: 545.0, reach_mm: 394.0 /* misprint: 384 */, head_angle_deg: 73.0, head_tube_mm: 140.0,
///     lower_stack_mm: 0.0, fork_length_mm: 370.0, fork_length_is: ForkLength::AlongAxis, fork_offset_mm: 43.0,
///     bb_drop_mm: 70.0, chainstay_mm: 410.0,
/// };
/// let found = disagreement(&table, StatedChecks { front_centre_mm: Some(578.0), wheelbase_mm: Some(978.0) });
/// let first = found.ranked()[0];
/// assert_eq!(first.figure, Figure::Reach);
/// assert!((first.corrected - 384.0).abs() < 1.0 && first.explains());
/// ```
///
/// Source: least squares with one unknown at a time; the ranking is this project's own.
pub fn disagreement(table: &FrameTable, checks: StatedChecks) -> Disagreement {
    let sheet = Sheet { table: *table, checks };
    let nothing = Correction { figure: Figure::ForkLength, stated: 0.0, corrected: 0.0, change_mm: 0.0, left_mm: 0.0 };
    let mut found = Disagreement { misses: sheet.misses(), ranked: [nothing; 11], count: 0 };
    if found.misses.fork_closure_mm.is_nan() {
        return found;
    }
    for figure in Figure::ALL {
        let Some(correction) = sheet.correction(figure) else {
            continue;
        };
        // Insertion sort: eleven at most, and equal ranks keep their order.
        let mut slot = found.count;
        while slot > 0 && sheet.rank(&correction) < sheet.rank(&found.ranked[slot - 1]) {
            found.ranked[slot] = found.ranked[slot - 1];
            slot -= 1;
        }
        found.ranked[slot] = correction;
        found.count += 1;
    }
    found
}

/// The way of measuring a fork's length that makes this table miss less.
///
/// The two ways differ by offset²/(2·length), 2 to 3 mm on a road fork; a table with a smaller miss either way does
/// not tell.
///
/// - Comes back: the way the table says when both miss equally.
///
/// Source: elementary geometry.
pub fn likelier_fork_reading(table: &FrameTable) -> ForkLength {
    let other = match table.fork_length_is {
        ForkLength::AlongAxis => ForkLength::Straight,
        ForkLength::Straight => ForkLength::AlongAxis,
    };
    let read_otherwise = FrameTable { fork_length_is: other, ..*table };
    if read_otherwise.closure_miss_mm().abs() < table.closure_miss_mm().abs() { other } else { table.fork_length_is }
}

/// A table with its checks, as one list of figures.
#[derive(Clone, Copy)]
struct Sheet {
    table: FrameTable,
    checks: StatedChecks,
}

impl Sheet {
    fn misses(&self) -> Misses {
        let front_axle = self.table.front_axle();
        Misses {
            fork_closure_mm: self.table.closure_miss_mm(),
            front_centre_mm: self.checks.front_centre_mm.map(|stated| front_axle.length_mm() - stated),
            wheelbase_mm: self
                .checks
                .wheelbase_mm
                .zip(self.table.rear_axle())
                .map(|(stated, rear_axle)| front_axle.distance_mm(rear_axle) - stated),
        }
    }

    /// The place of a figure; `None` for a check that was not stated.
    fn place(&mut self, figure: Figure) -> Option<&mut f64> {
        Some(match figure {
            Figure::ForkLength => &mut self.table.fork_length_mm,
            Figure::LowerStack => &mut self.table.lower_stack_mm,
            Figure::HeadTube => &mut self.table.head_tube_mm,
            Figure::ForkOffset => &mut self.table.fork_offset_mm,
            Figure::HeadAngle => &mut self.table.head_angle_deg,
            Figure::Stack => &mut self.table.stack_mm,
            Figure::Reach => &mut self.table.reach_mm,
            Figure::BbDrop => &mut self.table.bb_drop_mm,
            Figure::Chainstay => &mut self.table.chainstay_mm,
            Figure::FrontCentre => self.checks.front_centre_mm.as_mut()?,
            Figure::Wheelbase => self.checks.wheelbase_mm.as_mut()?,
        })
    }

    fn with(mut self, figure: Figure, value: f64) -> Self {
        if let Some(place) = self.place(figure) {
            *place = value;
        }
        self
    }

    /// The value of one figure with the least sum of squared misses, by Gauss and Newton.
    fn correction(&self, figure: Figure) -> Option<Correction> {
        /// The misses are nearly straight lines in every figure, so each round gains at least three digits.
        const ROUNDS: usize = 12;
        /// Step of the central difference, mm or degrees: its error is of the order of the step squared, 1e-6.
        const STEP: f64 = 1e-3;

        let stated = *{ *self }.place(figure)?;
        let mut value = stated;
        for _ in 0..ROUNDS {
            let here = self.with(figure, value).misses().list();
            let above = self.with(figure, value + STEP).misses().list();
            let below = self.with(figure, value - STEP).misses().list();
            let (mut slope_miss, mut slope_slope) = (0.0, 0.0);
            for ((here, above), below) in here.into_iter().zip(above).zip(below) {
                let slope = (above - below) / (2.0 * STEP);
                slope_miss += slope * here;
                slope_slope += slope * slope;
            }
            // A figure that moves no miss by even a millionth of a millimetre a millimetre cannot be the culprit.
            if slope_slope < 1e-12 {
                break;
            }
            value -= slope_miss / slope_slope;
        }
        let left_mm = self.with(figure, value).misses().largest_mm();
        let change = (value - stated).abs();
        let change_mm = match figure {
            Figure::HeadAngle => change.to_radians() * self.table.head_tube_top().distance_mm(self.table.front_axle()),
            _ => change,
        };
        (value.is_finite() && left_mm.is_finite()).then_some(Correction {
            figure,
            stated,
            corrected: value,
            change_mm,
            left_mm,
        })
    }

    /// How little a correction convinces; infinite for one that cannot exist.
    fn rank(&self, correction: &Correction) -> f64 {
        if !correction.can_exist() {
            return f64::INFINITY;
        }
        let left = self.with(correction.figure, correction.corrected).misses().list();
        let unexplained: f64 = left.iter().map(|miss| (miss / ROUNDING_MM) * (miss / ROUNDING_MM)).sum();
        let slip = correction.change_mm / USUAL_SLIP_MM;
        // Rounded to a thousandth, so that equal explanations tie and keep their order.
        libm::round((unexplained + slip * slip) * 1000.0)
    }
}
