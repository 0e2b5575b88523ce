//! A drop bar as one smooth curve of lines and arcs.
//!
//! The curve lies in the bar's own plane. It starts at the centre of the bar clamp heading forward (the tops have no
//! length in the side view), bends down into the ramp, round the front bend, round the lower bend and runs out along
//! the end. Each piece continues in the direction of the one before.
//!
//! Flare tilts that plane about the fore-and-aft line, so that the ends stand further out than the hoods. A length
//! along the curve does not notice; a height in the bike's side view is the height in the plane times cos(flare).
//!
//! The figures hold at the rotation for which the maker states them. The same bar rolled by two degrees has another
//! reach; the roll is therefore an argument of [`crate::cockpit::hood`] and no part of the bar.

use crate::angle::sin_cos_deg;

/// Most pieces a curve can have. The figures of a bar give six; twice that serves a bar traced piece by piece.
pub const MOST_SEGMENTS: usize = 12;

/// How far a printed drop may fall short of what the two bends give before the figures are refused, mm: half of the
/// whole millimetre to which bars are specified.
pub const DROP_SLACK_MM: f64 = 0.5;

/// The figures of a drop bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BarFigures {
    /// Centre of the tops forward to the centre of the tube where it lies furthest forward, mm.
    pub reach_mm: f64,
    /// Centre of the tops down to the centre of the tube where it lies deepest, vertical, mm.
    pub drop_mm: f64,
    /// How steeply the ramp falls forward, degrees below level; negative for a rising ramp.
    pub ramp_angle_deg: f64,
    /// Level run from the clamp's centre to the start of the bend into the ramp, mm.
    pub clamp_straight_mm: f64,
    /// Radius of the bend into the ramp, centre line, mm.
    pub ramp_bend_radius_mm: f64,
    /// Radius of the bend behind the lever, centre line, mm.
    pub front_bend_radius_mm: f64,
    /// Radius of the bend into the end, centre line, mm.
    pub lower_bend_radius_mm: f64,
    /// Straight run after the lower bend, mm.
    pub end_length_mm: f64,
    /// Direction of the ends: 0 when they run level to the rear, + when they point down towards the rear, degrees.
    pub end_angle_deg: f64,
    /// Tilt of the bar's plane: 0 when ends and hoods are equally wide, + when the ends stand further out, degrees.
    pub flare_deg: f64,
    /// Width at the lever clamps, centre to centre, mm.
    pub width_at_hoods_mm: f64,
    /// Outer diameter of the tube where levers and tape go, mm.
    pub tube_diameter_mm: f64,
}

/// Why a set of figures makes no bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BarRefusal {
    /// One figure is outside what can be a bar, or is not a number.
    OutOfRange {
        /// Which figure.
        figure: BarFigure,
        /// What was given, in the figure's own unit.
        given: f64,
        /// The least that is taken.
        least: f64,
        /// The most that is taken.
        most: f64,
    },
    /// The clamp straight and the bends alone reach further forward than the stated reach.
    ReachTooShort {
        /// The stated reach, mm.
        reach_mm: f64,
        /// The least reach these bends allow, with no ramp between them, mm.
        least_mm: f64,
    },
    /// The bends alone go deeper than the stated drop.
    DropTooSmall {
        /// The stated drop, mm.
        drop_mm: f64,
        /// The least drop these bends allow, mm.
        least_mm: f64,
    },
    /// No piece was given, or more than [`MOST_SEGMENTS`].
    SegmentCount {
        /// How many were given.
        given: usize,
    },
}

/// Names of the figures of a bar, for a refusal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BarFigure {
    /// [`BarFigures::reach_mm`].
    Reach,
    /// [`BarFigures::drop_mm`].
    Drop,
    /// [`BarFigures::ramp_angle_deg`].
    RampAngle,
    /// [`BarFigures::clamp_straight_mm`].
    ClampStraight,
    /// [`BarFigures::ramp_bend_radius_mm`].
    RampBendRadius,
    /// [`BarFigures::front_bend_radius_mm`].
    FrontBendRadius,
    /// [`BarFigures::lower_bend_radius_mm`].
    LowerBendRadius,
    /// [`BarFigures::end_length_mm`].
    EndLength,
    /// [`BarFigures::end_angle_deg`].
    EndAngle,
    /// [`BarFigures::flare_deg`].
    Flare,
    /// [`BarFigures::width_at_hoods_mm`].
    Width,
    /// [`BarFigures::tube_diameter_mm`].
    TubeDiameter,
    /// A line's length or an arc's radius or turn, when a bar is given piece by piece.
    Segment,
}

/// One piece of a bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// A straight run.
    Line {
        /// Its length, mm.
        length_mm: f64,
    },
    /// A bend.
    Arc {
        /// Radius of the tube's centre line, mm.
        radius_mm: f64,
        /// By how much it turns the direction, degrees; negative bends down and back, as a drop bar does.
        turn_deg: f64,
    },
}

/// What a bar's plane adds to its curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BarSection {
    /// Tilt of the bar's plane, degrees.
    pub flare_deg: f64,
    /// Width at the lever clamps, centre to centre, mm.
    pub width_at_hoods_mm: f64,
    /// Outer diameter of the tube, mm.
    pub tube_diameter_mm: f64,
}

/// A place on a bar, in the bar's own plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BarPoint {
    /// Forward of the clamp's centre, mm.
    pub x_mm: f64,
    /// Above the clamp's centre, mm, in the bar's plane.
    pub y_mm: f64,
    /// Direction of the bar, walking from clamp to end: 0 forward, −90 down, −180 to the rear, degrees.
    pub tangent_deg: f64,
}

/// Two places along a bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArcSpan {
    /// Where the span starts, along the centre line from the clamp's centre, mm.
    pub from_mm: f64,
    /// Where it ends, mm.
    pub to_mm: f64,
}

/// A drop bar's centre line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BarCurve {
    pieces: [Piece; MOST_SEGMENTS],
    count: usize,
    end: BarPoint,
    length_mm: f64,
    outside_length_mm: f64,
    section: BarSection,
    /// Where along the bar the width is stated; unknown means: at the lever clamp, wherever that is.
    width_at_arc_mm: Option<f64>,
}

/// One piece with everything before it summed up.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Piece {
    segment: Segment,
    start: BarPoint,
    start_arc_mm: f64,
    length_mm: f64,
    start_outside_mm: f64,
    outside_length_mm: f64,
}

impl BarCurve {
    /// The bar with these figures, or the reason why there is none.
    ///
    /// Three figures of the curve are not printed on any bar and follow from the others:
    ///
    /// - the **ramp's length** from the reach;
    /// - the **angle at which the front bend hands over to the lower bend** from the drop, when the drop is less than
    ///   what a hand-over at the vertical gives: the bend of larger radius then yields to the other;
    /// - a **vertical straight between the two bends** from the drop, when the drop is more than that.
    ///
    /// The rule is continuous: at the drop K of a hand-over at the vertical, the straight is zero and the angle 90°.
    /// With a ramp angle, r₀ r₁ r₂ the radii of ramp, front and lower bend, L₀ the clamp straight, E and e the end's
    /// length and angle, ℓ the ramp and φ the hand-over angle below forward:
    ///
    /// - reach = L₀ + r₀ sin a + ℓ cos a + r₁ (1 − sin a) for φ ≥ 90°;
    /// - drop/cos(flare) = r₀ (1 − cos a) + ℓ sin a + r₁ cos a + (r₂ − r₁) cos φ + straight + foot, where foot is
    ///   r₂ cos e + E sin e for ends that fall and r₂ for ends that are level or rise; linear in cos φ;
    /// - for φ < 90° (a lower bend tighter than the front bend) the furthest point lies in the lower bend, and both
    ///   conditions together give cos(φ − a), again in closed form.
    ///
    /// - Comes back: [`BarRefusal`] with the limits when a figure is out of range, when the bends alone reach further
    ///   or go deeper than stated (by more than [`DROP_SLACK_MM`]; within it the least drop is built).
    ///
    /// ```
    /// use witnessmark_mechanics::bar::{BarCurve, BarFigures};
    /// let figures = BarFigures {
    ///     reach_mm: 80.0, drop_mm: 125.0, ramp_angle_deg: 8.0, clamp_straight_mm: 14.0, ramp_bend_radius_mm: 40.0,
    ///     front_bend_radius_mm: 45.0, lower_bend_radius_mm: 62.0, end_length_mm: 55.0, end_angle_deg: 0.0,
    ///     flare_deg: 8.0, width_at_hoods_mm: 400.0, tube_diameter_mm: 24.0,
    /// };
    /// let bar = BarCurve::from_figures(&figures).unwrap();
    /// assert!((bar.reach_mm() - 80.0).abs() < 1e-9);
    /// assert!((bar.drop_mm() - 125.0).abs() < 1e-9);
    /// ```
    ///
    /// Source: elementary geometry; that real bars follow arcs closely is common practice, no source.
    pub fn from_figures(figures: &BarFigures) -> Result<Self, BarRefusal> {
        figures.check()?;
        let shape = Shape::fitting(figures)?;
        let segments = [
            Segment::Line { length_mm: figures.clamp_straight_mm },
            Segment::Arc { radius_mm: figures.ramp_bend_radius_mm, turn_deg: -figures.ramp_angle_deg },
            Segment::Line { length_mm: shape.ramp_mm },
            Segment::Arc {
                radius_mm: figures.front_bend_radius_mm,
                turn_deg: figures.ramp_angle_deg - shape.hand_over_deg,
            },
            Segment::Line { length_mm: shape.straight_mm },
            Segment::Arc {
                radius_mm: figures.lower_bend_radius_mm,
                turn_deg: shape.hand_over_deg - (180.0 - figures.end_angle_deg),
            },
            Segment::Line { length_mm: figures.end_length_mm },
        ];
        Ok(Self::joined(&segments, figures.section()))
    }

    /// The bar made of these pieces, starting at the clamp's centre and heading forward.
    ///
    /// Flare, width and tube diameter are zero until [`BarCurve::with_section`] sets them.
    ///
    /// - Comes back: [`BarRefusal`] for no piece, too many pieces, a negative length or radius, or a figure that is
    ///   not a number.
    ///
    /// ```
    /// use witnessmark_mechanics::bar::{BarCurve, Segment};
    /// let bar = BarCurve::from_segments(&[
    ///     Segment::Line { length_mm: 40.0 },
    ///     Segment::Arc { radius_mm: 60.0, turn_deg: -180.0 },
    /// ]).unwrap();
    /// assert_eq!((bar.reach_mm(), bar.drop_mm()), (100.0, 120.0));
    /// ```
    ///
    /// Source: definition.
    pub fn from_segments(segments: &[Segment]) -> Result<Self, BarRefusal> {
        if segments.is_empty() || segments.len() > MOST_SEGMENTS {
            return Err(BarRefusal::SegmentCount { given: segments.len() });
        }
        for segment in segments {
            match *segment {
                Segment::Line { length_mm } => within(BarFigure::Segment, length_mm, 0.0, 1000.0)?,
                Segment::Arc { radius_mm, turn_deg } => {
                    within(BarFigure::Segment, radius_mm, 0.0, 1000.0)?;
                    within(BarFigure::Segment, turn_deg, -360.0, 360.0)?;
                }
            }
        }
        let section = BarSection { flare_deg: 0.0, width_at_hoods_mm: 0.0, tube_diameter_mm: 0.0 };
        Ok(Self::joined(segments, section))
    }

    /// The same curve with this flare, width and tube.
    ///
    /// Source: definition.
    #[must_use]
    pub fn with_section(self, section: BarSection) -> Self {
        let mut segments = [Segment::Line { length_mm: 0.0 }; MOST_SEGMENTS];
        for (segment, piece) in segments.iter_mut().zip(self.pieces()) {
            *segment = piece.segment;
        }
        Self { width_at_arc_mm: self.width_at_arc_mm, ..Self::joined(&segments[..self.count], section) }
    }

    /// The same bar with its width stated at a fixed place, along the centre line from the clamp.
    ///
    /// Without it the width holds at the lever's clamp wherever that sits, as a mechanic reads it. On a flared bar the
    /// two differ by sin(flare) for each millimetre the clamp is lower.
    ///
    /// Source: definition.
    #[must_use]
    pub const fn with_width_at(self, arc_mm: f64) -> Self {
        Self { width_at_arc_mm: Some(arc_mm), ..self }
    }

    /// Pieces joined end to end; the caller has checked their number and figures.
    fn joined(segments: &[Segment], section: BarSection) -> Self {
        let mut start = BarPoint { x_mm: 0.0, y_mm: 0.0, tangent_deg: 0.0 };
        let mut start_arc_mm = 0.0;
        let mut start_outside_mm = 0.0;
        let nothing = Piece {
            segment: Segment::Line { length_mm: 0.0 },
            start,
            start_arc_mm: 0.0,
            length_mm: 0.0,
            start_outside_mm: 0.0,
            outside_length_mm: 0.0,
        };
        let mut pieces = [nothing; MOST_SEGMENTS];
        for (slot, &segment) in pieces.iter_mut().zip(segments) {
            let piece = Piece {
                segment,
                start,
                start_arc_mm,
                length_mm: segment.length_mm(),
                start_outside_mm,
                outside_length_mm: segment.outside_length_mm(section.tube_diameter_mm),
            };
            start = piece.along(piece.length_mm);
            start_arc_mm += piece.length_mm;
            start_outside_mm += piece.outside_length_mm;
            *slot = piece;
        }
        Self {
            pieces,
            count: segments.len(),
            end: start,
            length_mm: start_arc_mm,
            outside_length_mm: start_outside_mm,
            section,
            width_at_arc_mm: None,
        }
    }

    /// The same bar with so much sawn off its end.
    ///
    /// - `cut_mm`: off the straight run at the open end, along it, mm.
    /// - Comes back: `None` for a negative cut or one that leaves nothing of the straight run: a bend is not cut.
    ///
    /// ```
    /// use witnessmark_mechanics::bar::{BarCurve, Segment};
    /// let bar = BarCurve::from_segments(&[
    ///     Segment::Arc { radius_mm: 60.0, turn_deg: -180.0 },
    ///     Segment::Line { length_mm: 50.0 },
    /// ]).unwrap();
    /// let cut = bar.cut_at_end(20.0).unwrap();
    /// assert!((bar.length_mm() - cut.length_mm() - 20.0).abs() < 1e-9);
    /// // A place keeps its distance from the clamp; from the end it is 20 mm less.
    /// assert_eq!(bar.arc_from_end_outside(100.0), cut.arc_from_end_outside(80.0));
    /// assert_eq!(bar.cut_at_end(50.0), None);
    /// ```
    ///
    /// Source: definition.
    #[must_use]
    pub fn cut_at_end(self, cut_mm: f64) -> Option<Self> {
        let mut segments = [Segment::Line { length_mm: 0.0 }; MOST_SEGMENTS];
        for (segment, piece) in segments.iter_mut().zip(self.pieces()) {
            *segment = piece.segment;
        }
        let segments = &mut segments[..self.count];
        match segments.last_mut() {
            Some(Segment::Line { length_mm }) if 0.0 <= cut_mm && cut_mm < *length_mm => *length_mm -= cut_mm,
            _ => return None,
        }
        Some(Self { width_at_arc_mm: self.width_at_arc_mm, ..Self::joined(segments, self.section) })
    }

    fn pieces(&self) -> &[Piece] {
        &self.pieces[..self.count]
    }

    /// Length of the centre line from the clamp's centre to the end, mm.
    ///
    /// Source: sum of lengths.
    pub const fn length_mm(&self) -> f64 {
        self.length_mm
    }

    /// The straights and bends of a part of the bar, in the order of the walk from clamp to end.
    ///
    /// - Comes back: for each piece that lies in the span, its length there and the radius of its bend, centre line;
    ///   nothing for a straight. What lies beyond the bar's ends is left out.
    ///
    /// Source: definition.
    pub fn runs(&self, span: ArcSpan) -> impl Iterator<Item = (f64, Option<f64>)> + '_ {
        self.pieces().iter().filter_map(move |piece| {
            let from_mm = span.from_mm.max(piece.start_arc_mm);
            let to_mm = span.to_mm.min(piece.start_arc_mm + piece.length_mm);
            let radius_mm = match piece.segment {
                Segment::Line { .. } => None,
                Segment::Arc { radius_mm, .. } => Some(radius_mm),
            };
            (to_mm > from_mm).then_some((to_mm - from_mm, radius_mm))
        })
    }

    /// The place at this distance from the clamp's centre along the centre line.
    ///
    /// - Comes back: the start or the end of the bar for a distance before or beyond it.
    ///
    /// Source: for an arc of radius r from θ₁ to θ₂ turning down: x + r (sin θ₁ − sin θ₂), y + r (cos θ₂ − cos θ₁).
    pub fn at(&self, arc_mm: f64) -> BarPoint {
        for piece in self.pieces() {
            let along_mm = arc_mm - piece.start_arc_mm;
            if along_mm <= piece.length_mm {
                return piece.along(along_mm.max(0.0));
            }
        }
        self.end
    }

    /// Length along the outside of the bar between two places, mm: where tape lies and where a lever's height is read.
    ///
    /// The outside is the far side of the tube for the hand of somebody standing in front: top of the ramp, front of
    /// the bend, underside of the end. On a bend that turns down it is the convex side, radius + half the diameter. On
    /// a bend that turns up (ends that kick out) the same side is concave, radius − half the diameter.
    ///
    /// Source: arc length of a parallel curve.
    pub fn outside_length_mm(&self, span: ArcSpan) -> f64 {
        self.outside_at_mm(span.to_mm) - self.outside_at_mm(span.from_mm)
    }

    /// Length along the outside from the clamp's centre to a place on the centre line.
    fn outside_at_mm(&self, arc_mm: f64) -> f64 {
        for piece in self.pieces() {
            let along_mm = arc_mm - piece.start_arc_mm;
            if along_mm <= piece.length_mm && piece.length_mm > 0.0 {
                return piece.start_outside_mm + piece.outside_length_mm * (along_mm.max(0.0) / piece.length_mm);
            }
        }
        self.outside_length_mm
    }

    /// The place that lies this far from the bar's end along the outside, as a distance from the clamp along the
    /// centre line, mm.
    ///
    /// - Comes back: `None` when that is off the bar at either end.
    ///
    /// Source: inverse of [`BarCurve::outside_length_mm`], piece by piece.
    pub fn arc_from_end_outside(&self, from_end_mm: f64) -> Option<f64> {
        let outside_mm = self.outside_length_mm - from_end_mm;
        if !(0.0 <= from_end_mm && 0.0 <= outside_mm) {
            return None;
        }
        for piece in self.pieces() {
            let along_mm = outside_mm - piece.start_outside_mm;
            if along_mm <= piece.outside_length_mm && piece.outside_length_mm > 0.0 {
                return Some(piece.start_arc_mm + piece.length_mm * (along_mm.max(0.0) / piece.outside_length_mm));
            }
        }
        Some(self.length_mm)
    }

    /// How far the bar's centre line comes forward of the clamp's centre, mm, at the reference rotation.
    ///
    /// Source: the furthest of all piece ends and of all places where an arc runs straight up or down.
    pub fn reach_mm(&self) -> f64 {
        self.furthest(|point| point.x_mm, 90.0)
    }

    /// How far the centre line goes below the clamp's centre, vertical, mm, at the reference rotation.
    ///
    /// Source: the deepest of all piece ends and of all places where an arc runs level; times cos(flare).
    pub fn drop_mm(&self) -> f64 {
        self.furthest(|point| -point.y_mm, 0.0) * sin_cos_deg(self.section.flare_deg).1
    }

    /// Where the bar lies furthest forward, along the centre line from the clamp, mm.
    ///
    /// - Comes back: the first place whose tangent is straight down; `None` for a bar that never turns so far.
    ///
    /// Source: definition.
    pub fn foremost_arc_mm(&self) -> Option<f64> {
        self.pieces().iter().find_map(|piece| piece.where_tangent_is(-90.0).map(|along| piece.start_arc_mm + along))
    }

    /// The largest value over the curve of a coordinate, which an arc can only have where its tangent is parallel to
    /// `flat_deg` (modulo a half turn), or at an end.
    fn furthest(&self, coordinate: impl Fn(BarPoint) -> f64, flat_deg: f64) -> f64 {
        let mut most = coordinate(self.end);
        for piece in self.pieces() {
            most = most.max(coordinate(piece.start));
            // A turn is at most one full circle from a start within a few circles: ±8 half turns cover it.
            for half_turns in -8_i8..=8 {
                if let Some(along_mm) = piece.where_tangent_is(flat_deg + 180.0 * f64::from(half_turns)) {
                    most = most.max(coordinate(piece.along(along_mm)));
                }
            }
        }
        most
    }

    /// Tilt of the bar's plane, degrees.
    ///
    /// Source: as given.
    pub const fn flare_deg(&self) -> f64 {
        self.section.flare_deg
    }

    /// Flare, width and tube.
    ///
    /// Source: as given.
    pub const fn section(&self) -> BarSection {
        self.section
    }

    /// How far outward the bar's plane stands at the height of the clamp, mm, with the lever clamped at this place.
    ///
    /// Source: half the width at the place where it is stated, less what the flare adds on the way down to it.
    pub fn plane_z_mm(&self, lever_clamp_arc_mm: f64) -> f64 {
        let half_mm = self.section.width_at_hoods_mm / 2.0;
        if self.section.flare_deg == 0.0 {
            return half_mm;
        }
        let stated_at = self.at(self.width_at_arc_mm.unwrap_or(lever_clamp_arc_mm));
        half_mm + stated_at.y_mm * sin_cos_deg(self.section.flare_deg).0
    }

    /// Width at a place of the bar, centre to centre, mm, with the lever clamped at another.
    ///
    /// Source: the plane's place at the clamp's height and the flare on the way down.
    pub fn width_mm(&self, place: WidthPlace) -> f64 {
        let drop_mm = -self.at(place.arc_mm).y_mm;
        2.0 * (self.plane_z_mm(place.lever_clamp_arc_mm) + drop_mm * sin_cos_deg(self.section.flare_deg).0)
    }

    /// Width at the bar's ends, centre to centre, mm.
    ///
    /// Source: [`BarCurve::width_mm`] at the end.
    pub fn end_width_mm(&self, lever_clamp_arc_mm: f64) -> f64 {
        self.width_mm(WidthPlace { arc_mm: self.length_mm, lever_clamp_arc_mm })
    }
}

/// Where a width is asked, and where the lever is clamped.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WidthPlace {
    /// Where the width is asked, along the centre line from the clamp, mm.
    pub arc_mm: f64,
    /// Where the lever is clamped, mm.
    pub lever_clamp_arc_mm: f64,
}

impl Segment {
    fn length_mm(self) -> f64 {
        match self {
            Self::Line { length_mm } => length_mm,
            Self::Arc { radius_mm, turn_deg } => radius_mm * turn_deg.abs().to_radians(),
        }
    }

    fn outside_length_mm(self, tube_diameter_mm: f64) -> f64 {
        match self {
            Self::Line { length_mm } => length_mm,
            Self::Arc { radius_mm, turn_deg } => {
                let outside_radius_mm = radius_mm - tube_diameter_mm / 2.0 * turn_deg.signum();
                outside_radius_mm.max(0.0) * turn_deg.abs().to_radians()
            }
        }
    }
}

impl Piece {
    /// The place this far into the piece.
    fn along(&self, along_mm: f64) -> BarPoint {
        let BarPoint { x_mm, y_mm, tangent_deg } = self.start;
        let (sin, cos) = sin_cos_deg(tangent_deg);
        match self.segment {
            Segment::Line { .. } => BarPoint { x_mm: x_mm + along_mm * cos, y_mm: y_mm + along_mm * sin, tangent_deg },
            Segment::Arc { radius_mm, turn_deg } => {
                // The whole arc turns by exactly its turn, so that a level end stays level to the last bit.
                let share = if self.length_mm > 0.0 { along_mm / self.length_mm } else { 1.0 };
                let turned_deg = tangent_deg + turn_deg * share;
                let (turned_sin, turned_cos) = sin_cos_deg(turned_deg);
                let radius_mm = radius_mm * turn_deg.signum();
                BarPoint {
                    x_mm: x_mm + radius_mm * (turned_sin - sin),
                    y_mm: y_mm - radius_mm * (turned_cos - cos),
                    tangent_deg: turned_deg,
                }
            }
        }
    }

    /// How far into the piece the tangent has this direction; `None` if it never has, or the piece is a line.
    fn where_tangent_is(&self, tangent_deg: f64) -> Option<f64> {
        let Segment::Arc { turn_deg, .. } = self.segment else {
            return None;
        };
        let share = (tangent_deg - self.start.tangent_deg) / turn_deg;
        (0.0..=1.0).contains(&share).then_some(share * self.length_mm)
    }
}

/// The three figures of a bar that nobody prints.
struct Shape {
    ramp_mm: f64,
    hand_over_deg: f64,
    straight_mm: f64,
}

impl Shape {
    fn fitting(figures: &BarFigures) -> Result<Self, BarRefusal> {
        let (ramp_sin, ramp_cos) = sin_cos_deg(figures.ramp_angle_deg);
        let (front_mm, lower_mm) = (figures.front_bend_radius_mm, figures.lower_bend_radius_mm);
        let radius_step_mm = lower_mm - front_mm;
        let flare_cos = sin_cos_deg(figures.flare_deg).1;
        let depth_mm = figures.drop_mm / flare_cos;

        // Forward and down to the start of the ramp. A ramp that rises bends up, on the other side of the tube.
        let start_x_mm = figures.clamp_straight_mm + figures.ramp_bend_radius_mm * ramp_sin.abs();
        let start_depth_mm = figures.ramp_bend_radius_mm * (1.0 - ramp_cos) * ramp_sin.signum();
        // From the level of the lower bend's centre down to the deepest point.
        let foot_mm = if figures.end_angle_deg > 0.0 {
            let (end_sin, end_cos) = sin_cos_deg(figures.end_angle_deg);
            lower_mm * end_cos + figures.end_length_mm * end_sin
        } else {
            lower_mm
        };

        let bends_reach_mm = start_x_mm + front_mm * (1.0 - ramp_sin);
        let ramp_at_vertical_mm = (figures.reach_mm - bends_reach_mm) / ramp_cos;
        let depth_at_vertical_mm = start_depth_mm + ramp_at_vertical_mm * ramp_sin + front_mm * ramp_cos + foot_mm;
        let missing_mm = depth_mm - depth_at_vertical_mm;

        let shape = if missing_mm >= 0.0 {
            Self { ramp_mm: ramp_at_vertical_mm, hand_over_deg: 90.0, straight_mm: missing_mm }
        } else {
            // The share of the depth between a hand-over at the vertical and the tighter bend doing it all.
            let (least_depth_mm, hand_over_deg) = if radius_step_mm > 0.0 {
                // Ends that rise pass the deepest point on their way: there the lower bend may start at the bottom.
                let least_cos = -sin_cos_deg(figures.end_angle_deg.max(0.0)).1;
                let cos = (missing_mm / radius_step_mm).max(least_cos);
                (depth_at_vertical_mm + radius_step_mm * least_cos, libm::acos(cos).to_degrees())
            } else if radius_step_mm < 0.0 {
                // depth = depth at vertical + step · (cos(φ − a) − sin a)/cos a; φ = a leaves only the lower bend.
                let cos = (ramp_sin + missing_mm * ramp_cos / radius_step_mm).min(1.0);
                let least_mm = depth_at_vertical_mm + radius_step_mm * (1.0 - ramp_sin) / ramp_cos;
                (least_mm, figures.ramp_angle_deg + libm::acos(cos).to_degrees())
            } else {
                (depth_at_vertical_mm, 90.0)
            };
            if depth_mm < least_depth_mm - DROP_SLACK_MM / flare_cos {
                return Err(BarRefusal::DropTooSmall {
                    drop_mm: figures.drop_mm,
                    least_mm: least_depth_mm * flare_cos,
                });
            }
            // Past the vertical the furthest point stays in the front bend; before it, it lies in the lower one.
            let bends_forward_mm = if hand_over_deg >= 90.0 {
                front_mm * (1.0 - ramp_sin)
            } else {
                let hand_over_sin = sin_cos_deg(hand_over_deg).0;
                front_mm * (hand_over_sin - ramp_sin) + lower_mm * (1.0 - hand_over_sin)
            };
            let ramp_mm = (figures.reach_mm - start_x_mm - bends_forward_mm) / ramp_cos;
            Self { ramp_mm, hand_over_deg, straight_mm: 0.0 }
        };

        if shape.ramp_mm < 0.0 {
            let least_mm = figures.reach_mm - shape.ramp_mm * ramp_cos;
            return Err(BarRefusal::ReachTooShort { reach_mm: figures.reach_mm, least_mm });
        }
        Ok(shape)
    }
}

impl BarFigures {
    /// Flare, width and tube of these figures.
    ///
    /// Source: selection of figures.
    pub const fn section(&self) -> BarSection {
        BarSection {
            flare_deg: self.flare_deg,
            width_at_hoods_mm: self.width_at_hoods_mm,
            tube_diameter_mm: self.tube_diameter_mm,
        }
    }

    /// Refuses a figure that cannot belong to a bar. The limits are wide: they catch slips of a unit, not odd bars.
    fn check(&self) -> Result<(), BarRefusal> {
        within(BarFigure::Reach, self.reach_mm, 20.0, 250.0)?;
        within(BarFigure::Drop, self.drop_mm, 40.0, 250.0)?;
        within(BarFigure::RampAngle, self.ramp_angle_deg, -20.0, 60.0)?;
        within(BarFigure::ClampStraight, self.clamp_straight_mm, 0.0, 150.0)?;
        within(BarFigure::RampBendRadius, self.ramp_bend_radius_mm, 0.0, 200.0)?;
        within(BarFigure::FrontBendRadius, self.front_bend_radius_mm, 10.0, 200.0)?;
        within(BarFigure::LowerBendRadius, self.lower_bend_radius_mm, 10.0, 200.0)?;
        within(BarFigure::EndLength, self.end_length_mm, 0.0, 250.0)?;
        within(BarFigure::EndAngle, self.end_angle_deg, -30.0, 45.0)?;
        within(BarFigure::Flare, self.flare_deg, -10.0, 45.0)?;
        within(BarFigure::Width, self.width_at_hoods_mm, 200.0, 700.0)?;
        within(BarFigure::TubeDiameter, self.tube_diameter_mm, 15.0, 40.0)
    }
}

/// Whether a figure lies within its limits; a value that is not a number never does.
fn within(figure: BarFigure, given: f64, least: f64, most: f64) -> Result<(), BarRefusal> {
    if least <= given && given <= most { Ok(()) } else { Err(BarRefusal::OutOfRange { figure, given, least, most }) }
}
