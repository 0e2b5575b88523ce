//! A bike as a network of points: what a tape, a plumb line, a height gauge or a digital level reads between them.
//!
//! Three frames meet here: the bike's own (x forward, y up), the level (gravity, to which plumb lines and digital levels
//! go) and the floor (from which heights are taken). A bike may stand tilted and a floor may fall; both angles can be
//! unknowns like any coordinate. Each reading is a formula of the unknowns with its slopes worked out by hand;
//! [`Network::adjust`] hands them to [`crate::adjustment`].

use crate::adjustment::{Adjustment, MOST_TERMS, Refusal, Row, adjust, plan};
use crate::angle::sin_cos_deg;
use crate::vector::{Point2, Point3};

/// A coordinate or an angle: given, or one of the unknowns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Figure {
    /// It has this value.
    Known(f64),
    /// It is an unknown times a factor: two half widths are one unknown with the factors −1 and 1.
    Unknown {
        /// The number of the unknown.
        at: usize,
        /// The factor.
        factor: f64,
    },
}

impl Figure {
    /// An unknown as it is.
    ///
    /// Source: definition.
    pub const fn unknown(at: usize) -> Self {
        Self::Unknown { at, factor: 1.0 }
    }

    /// Its value, where the unknowns have these.
    ///
    /// - Comes back: not a number for an unknown that is not there.
    ///
    /// Source: definition.
    pub fn value(self, unknowns: &[f64]) -> f64 {
        match self {
            Self::Known(value) => value,
            Self::Unknown { at, factor } => factor * unknowns.get(at).copied().unwrap_or(f64::NAN),
        }
    }

    fn add_slope(self, row: &mut Row, slope: f64) {
        // Seen from the side, z changes nothing: it takes no place in the row.
        if let Self::Unknown { at, factor } = self
            && slope.abs() > 0.0
        {
            row.add(at, slope * factor);
        }
    }
}

/// A point of the bike in its own frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Forward of the bottom-bracket centre, mm.
    pub x_mm: Figure,
    /// Above the bottom-bracket centre, mm.
    pub y_mm: Figure,
    /// To the rider's right of the bike's plane, mm.
    pub z_mm: Figure,
}

impl Spot {
    /// Where it is, where the unknowns have these values.
    ///
    /// Source: definition.
    pub fn place(&self, unknowns: &[f64]) -> Point3 {
        Point3::at(self.x_mm.value(unknowns), self.y_mm.value(unknowns), self.z_mm.value(unknowns))
    }
}

/// How level and floor lie to the bike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// The level above the bike's forward direction, front up positive: by so much the bike stands nose down, degrees.
    pub level_deg: Figure,
    /// The floor above the bike's forward direction, front up positive, degrees.
    pub floor_deg: Figure,
    /// The bottom-bracket centre above the floor, square to it, mm.
    pub height_mm: Figure,
}

/// From which spot to which, by their numbers in the network.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Between {
    /// The number of the one.
    pub from: usize,
    /// The number of the other.
    pub to: usize,
}

/// What is read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Taken {
    /// A tape from spot to spot, in space, mm.
    Distance(Between),
    /// A rule across the bike: z of the one from z of the other, mm.
    Across(Between),
    /// A height gauge from the floor up to a spot, square to the floor, mm.
    Height(usize),
    /// Two plumb lines: level distance of the second ahead of the first, mm.
    Ahead(Between),
    /// Two heights by a level: the second above the first, along the plumb line, mm.
    Above(Between),
    /// A digital level laid from the one to the other: the second's rise to the level, degrees.
    Slope(Between),
    /// A rule square to a line: the spot's distance ahead of the line, seen from the side, mm. Of a line that climbs from its first spot to
    /// its second, ahead is the front.
    Off {
        /// The spot.
        spot: usize,
        /// The line.
        line: Between,
    },
    /// A tape along a line: how much further along it the second spot lies, square projections, seen from the side, mm.
    Along {
        /// From which spot to which.
        between: Between,
        /// The line, counted positive from its first spot to its second.
        line: Between,
    },
    /// A digital level laid on something whose angle to the bike's forward direction is a figure by itself, degrees.
    Angle(Figure),
    /// A digital level laid on the floor along the bike, front up positive, degrees.
    FloorSlope,
    /// A figure itself: an assumption with its uncertainty, or a dimension read off a part.
    Itself(Figure),
}

/// A reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// What is read.
    pub taken: Taken,
    /// What was read, mm or degrees.
    pub value: f64,
    /// Its standard uncertainty, mm or degrees.
    pub sd: f64,
}

/// Spots, how they stand, and what was read between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Network<'a> {
    /// The spots.
    pub spots: &'a [Spot],
    /// Level and floor.
    pub stand: Stand,
    /// The readings.
    pub readings: &'a [Reading],
}

impl Network<'_> {
    /// The unknowns that fit the readings best.
    ///
    /// - `start`: a guess for every unknown: a typical bike; it decides between mirror images.
    /// - Comes back: a [`Refusal`] where a figure is not a number, a spot does not exist, or nothing settles.
    ///
    /// ```
    /// use witnessmark_mechanics::network::{Between, Figure, Network, Reading, Spot, Stand, Taken};
    /// // A saddle 720 mm from the bottom bracket and 140 mm behind it by plumb line, bike level.
    /// let known = Figure::Known(0.0);
    /// let bb = Spot { x_mm: known, y_mm: known, z_mm: known };
    /// let saddle = Spot { x_mm: Figure::unknown(0), y_mm: Figure::unknown(1), z_mm: known };
    /// let between = Between { from: 0, to: 1 };
    /// let network = Network {
    ///     spots: &[bb, saddle],
    ///     stand: Stand { level_deg: known, floor_deg: known, height_mm: known },
    ///     readings: &[
    ///         Reading { taken: Taken::Distance(between), value: 720.0, sd: 2.0 },
    ///         Reading { taken: Taken::Ahead(between), value: -140.0, sd: 1.0 },
    ///     ],
    /// };
    /// let adjusted = network.adjust(&[-200.0, 700.0]).unwrap();
    /// assert!((adjusted.value(1) - (720.0_f64 * 720.0 - 140.0 * 140.0).sqrt()).abs() < 1e-9);
    /// ```
    ///
    /// Source: weighted least squares; see [`adjust`].
    pub fn adjust(&self, start: &[f64]) -> Result<Adjustment, Refusal> {
        adjust(start, self.readings.len(), |at, unknowns| self.row(&self.readings[at], unknowns))
    }

    /// What the readings would be worth at these values of the unknowns: see [`plan`].
    ///
    /// Source: reliability follows from the plan alone, Baarda 1968.
    pub fn plan(&self, values: &[f64]) -> Result<Adjustment, Refusal> {
        plan(values, self.readings.len(), |at, unknowns| self.row(&self.readings[at], unknowns))
    }

    /// What would be read where the unknowns have these values.
    ///
    /// - Comes back: not a number for a spot or an unknown that is not there.
    ///
    /// Source: the formula beside each kind of reading.
    pub fn would_read(&self, taken: Taken, unknowns: &[f64]) -> f64 {
        self.row(&Reading { taken, value: 0.0, sd: 1.0 }, unknowns).misfit
    }

    /// A reading as a row: its misfit and its slopes.
    ///
    /// Source: the derivatives of the formula beside each kind of reading.
    pub fn row(&self, reading: &Reading, unknowns: &[f64]) -> Row {
        let mut seen = Seen { network: self, unknowns, terms: Row::new(0.0, reading.sd) };
        let computed = seen.computed(reading.taken);
        let mut misfit = computed - reading.value;
        if reading.taken.is_angle() {
            // 179° and −179° are two degrees apart.
            misfit -= 360.0 * libm::round(misfit / 360.0);
        }
        let mut row = Row::new(misfit, reading.sd);
        for (at, slope) in seen.terms.terms() {
            row.add(*at, *slope);
        }
        row
    }
}

impl Taken {
    /// Whether it is read in degrees.
    ///
    /// Source: definition. A figure by itself is taken as it is.
    pub const fn is_angle(self) -> bool {
        matches!(self, Self::Slope(_) | Self::Angle(_) | Self::FloorSlope)
    }
}

const _: () =
    assert!(MOST_TERMS >= 9, "along a line: four spots with two coordinates; a slope: two spots and the level");

/// A network seen from values of the unknowns, with the slopes of one reading gathered.
struct Seen<'a, 'b> {
    network: &'a Network<'b>,
    unknowns: &'a [f64],
    terms: Row,
}

impl Seen<'_, '_> {
    fn place(&self, spot: usize) -> Point3 {
        let nowhere = Point3::at(f64::NAN, f64::NAN, f64::NAN);
        self.network.spots.get(spot).map_or(nowhere, |spot| spot.place(self.unknowns))
    }

    fn side(&self, spot: usize) -> Point2 {
        self.place(spot).side_view()
    }

    /// The reading grows by `slope` when the spot moves by one in that direction.
    fn moves(&mut self, spot: usize, slope: Point3) {
        if let Some(spot) = self.network.spots.get(spot) {
            spot.x_mm.add_slope(&mut self.terms, slope.x_mm);
            spot.y_mm.add_slope(&mut self.terms, slope.y_mm);
            spot.z_mm.add_slope(&mut self.terms, slope.z_mm);
        }
    }

    /// As the second spot moves so, the first moves the other way.
    fn moves_apart(&mut self, between: Between, slope: Point3) {
        self.moves(between.to, slope);
        self.moves(between.from, -slope);
    }

    fn turns(&mut self, angle: Figure, slope: f64) {
        angle.add_slope(&mut self.terms, slope);
    }

    fn computed(&mut self, taken: Taken) -> f64 {
        const DEG: f64 = core::f64::consts::PI / 180.0;
        let stand = self.network.stand;
        match taken {
            // √(Δx² + Δy² + Δz²)
            Taken::Distance(between) => {
                let step = self.place(between.to) - self.place(between.from);
                let length_mm = step.length_mm();
                // Two spots in one place: the tape has no direction, and a slope of 0 says nothing.
                let unit = if length_mm > 0.0 { step * (1.0 / length_mm) } else { Point3::ORIGIN };
                self.moves_apart(between, unit);
                length_mm
            }
            // Δz
            Taken::Across(between) => {
                self.moves_apart(between, Point3::at(0.0, 0.0, 1.0));
                self.place(between.to).z_mm - self.place(between.from).z_mm
            }
            // h + y cos φ − x sin φ
            Taken::Height(spot) => {
                let (sin, cos) = sin_cos_deg(stand.floor_deg.value(self.unknowns));
                let at = self.side(spot);
                self.moves(spot, Point3::at(-sin, cos, 0.0));
                self.turns(stand.height_mm, 1.0);
                self.turns(stand.floor_deg, (-at.y_mm * sin - at.x_mm * cos) * DEG);
                stand.height_mm.value(self.unknowns) + at.y_mm * cos - at.x_mm * sin
            }
            // Δx cos γ + Δy sin γ
            Taken::Ahead(between) => {
                let (sin, cos) = sin_cos_deg(stand.level_deg.value(self.unknowns));
                let step = self.side(between.to) - self.side(between.from);
                self.moves_apart(between, Point3::at(cos, sin, 0.0));
                self.turns(stand.level_deg, (step.y_mm * cos - step.x_mm * sin) * DEG);
                step.x_mm * cos + step.y_mm * sin
            }
            // Δy cos γ − Δx sin γ
            Taken::Above(between) => {
                let (sin, cos) = sin_cos_deg(stand.level_deg.value(self.unknowns));
                let step = self.side(between.to) - self.side(between.from);
                self.moves_apart(between, Point3::at(-sin, cos, 0.0));
                self.turns(stand.level_deg, (-step.y_mm * sin - step.x_mm * cos) * DEG);
                step.y_mm * cos - step.x_mm * sin
            }
            // atan2(Δy, Δx) − γ
            Taken::Slope(between) => {
                let step = self.side(between.to) - self.side(between.from);
                let squared = step.dot(step);
                let turn = if squared > 0.0 { 1.0 / (squared * DEG) } else { 0.0 };
                self.moves_apart(between, Point3::at(-step.y_mm * turn, step.x_mm * turn, 0.0));
                self.turns(stand.level_deg, -1.0);
                step.angle_deg() - stand.level_deg.value(self.unknowns)
            }
            Taken::Off { spot, line } => self.off(spot, line),
            Taken::Along { between, line } => self.along(between, line),
            // α − γ
            Taken::Angle(angle) => {
                self.turns(angle, 1.0);
                self.turns(stand.level_deg, -1.0);
                angle.value(self.unknowns) - stand.level_deg.value(self.unknowns)
            }
            // φ − γ
            Taken::FloorSlope => {
                self.turns(stand.floor_deg, 1.0);
                self.turns(stand.level_deg, -1.0);
                stand.floor_deg.value(self.unknowns) - stand.level_deg.value(self.unknowns)
            }
            Taken::Itself(figure) => {
                self.turns(figure, 1.0);
                figure.value(self.unknowns)
            }
        }
    }

    /// (p − a) × e with e the line's direction: positive to the right of it.
    fn off(&mut self, spot: usize, line: Between) -> f64 {
        let (foot, tip, at) = (self.side(line.from), self.side(line.to), self.side(spot));
        let along = tip - foot;
        let length_mm = along.length_mm();
        let e = along * (1.0 / length_mm);
        let square = -e.quarter_turned();
        let (off_mm, share) = ((at - foot).dot(square), (at - foot).dot(e) / length_mm);
        // Moving the spot changes it outright; moving an end of the line tilts the line under the spot.
        self.moves(spot, square.with_z(0.0));
        self.moves(line.to, (square * -share).with_z(0.0));
        self.moves(line.from, (square * (share - 1.0)).with_z(0.0));
        off_mm
    }

    /// (q − p) · e with e the line's direction.
    fn along(&mut self, between: Between, line: Between) -> f64 {
        let (from, to) = (self.side(between.from), self.side(between.to));
        let along = self.side(line.to) - self.side(line.from);
        let length_mm = along.length_mm();
        let e = along * (1.0 / length_mm);
        let step = to - from;
        let far_mm = step.dot(e);
        // The line turns with its ends: only what lies square to it changes.
        let turn = (step - e * far_mm) * (1.0 / length_mm);
        self.moves_apart(between, e.with_z(0.0));
        self.moves_apart(line, turn.with_z(0.0));
        far_mm
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::cast_precision_loss, reason = "a test stops where it fails; small counts")]

    use super::*;

    /// Four spots in space and a stand, all unknown: the unknowns 0 to 11 are coordinates, 12 to 14 the stand, 15 an angle.
    fn spots() -> [Spot; 4] {
        core::array::from_fn(|spot| Spot {
            x_mm: Figure::unknown(3 * spot),
            y_mm: Figure::unknown(3 * spot + 1),
            z_mm: Figure::Unknown { at: 3 * spot + 2, factor: if spot % 2 == 0 { 1.0 } else { -1.0 } },
        })
    }

    const STAND: Stand =
        Stand { level_deg: Figure::unknown(12), floor_deg: Figure::unknown(13), height_mm: Figure::unknown(14) };

    const VALUES: [f64; 16] =
        [-150.0, 690.0, 12.0, 560.0, 610.0, 190.0, -30.0, 40.0, 3.0, 380.0, 540.0, -8.0, 0.8, -0.6, 271.0, -2.5];

    #[test]
    fn every_slope_is_the_change_that_a_small_move_makes() {
        let spots = spots();
        let network = Network { spots: &spots, stand: STAND, readings: &[] };
        let (between, line) = (Between { from: 0, to: 1 }, Between { from: 2, to: 3 });
        for taken in [
            Taken::Distance(between),
            Taken::Across(between),
            Taken::Height(1),
            Taken::Ahead(between),
            Taken::Above(between),
            Taken::Slope(between),
            Taken::Off { spot: 1, line },
            Taken::Along { between, line },
            Taken::Along { between: Between { from: 2, to: 1 }, line },
            Taken::Angle(Figure::unknown(15)),
            Taken::FloorSlope,
            Taken::Itself(Figure::Unknown { at: 4, factor: -2.0 }),
        ] {
            let row = network.row(&Reading { taken, value: 0.0, sd: 1.0 }, &VALUES);
            for unknown in 0..VALUES.len() {
                let step = 1e-3;
                let at = |offset: f64| {
                    let mut values = VALUES;
                    values[unknown] += offset;
                    network.would_read(taken, &values)
                };
                let change = (at(step) - at(-step)) / (2.0 * step);
                let slope = row.terms().iter().find(|(at, _)| *at == unknown).map_or(0.0, |(_, slope)| *slope);
                assert!((slope - change).abs() < 1e-7 * (1.0 + slope.abs()), "{taken:?} {unknown}: {slope} {change}");
            }
        }
    }

    #[test]
    fn the_front_axle_lies_ahead_of_the_head_tubes_line_by_the_forks_offset() {
        let known = |x, y| Spot { x_mm: Figure::Known(x), y_mm: Figure::Known(y), z_mm: Figure::Known(0.0) };
        let axis = Point2::at(-libm::cos(73.0_f64.to_radians()), libm::sin(73.0_f64.to_radians()));
        let axle = axis * -300.0 + Point2::at(axis.y_mm, -axis.x_mm) * 45.0;
        let spots = [known(0.0, 0.0), known(axis.x_mm * 140.0, axis.y_mm * 140.0), known(axle.x_mm, axle.y_mm)];
        let level =
            Stand { level_deg: Figure::Known(0.0), floor_deg: Figure::Known(0.0), height_mm: Figure::Known(0.0) };
        let network = Network { spots: &spots, stand: level, readings: &[] };
        let line = Between { from: 0, to: 1 };
        assert!((network.would_read(Taken::Off { spot: 2, line }, &[]) - 45.0).abs() < 1e-9);
        let along = Taken::Along { between: Between { from: 2, to: 1 }, line };
        assert!((network.would_read(along, &[]) - 440.0).abs() < 1e-9);
        assert!((network.would_read(Taken::Slope(line), &[]) - 107.0).abs() < 1e-9, "at the front; 73° at its rear");
    }

    #[test]
    fn a_spot_that_is_not_there_is_refused_and_not_read() {
        let spots = spots();
        let reading = Reading { taken: Taken::Height(7), value: 1.0, sd: 1.0 };
        let network = Network { spots: &spots, stand: STAND, readings: &[reading] };
        assert_eq!(network.adjust(&VALUES), Err(Refusal::NotANumber));
    }

    #[test]
    fn an_angle_read_as_179_fits_minus_181() {
        let known = |x, y| Spot { x_mm: Figure::Known(x), y_mm: Figure::Known(y), z_mm: Figure::Known(0.0) };
        let spots = [known(0.0, 0.0), known(-100.0, -1.0)];
        let level =
            Stand { level_deg: Figure::Known(0.0), floor_deg: Figure::Known(0.0), height_mm: Figure::Known(0.0) };
        let network = Network { spots: &spots, stand: level, readings: &[] };
        let reading = Reading { taken: Taken::Slope(Between { from: 0, to: 1 }), value: 179.0, sd: 0.2 };
        let misfit = network.row(&reading, &[]).misfit;
        assert!((misfit - (1.0 + libm::atan(0.01).to_degrees())).abs() < 1e-9, "{misfit}");
    }
}
