//! Readings that do not quite agree → the values that fit them best, how well those are known, and which reading to
//! doubt.
//!
//! Weighted least squares after Gauss. A reading is a [`Row`]: how far the model's value is from what was read, its
//! standard uncertainty, and how it changes with each unknown. [`adjust`] changes the unknowns until the weighted
//! misfits are least; the [`Adjustment`] answers what a geodesist asks of a network: variances, redundancy numbers,
//! Baarda's test, the smallest mistake that would be noticed, its harm if it is not, which readings cannot be told apart,
//! and what another reading would change before it is taken.
//!
//! Unknowns that the readings leave open do not stop anything: every quantity is either determined, with its variance, or
//! said to be open. Arrays have a fixed size, because this crate has no allocator: a survey of a bike has some forty
//! readings and thirty unknowns.

use crate::chance::{normal_above, normal_exceeded_by};
use crate::roots::{Bracket, root};

/// The most readings of one adjustment.
pub const MOST_READINGS: usize = 80;

/// The most unknowns of one adjustment.
pub const MOST_UNKNOWNS: usize = 44;

/// The most unknowns that one reading depends on.
pub const MOST_TERMS: usize = 10;

/// A direction whose information is so small a share of what each of its unknowns has by itself is open.
///
/// Its square root, 1e-5, is the factor by which the standard uncertainty would be worse than that of a single reading:
/// a tape good to 1.5 mm would know it to 150 m. Rounding alone leaves about 1e-14.
const OPEN_BELOW: f64 = 1e-10;

/// An unknown whose best possible standard uncertainty, all others known, is worse than this many of its units is open:
/// on a bike a metre, or a thousand degrees. A plumb line on a level bike says of a height no more than that.
const NOBODY_READ_FROM: f64 = 1e3;

/// A quantity that leans on an open direction by less than this share does not depend on it: rounding, no more.
const LEANS_FROM: f64 = 1e-6;

/// A reading whose redundancy number is below this is checked by nothing at all: rounding, no more.
const CHECKED_FROM: f64 = 1e-9;

/// The rounds end here. A sound survey settles in 4 to 8; one that has not in 100 contradicts itself grossly.
const MOST_ROUNDS: u32 = 100;

/// A round that moves every unknown by less than this share of its own best possible standard uncertainty is the last.
const SETTLED_BELOW: f64 = 1e-9;

/// A reading, seen from the present values of the unknowns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// The model's value less what was read.
    pub misfit: f64,
    /// Standard uncertainty of the reading.
    pub sd: f64,
    count: usize,
    too_many: bool,
    terms: [(usize, f64); MOST_TERMS],
}

impl Row {
    /// A reading that depends on no unknown yet.
    ///
    /// Source: definition.
    pub const fn new(misfit: f64, sd: f64) -> Self {
        Self { misfit, sd, count: 0, too_many: false, terms: [(0, 0.0); MOST_TERMS] }
    }

    /// The model's value grows by `slope` with each unit of this unknown; several slopes of one unknown add up.
    ///
    /// - More than [`MOST_TERMS`] unknowns in one row are refused by [`adjust`].
    ///
    /// Source: definition of the Jacobian.
    pub fn add(&mut self, unknown: usize, slope: f64) {
        if let Some(term) = self.terms[..self.count].iter_mut().find(|(at, _)| *at == unknown) {
            term.1 += slope;
        } else if let Some(free) = self.terms.get_mut(self.count) {
            *free = (unknown, slope);
            self.count += 1;
        } else {
            self.too_many = true;
        }
    }

    /// The slopes by unknown.
    ///
    /// Source: definition of the Jacobian.
    pub fn terms(&self) -> &[(usize, f64)] {
        &self.terms[..self.count]
    }

    /// Divided by the standard uncertainty: misfits of all readings are then alike.
    fn whitened(mut self) -> Self {
        let weight = 1.0 / self.sd;
        self.misfit *= weight;
        for term in &mut self.terms[..self.count] {
            term.1 *= weight;
        }
        self
    }
}

/// Why there is no adjustment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// More readings, unknowns or terms than [`MOST_READINGS`], [`MOST_UNKNOWNS`], [`MOST_TERMS`].
    TooMany,
    /// A figure is not a number, a standard uncertainty is not positive, or a row names an unknown that is not there.
    NotANumber,
    /// The readings contradict each other so grossly that no values settle.
    DoesNotSettle,
}

type Matrix = [[f64; MOST_UNKNOWNS]; MOST_UNKNOWNS];
type Vector = [f64; MOST_UNKNOWNS];
static ZERO: Matrix = [[0.0; MOST_UNKNOWNS]; MOST_UNKNOWNS];

/// The values that fit the readings best, and how well they are known.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjustment {
    unknowns: usize,
    readings: usize,
    rank: usize,
    values: Vector,
    rows: [Row; MOST_READINGS],
    /// Covariance of the unknowns; where some are open, one of the generalised inverses.
    covariance: Matrix,
    /// Each unknown's best possible standard uncertainty: all others known.
    scale: Vector,
    /// The open directions, in units of `scale`, the largest entry 1.
    open: Matrix,
    rounds: u32,
}

/// The values of the unknowns that make the weighted misfits least.
///
/// Gauss–Newton steps by a pivoted Cholesky factor of the normal equations, each unknown in units of its own best
/// possible uncertainty; damped after Levenberg and Marquardt at the start and wherever a step does not improve the fit.
/// Unknowns that are open keep their start in one of their directions.
///
/// - `start`: a guess for every unknown; it decides between mirror images.
/// - `row`: the reading with this number, at these values of the unknowns.
/// - Comes back: a [`Refusal`] where there is nothing to settle.
/// - Accuracy: the last step is below 1e-9 of the unknown's best possible uncertainty.
///
/// ```
/// use witnessmark_mechanics::adjustment::{Row, adjust};
/// // One length, read twice: 100 mm to 1 mm and 103 mm to 2 mm. The mean is weighted 4 : 1.
/// let read = [(100.0, 1.0), (103.0, 2.0)];
/// let adjusted = adjust(&[90.0], 2, |k, x| {
///     let mut row = Row::new(x[0] - read[k].0, read[k].1);
///     row.add(0, 1.0);
///     row
/// }).unwrap();
/// assert!((adjusted.value(0) - 100.6).abs() < 1e-12);
/// assert!((adjusted.variance_of(&[(0, 1.0)]).unwrap() - 0.8).abs() < 1e-12);
/// ```
///
/// Source: C. F. Gauss, Theoria combinationis (1823), for the principle; D. Marquardt, J. SIAM 11 (1963) 431, for the
/// damping.
pub fn adjust(start: &[f64], readings: usize, row: impl Fn(usize, &[f64]) -> Row) -> Result<Adjustment, Refusal> {
    let mut work = Adjustment::seen_from(start, readings, &row)?;
    let unknowns = work.unknowns;
    let mut damping = 1e-3;
    let mut cost = work.chi_square();
    while work.rounds < MOST_ROUNDS {
        work.rounds += 1;
        let normal = Normal::of(&work);
        let step = normal.step(damping);
        let mut trial = work.values;
        for (at, value) in trial.iter_mut().enumerate().take(unknowns) {
            *value += step[at] * normal.scale[at];
        }
        let largest = step[..unknowns].iter().fold(0.0_f64, |most, one| most.max(one.abs()));
        let before = (work.values, work.rows);
        work.values = trial;
        let new_cost = match work.look(&row) {
            Ok(()) => work.chi_square(),
            Err(Refusal::NotANumber) => f64::INFINITY,
            Err(other) => return Err(other),
        };
        // A hair of room, because near the end the cost changes by less than it can be told to: a misfit of some metres is
        // known to 1e-13 of its standard uncertainty, and the cost so to 1e-11 even where it is all but nothing.
        if new_cost <= cost * (1.0 + 1e-12) + COST_TOLD_TO {
            cost = new_cost;
            if damping == 0.0 && largest < SETTLED_BELOW {
                work.finish();
                return Ok(work);
            }
            damping = if damping > 1e-5 { damping * 0.01 } else { 0.0 };
        } else {
            (work.values, work.rows) = before;
            damping = (damping * 8.0).max(1e-4);
            if damping > 1e12 {
                break;
            }
        }
    }
    Err(Refusal::DoesNotSettle)
}

/// The sum of squares cannot be told to better than this, however small it is.
const COST_TOLD_TO: f64 = 1e-10;

/// What readings would be worth at these values of the unknowns, before any is taken: nothing is changed, misfits count
/// for nothing, everything else holds.
///
/// Source: W. Baarda, A testing procedure for use in geodetic networks (1968): reliability follows from the plan alone.
pub fn plan(values: &[f64], readings: usize, row: impl Fn(usize, &[f64]) -> Row) -> Result<Adjustment, Refusal> {
    let mut work = Adjustment::seen_from(values, readings, &row)?;
    work.finish();
    Ok(work)
}

/// The normal equations in units of the unknowns' own scale: the diagonal is 1, or 0 for an unknown nobody read.
struct Normal {
    unknowns: usize,
    matrix: Matrix,
    gradient: Vector,
    scale: Vector,
}

impl Normal {
    fn of(work: &Adjustment) -> Self {
        let unknowns = work.unknowns;
        let mut normal = Self { unknowns, matrix: ZERO, gradient: [0.0; MOST_UNKNOWNS], scale: [1.0; MOST_UNKNOWNS] };
        for row in &work.rows[..work.readings] {
            for (a, slope_a) in row.terms() {
                normal.gradient[*a] += slope_a * row.misfit;
                for (b, slope_b) in row.terms() {
                    normal.matrix[*a][*b] += slope_a * slope_b;
                }
            }
        }
        let mut read = [0.0; MOST_UNKNOWNS];
        for (at, read) in read.iter_mut().enumerate().take(unknowns) {
            let best = 1.0 / libm::sqrt(normal.matrix[at][at]);
            (normal.scale[at], *read) = if best < NOBODY_READ_FROM { (best, best) } else { (NOBODY_READ_FROM, 0.0) };
        }
        for at in 0..unknowns {
            normal.gradient[at] *= read[at];
            for other in 0..unknowns {
                normal.matrix[at][other] *= read[at] * read[other];
            }
        }
        normal
    }

    /// The step that makes the linearised misfits least, in units of the scale; 0 along what is open.
    fn step(&self, damping: f64) -> Vector {
        let factor = Factor::of(&self.matrix, self.unknowns, damping);
        let mut y: Vector = [0.0; MOST_UNKNOWNS];
        for i in 0..factor.rank {
            let known: f64 = (0..i).map(|j| factor.lower[i][j] * y[j]).sum();
            y[i] = (-self.gradient[factor.order[i]] - known) / factor.lower[i][i];
        }
        for i in (0..factor.rank).rev() {
            let known: f64 = (i + 1..factor.rank).map(|j| factor.lower[j][i] * y[j]).sum();
            y[i] = (y[i] - known) / factor.lower[i][i];
        }
        let mut step = [0.0; MOST_UNKNOWNS];
        for i in 0..factor.rank {
            step[factor.order[i]] = y[i];
        }
        step
    }
}

/// A pivoted Cholesky factor: `matrix[order[i]][order[j]]` = Σ lower[i][k] lower[j][k], as far as the rank goes.
struct Factor {
    order: [usize; MOST_UNKNOWNS],
    lower: Matrix,
    rank: usize,
}

impl Factor {
    fn of(matrix: &Matrix, unknowns: usize, damping: f64) -> Self {
        let mut order = [0; MOST_UNKNOWNS];
        let mut left: Vector = [0.0; MOST_UNKNOWNS];
        for at in 0..unknowns {
            order[at] = at;
            left[at] = matrix[at][at] + damping;
        }
        let mut lower = ZERO;
        let mut rank = 0;
        while rank < unknowns {
            // The largest of what is left comes next; when nothing is left, the rest is open.
            let mut best = rank;
            for i in rank + 1..unknowns {
                if left[order[i]] > left[order[best]] {
                    best = i;
                }
            }
            let pivot = left[order[best]];
            if pivot < OPEN_BELOW || pivot.is_nan() {
                break;
            }
            order.swap(rank, best);
            lower.swap(rank, best);
            let root = libm::sqrt(pivot);
            lower[rank][rank] = root;
            let (done, below) = lower.split_at_mut(rank + 1);
            let this = &done[rank];
            for (row, at) in below.iter_mut().zip(&order[rank + 1..unknowns]) {
                let known: f64 = this[..rank].iter().zip(&row[..rank]).map(|(a, b)| a * b).sum();
                row[rank] = (matrix[order[rank]][*at] - known) / root;
                left[*at] -= row[rank] * row[rank];
            }
            rank += 1;
        }
        Self { order, lower, rank }
    }

    /// The inverse of the determined part, put back in the order of the unknowns.
    fn inverse(&self) -> Matrix {
        let rank = self.rank;
        // The inverse of the triangle, column by column; row i of `inverse` holds its column i.
        let mut inverse = ZERO;
        for (column, under) in inverse.iter_mut().enumerate().take(rank) {
            under[column] = 1.0 / self.lower[column][column];
            for i in column + 1..rank {
                let known: f64 = (column..i).map(|j| self.lower[i][j] * under[j]).sum();
                under[i] = -known / self.lower[i][i];
            }
        }
        let mut product = ZERO;
        for i in 0..rank {
            for j in 0..=i {
                let sum: f64 = inverse[i][i..rank].iter().zip(&inverse[j][i..rank]).map(|(a, b)| a * b).sum();
                product[self.order[i]][self.order[j]] = sum;
                product[self.order[j]][self.order[i]] = sum;
            }
        }
        product
    }

    /// The open directions, one a row: moving along them changes no reading.
    fn open(&self, unknowns: usize) -> Matrix {
        let mut open = ZERO;
        for (direction, at) in open.iter_mut().zip(self.rank..unknowns) {
            direction[self.order[at]] = 1.0;
            let mut y: Vector = [0.0; MOST_UNKNOWNS];
            for i in (0..self.rank).rev() {
                let known: f64 = (i + 1..self.rank).map(|j| self.lower[j][i] * y[j]).sum();
                y[i] = (-self.lower[at][i] - known) / self.lower[i][i];
                direction[self.order[i]] = y[i];
            }
            let largest = direction[..unknowns].iter().fold(0.0_f64, |most, one| most.max(one.abs()));
            for entry in &mut direction[..unknowns] {
                *entry /= largest;
            }
        }
        open
    }
}

/// How a quantity grows with each unknown it depends on.
pub type Slopes<'a> = &'a [(usize, f64)];

impl Adjustment {
    fn seen_from(start: &[f64], readings: usize, row: &impl Fn(usize, &[f64]) -> Row) -> Result<Self, Refusal> {
        if start.len() > MOST_UNKNOWNS || readings > MOST_READINGS {
            return Err(Refusal::TooMany);
        }
        let mut values = [0.0; MOST_UNKNOWNS];
        values[..start.len()].copy_from_slice(start);
        let mut work = Self {
            unknowns: start.len(),
            readings,
            rank: 0,
            values,
            rows: [Row::new(0.0, 1.0); MOST_READINGS],
            covariance: ZERO,
            scale: [1.0; MOST_UNKNOWNS],
            open: ZERO,
            rounds: 0,
        };
        work.look(row)?;
        Ok(work)
    }

    /// Every reading from the present values.
    fn look(&mut self, row: &impl Fn(usize, &[f64]) -> Row) -> Result<(), Refusal> {
        let unknowns = self.unknowns;
        for (at, kept) in self.rows[..self.readings].iter_mut().enumerate() {
            let seen = row(at, &self.values[..unknowns]);
            if seen.too_many {
                return Err(Refusal::TooMany);
            }
            let sound = seen.sd > 0.0
                && seen.sd.is_finite()
                && seen.misfit.is_finite()
                && seen.terms().iter().all(|(unknown, slope)| *unknown < unknowns && slope.is_finite());
            if !sound {
                return Err(Refusal::NotANumber);
            }
            *kept = seen.whitened();
        }
        Ok(())
    }

    /// Covariance and open directions at the present values.
    fn finish(&mut self) {
        let normal = Normal::of(self);
        let factor = Factor::of(&normal.matrix, self.unknowns, 0.0);
        self.rank = factor.rank;
        self.covariance = factor.inverse();
        for at in 0..self.unknowns {
            for other in 0..self.unknowns {
                self.covariance[at][other] *= normal.scale[at] * normal.scale[other];
            }
        }
        self.open = factor.open(self.unknowns);
        self.scale = normal.scale;
    }

    /// The value of an unknown; of an open one, where the search left it.
    ///
    /// Source: the least-squares solution.
    pub fn value(&self, unknown: usize) -> f64 {
        self.values[unknown]
    }

    /// All values, in the order of the unknowns.
    ///
    /// Source: the least-squares solution.
    pub fn values(&self) -> &[f64] {
        &self.values[..self.unknowns]
    }

    /// The number of readings.
    ///
    /// Source: definition.
    pub const fn readings(&self) -> usize {
        self.readings
    }

    /// Rounds that it took.
    ///
    /// Source: counted.
    pub const fn rounds(&self) -> u32 {
        self.rounds
    }

    /// Readings more than are needed: readings less determined unknowns.
    ///
    /// Source: definition of the degrees of freedom.
    pub const fn freedom(&self) -> usize {
        self.readings.saturating_sub(self.rank)
    }

    /// How many directions of the unknowns the readings leave open.
    ///
    /// Source: rank of the normal equations.
    pub const fn open_count(&self) -> usize {
        self.unknowns - self.rank
    }

    /// Whether the readings say anything about a quantity that grows so with the unknowns.
    ///
    /// It is determined when it does not change along any open direction.
    ///
    /// Source: estimability: the gradient lies in the row space of the Jacobian.
    pub fn determines(&self, slopes: Slopes<'_>) -> bool {
        let largest = slopes.iter().fold(0.0_f64, |most, (at, slope)| most.max((slope * self.scale[*at]).abs()));
        self.open[..self.open_count()].iter().all(|direction| {
            let along: f64 = slopes.iter().map(|(at, slope)| slope * self.scale[*at] * direction[*at]).sum();
            along.abs() <= LEANS_FROM * largest
        })
    }

    /// The variance of a quantity that grows so with the unknowns; `None` where it is not determined.
    ///
    /// Source: propagation of variance, JCGM 100:2008, equation 13 (all correlations taken along).
    pub fn variance_of(&self, slopes: Slopes<'_>) -> Option<f64> {
        self.determines(slopes).then(|| self.bilinear(slopes, slopes).max(0.0))
    }

    /// The covariance of two quantities; `None` where either is not determined.
    ///
    /// Source: propagation of variance, JCGM 102:2011.
    pub fn covariance_of(&self, slopes: Slopes<'_>, others: Slopes<'_>) -> Option<f64> {
        (self.determines(slopes) && self.determines(others)).then(|| self.bilinear(slopes, others))
    }

    fn bilinear(&self, slopes: Slopes<'_>, others: Slopes<'_>) -> f64 {
        let mut sum = 0.0;
        for (a, slope_a) in slopes {
            for (b, slope_b) in others {
                sum += slope_a * self.covariance[*a][*b] * slope_b;
            }
        }
        sum
    }

    /// The sum of the squared weighted misfits: chi-square with [`Adjustment::freedom`] degrees when nothing is wrong.
    ///
    /// Source: definition of the global test.
    pub fn chi_square(&self) -> f64 {
        self.rows[..self.readings].iter().map(|row| row.misfit * row.misfit).sum()
    }

    /// The fitted value less what was read, in the reading's unit.
    ///
    /// Source: definition.
    pub fn misfit(&self, reading: usize) -> f64 {
        self.rows[reading].misfit * self.rows[reading].sd
    }

    /// How a reading grows with each unknown, in standard uncertainties.
    ///
    /// Source: the row of the whitened Jacobian.
    pub fn slopes(&self, reading: usize) -> Slopes<'_> {
        self.rows[reading].terms()
    }

    /// The standard uncertainty of a reading.
    ///
    /// Source: as given.
    pub fn sd(&self, reading: usize) -> f64 {
        self.rows[reading].sd
    }

    /// The redundancy number of a reading: the share of a mistake in it that shows in its own misfit; 0 when no other
    /// reading checks it. The numbers of all readings add up to the freedom.
    ///
    /// Source: Rₖ = 1 − (J Q Jᵀ)ₖₖ, Baarda 1968.
    pub fn redundancy(&self, reading: usize) -> f64 {
        let terms = self.rows[reading].terms();
        let share = 1.0 - self.bilinear(terms, terms);
        if share < CHECKED_FROM { 0.0 } else { share.min(1.0) }
    }

    /// The normalised misfit of a reading, a normal deviate when nothing is wrong; `None` for one that nothing checks.
    ///
    /// Source: wₖ = rₖ/√Rₖ, Baarda 1968.
    pub fn deviate(&self, reading: usize) -> Option<f64> {
        let redundancy = self.redundancy(reading);
        (redundancy > 0.0).then(|| self.rows[reading].misfit / libm::sqrt(redundancy))
    }

    /// By how much a reading seems too large, and the standard uncertainty of that; `None` for one that nothing checks.
    /// To be taken off what was read.
    ///
    /// Source: êₖ = −rₖ σₖ/Rₖ with standard uncertainty σₖ/√Rₖ: the reading less what all others make of it.
    pub fn seeming_error(&self, reading: usize) -> Option<Bias> {
        let (redundancy, row) = (self.redundancy(reading), &self.rows[reading]);
        (redundancy > 0.0).then(|| {
            let sd = row.sd / libm::sqrt(redundancy);
            Bias { size: -row.misfit * row.sd / redundancy, sd }
        })
    }

    /// The smallest mistake in a reading that would be noticed; `None` for one that nothing checks.
    ///
    /// Source: ∇ₖ = δ₀ σₖ/√Rₖ, Baarda 1968.
    pub fn least_noticed(&self, reading: usize, alarm: Alarm) -> Option<f64> {
        let redundancy = self.redundancy(reading);
        (redundancy > 0.0).then(|| alarm.noticed * self.rows[reading].sd / libm::sqrt(redundancy))
    }

    /// How much a quantity moves with each unit of a mistake in a reading.
    ///
    /// Source: gᵀ Q Jₖᵀ/σₖ.
    pub fn pull(&self, reading: usize, slopes: Slopes<'_>) -> f64 {
        self.bilinear(slopes, self.rows[reading].terms()) / self.rows[reading].sd
    }

    /// How much a quantity moves with a mistake in a reading that just escapes notice; infinite where nothing checks the
    /// reading and the quantity hangs on it.
    ///
    /// Source: external reliability, Baarda 1968: the effect of ∇ₖ.
    pub fn harm(&self, reading: usize, slopes: Slopes<'_>, alarm: Alarm) -> f64 {
        let pull = self.bilinear(slopes, self.rows[reading].terms());
        self.hidden(pull, self.redundancy(reading), slopes, alarm)
    }

    /// The move that a just unnoticed mistake makes, from the move that a standard uncertainty makes.
    fn hidden(&self, pull: f64, redundancy: f64, slopes: Slopes<'_>, alarm: Alarm) -> f64 {
        if redundancy > CHECKED_FROM {
            return pull.abs() * alarm.noticed / libm::sqrt(redundancy);
        }
        let hangs_on_it = pull.abs() > LEANS_FROM * libm::sqrt(self.bilinear(slopes, slopes).max(0.0));
        if hangs_on_it { f64::INFINITY } else { 0.0 }
    }

    /// How alike the mistakes of two readings look: ±1 when they cannot be told apart at all, 0 when they do not meet.
    /// `None` where either is checked by nothing.
    ///
    /// Source: ρₖₗ = (I − J Q Jᵀ)ₖₗ/√(Rₖ Rₗ), W. Förstner 1983.
    pub fn likeness(&self, reading: usize, other: usize) -> Option<f64> {
        let product = self.redundancy(reading) * self.redundancy(other);
        (product > 0.0).then(|| {
            let shared = self.bilinear(self.rows[reading].terms(), self.rows[other].terms());
            let own = if reading == other { 1.0 } else { 0.0 };
            (own - shared) / libm::sqrt(product)
        })
    }

    /// Tests one mistake that several readings share: each of them too large by its share of it (1 for all: a tape whose
    /// end is worn). `None` where nothing could show it.
    ///
    /// Source: Baarda's test for a one-dimensional alternative hypothesis c: w = −cᵀr/√(cᵀRc), in whitened readings.
    pub fn shared_error(&self, share: impl Fn(usize) -> f64) -> Option<Bias> {
        let mut gathered: Vector = [0.0; MOST_UNKNOWNS];
        let (mut own, mut against) = (0.0, 0.0);
        for (at, row) in self.rows[..self.readings].iter().enumerate() {
            let c = share(at) / row.sd;
            own += c * c;
            against += c * row.misfit;
            for (unknown, slope) in row.terms() {
                gathered[*unknown] += c * slope;
            }
        }
        let mut explained = 0.0;
        for (a, row) in self.covariance[..self.unknowns].iter().enumerate() {
            let sum: f64 = row[..self.unknowns].iter().zip(&gathered).map(|(q, g)| q * g).sum();
            explained += gathered[a] * sum;
        }
        let shown = own - explained;
        (shown > CHECKED_FROM * own.max(1e-300)).then(|| Bias { size: -against / shown, sd: 1.0 / libm::sqrt(shown) })
    }

    /// What one more reading would change, before it is taken; `None` when it says something about what is still open,
    /// or is not sound: [`plan`] it together with the others then.
    ///
    /// Source: rank-one change of an inverse (Sherman–Morrison).
    pub fn with(&self, row: Row) -> Option<Forecast<'_>> {
        let sound = !row.too_many
            && row.sd > 0.0
            && row.terms().iter().all(|(at, slope)| *at < self.unknowns && slope.is_finite());
        if !sound || !self.determines(row.terms()) {
            return None;
        }
        let row = row.whitened();
        let mut reach: Vector = [0.0; MOST_UNKNOWNS];
        for (at, value) in reach.iter_mut().enumerate().take(self.unknowns) {
            *value = row.terms().iter().map(|(unknown, slope)| self.covariance[at][*unknown] * slope).sum();
        }
        let leverage: f64 = row.terms().iter().map(|(at, slope)| reach[*at] * slope).sum();
        Some(Forecast { now: self, reach, gain: 1.0 / (1.0 + leverage) })
    }
}

/// A mistake as the readings show it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bias {
    /// Its size, in the readings' unit.
    pub size: f64,
    /// Standard uncertainty of the size.
    pub sd: f64,
}

impl Bias {
    /// The size in standard uncertainties: a normal deviate when there is no mistake.
    ///
    /// Source: definition.
    pub fn deviate(self) -> f64 {
        self.size / self.sd
    }
}

/// When to raise the alarm over a reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alarm {
    /// A normalised misfit beyond this is an alarm.
    pub beyond: f64,
    /// The mean normalised misfit of a mistake that is noticed as often as was asked.
    pub noticed: f64,
}

/// How often an alarm may be false, and how often a mistake is to be noticed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AlarmWanted {
    /// Share of sound readings over which the alarm is raised, both ways together.
    pub false_share: f64,
    /// Share of the mistakes of the size called "smallest noticed" that are noticed.
    pub noticed_share: f64,
}

impl Alarm {
    /// The alarm for these shares; `None` when a share is not between 0 and 1, or more alarms are to be false than right.
    ///
    /// ```
    /// use witnessmark_mechanics::adjustment::{Alarm, AlarmWanted};
    /// let alarm = Alarm::new(AlarmWanted { false_share: 0.001, noticed_share: 0.80 }).unwrap();
    /// assert!((alarm.beyond - 3.290_526_731).abs() < 1e-9);
    /// assert!((alarm.noticed - 4.132_147_965).abs() < 1e-9);
    /// ```
    ///
    /// Source: Baarda 1968: 3.29 and 4.13 for 0.1 % and 80 %. The mean is the one at which both tails together reach the
    /// share; the textbooks' k(α₀/2) + z(β₀) leaves the far tail out, which is 3e-6 too much at 5 % and nothing at 0.1 %.
    pub fn new(wanted: AlarmWanted) -> Option<Self> {
        let beyond = normal_exceeded_by(wanted.false_share / 2.0)?;
        let one_tailed = beyond - normal_exceeded_by(wanted.noticed_share)?;
        let alarm = Self { beyond, noticed: one_tailed };
        let bracket = Bracket { low: 0.0, high: one_tailed, tolerance: 1e-14 };
        let noticed = root(bracket, |mean_deviate| alarm.share_raised(mean_deviate) - wanted.noticed_share)?;
        Some(Self { beyond, noticed })
    }

    /// Geodesy's customary alarm: one false in a thousand readings, four in five noticed.
    ///
    /// Source: Baarda 1968: α₀ = 0.1 %, β₀ = 80 %.
    pub fn customary() -> Self {
        let wanted = AlarmWanted { false_share: 0.001, noticed_share: 0.80 };
        Self::new(wanted).unwrap_or(Self { beyond: f64::INFINITY, noticed: f64::INFINITY })
    }

    /// The share of surveys in which a reading whose normalised misfit has this mean raises the alarm.
    ///
    /// Source: the normal distribution about that mean, both tails.
    pub fn share_raised(self, mean_deviate: f64) -> f64 {
        normal_above(self.beyond - mean_deviate) + normal_above(self.beyond + mean_deviate)
    }
}

/// An adjustment with one more reading, before that is taken.
#[derive(Clone, Debug)]
pub struct Forecast<'a> {
    now: &'a Adjustment,
    /// Q aᵀ of the new reading.
    reach: Vector,
    /// 1/(1 + a Q aᵀ); also the new reading's own redundancy number.
    gain: f64,
}

impl Forecast<'_> {
    /// How far the new reading reaches to a quantity: gᵀ Q aᵀ, in its own standard uncertainty. With
    /// [`Forecast::own_redundancy`] it gives every change at once: a covariance of two quantities falls by the product of
    /// their reaches times that number.
    ///
    /// Source: as [`Adjustment::with`].
    pub fn reach_to(&self, slopes: Slopes<'_>) -> f64 {
        slopes.iter().map(|(at, slope)| self.reach[*at] * slope).sum()
    }

    /// The variance a quantity would have; `None` where it would still not be determined.
    ///
    /// Source: Q' = Q − Q aᵀ a Q/(1 + a Q aᵀ).
    pub fn variance_of(&self, slopes: Slopes<'_>) -> Option<f64> {
        let along = self.reach_to(slopes);
        self.now.variance_of(slopes).map(|now| (now - along * along * self.gain).max(0.0))
    }

    /// The redundancy number a present reading would have.
    ///
    /// Source: as [`Adjustment::redundancy`], with Q'.
    pub fn redundancy(&self, reading: usize) -> f64 {
        let along = self.reach_to(self.now.rows[reading].terms());
        (self.now.redundancy(reading) + along * along * self.gain).min(1.0)
    }

    /// The redundancy number of the new reading itself.
    ///
    /// Source: 1 − h/(1 + h) with h = a Q aᵀ.
    pub const fn own_redundancy(&self) -> f64 {
        self.gain
    }

    /// How much a quantity would move with each unit of a mistake in a present reading.
    ///
    /// Source: as [`Adjustment::pull`], with Q'.
    pub fn pull(&self, reading: usize, slopes: Slopes<'_>) -> f64 {
        let row = &self.now.rows[reading];
        let pull =
            self.now.bilinear(slopes, row.terms()) - self.reach_to(slopes) * self.reach_to(row.terms()) * self.gain;
        pull / row.sd
    }

    /// The harm that a present reading could still do, unnoticed, to a quantity.
    ///
    /// Source: as [`Adjustment::harm`], with Q'.
    pub fn harm(&self, reading: usize, slopes: Slopes<'_>, alarm: Alarm) -> f64 {
        let pull = self.pull(reading, slopes) * self.now.rows[reading].sd;
        self.now.hidden(pull, self.redundancy(reading), slopes, alarm)
    }

    /// The harm that the new reading itself could do, unnoticed, to a quantity.
    ///
    /// Source: as [`Adjustment::harm`], with Q'.
    pub fn own_harm(&self, slopes: Slopes<'_>, alarm: Alarm) -> f64 {
        (self.reach_to(slopes) * self.gain).abs() * alarm.noticed / libm::sqrt(self.gain)
    }
}
