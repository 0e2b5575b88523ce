//! What a pair of ring and sprocket does: ratio, development, speed, and how far two gears are apart.
//!
//! A ratio is kept as its two tooth counts and compared without rounding; a limit is judged by the development, because
//! the same pair rolls further on a larger tyre.

use core::cmp::Ordering;
use core::f64::consts::TAU;

/// A ring with a sprocket.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gear {
    /// Teeth of the ring.
    pub ring: u32,
    /// Teeth of the sprocket.
    pub sprocket: u32,
}

/// A fraction in its lowest terms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fraction {
    /// Above the line.
    pub over: u32,
    /// Below the line.
    pub under: u32,
}

/// How far the wheel rolls in a turn, and how well that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rolling {
    /// Rolling circumference, mm.
    pub circumference_mm: f64,
    /// Half the width of the interval in which it surely lies, mm.
    pub plus_minus_mm: f64,
}

/// A rolled distance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RollOut {
    /// Distance rolled, mm.
    pub distance_mm: f64,
    /// Turns of the wheel.
    pub turns: u32,
    /// How well the distance was read, either way, mm.
    pub plus_minus_mm: f64,
}

/// Least share of the unloaded circumference by which a loaded tyre's rolling circumference is unsure: how much of the
/// sink counts differs from tyre to tyre and is not known for a given one.
pub const UNSURE_SHARE: f64 = 0.005;

impl Gear {
    /// Turns of the wheel for one of the crank, in lowest terms.
    ///
    /// - Comes back: `None` with a sprocket of no teeth.
    ///
    /// ```
    /// use witnessmark_mechanics::gears::{Fraction, Gear};
    /// let gear = Gear { ring: 52, sprocket: 14 };
    /// assert_eq!(gear.ratio(), Some(Fraction { over: 26, under: 7 }));
    /// ```
    ///
    /// Source: definition; Euclid's algorithm.
    pub fn ratio(self) -> Option<Fraction> {
        let common = greatest_common(self.ring, self.sprocket);
        (self.sprocket > 0).then(|| Fraction { over: self.ring / common, under: self.sprocket / common })
    }

    /// Turns of the wheel for one of the crank; not finite with a sprocket of no teeth.
    ///
    /// Source: definition.
    pub fn turns(self) -> f64 {
        f64::from(self.ring) / f64::from(self.sprocket)
    }

    /// Which gear is the higher, without rounding.
    ///
    /// Source: a/b < c/d exactly when ad < cb.
    pub fn compare(self, other: Self) -> Ordering {
        let product = |a: u32, b: u32| u64::from(a) * u64::from(b);
        product(self.ring, other.sprocket).cmp(&product(other.ring, self.sprocket))
    }

    /// How far the bike goes in one turn of the crank, mm.
    ///
    /// ```
    /// use witnessmark_mechanics::gears::Gear;
    /// let gear = Gear { ring: 52, sprocket: 14 };
    /// assert!((gear.development_mm(2135.0) - 7930.0).abs() < 1e-9);
    /// ```
    ///
    /// Source: definition.
    pub fn development_mm(self, circumference_mm: f64) -> f64 {
        circumference_mm * f64::from(self.ring) / f64::from(self.sprocket)
    }

    /// By how much another gear differs, in parts of this one: the step in the trade's sense, 0.12 for 12 %.
    ///
    /// ```
    /// use witnessmark_mechanics::gears::Gear;
    /// let step = Gear { ring: 52, sprocket: 17 }.step_to(Gear { ring: 52, sprocket: 15 });
    /// assert!((step - 0.133_333_333).abs() < 1e-9);
    /// ```
    ///
    /// Source: definition.
    pub fn step_to(self, other: Self) -> f64 {
        other.turns() / self.turns() - 1.0
    }

    /// Both gears do nearly the same: the larger over the smaller is at most 1 + `within`.
    ///
    /// Source: definition; 2 to 3 % is common practice.
    pub fn is_nearly(self, other: Self, within: f64) -> bool {
        let (low, high) = if self.compare(other) == Ordering::Greater { (other, self) } else { (self, other) };
        low.step_to(high) <= within
    }
}

/// Euclid's algorithm; it ends because the second number falls. At least 1, so that it may divide.
fn greatest_common(mut a: u32, mut b: u32) -> u32 {
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}

/// Speed at a development and a cadence, km/h: development × turns a minute × 0.06.
///
/// ```
/// use witnessmark_mechanics::gears::{Turning, speed_kmh};
/// assert!((speed_kmh(Turning { development_mm: 10_021.818_18, cadence_per_minute: 90.0 }) - 54.117_818).abs() < 1e-6);
/// ```
///
/// Source: units of time and length.
pub fn speed_kmh(turning: Turning) -> f64 {
    turning.development_mm / 1000.0 * turning.cadence_per_minute * 0.06
}

/// A gear being turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turning {
    /// Way of the bike in a turn of the crank, mm.
    pub development_mm: f64,
    /// Turns of the crank a minute.
    pub cadence_per_minute: f64,
}

impl Rolling {
    /// From a roll-out: the bike with its rider, tyre at its pressure, rolled straight over some turns.
    ///
    /// - Comes back: `None` for no turn, or a distance that is not above zero.
    ///
    /// ```
    /// use witnessmark_mechanics::gears::{RollOut, Rolling};
    /// let rolled = RollOut { distance_mm: 10_600.0, turns: 5, plus_minus_mm: 5.0 };
    /// assert_eq!(Rolling::from_roll_out(rolled).unwrap(), Rolling { circumference_mm: 2120.0, plus_minus_mm: 1.0 });
    /// ```
    ///
    /// Source: common practice, no source: five turns or more.
    pub fn from_roll_out(rolled: RollOut) -> Option<Self> {
        let rolls = rolled.turns > 0 && rolled.distance_mm > 0.0;
        rolls.then(|| {
            let turns = f64::from(rolled.turns);
            Rolling { circumference_mm: rolled.distance_mm / turns, plus_minus_mm: rolled.plus_minus_mm / turns }
        })
    }

    /// From the radius of the tyre without a rider: 2πr, known to [`UNSURE_SHARE`] of itself at best, because a loaded
    /// tyre rolls a little shorter than it measures.
    ///
    /// - Comes back: `None` for a radius that is not above zero.
    ///
    /// ```
    /// use witnessmark_mechanics::gears::Rolling;
    /// let rolling = Rolling::from_outer_radius(338.0, 1.0).unwrap();
    /// assert!((rolling.circumference_mm - 2123.717).abs() < 1e-3 && rolling.plus_minus_mm > 10.0);
    /// ```
    ///
    /// Source: circumference of a circle.
    pub fn from_outer_radius(radius_mm: f64, plus_minus_mm: f64) -> Option<Self> {
        (radius_mm > 0.0 && radius_mm.is_finite()).then(|| {
            let circumference_mm = TAU * radius_mm;
            Rolling { circumference_mm, plus_minus_mm: (TAU * plus_minus_mm).max(UNSURE_SHARE * circumference_mm) }
        })
    }
}
