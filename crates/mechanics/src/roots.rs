//! One bracketed root finder and one bracketed minimum finder, used by every function that has no closed form.
//!
//! Both always end: the number of rounds is fixed before the first one, by the argument beside each constant.

/// The interval in which a root or a least value is sought, and how finely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bracket {
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
    /// The answer lies within this of the true root, in the unit of the interval.
    pub tolerance: f64,
}

/// Rounds after which any bracket is spent.
///
/// Every third round at the latest halves the bracket, so 3 × 64 rounds shrink it 2⁶⁴ times; an f64 has 53 bits, so
/// no tolerance that can be told from zero needs more.
const MOST_ROUNDS: u32 = 3 * 64;

/// The place where `f` changes sign inside the bracket.
///
/// Inverse quadratic interpolation through the last three points (Brent's idea); when that leaves the bracket, the
/// chord; and in every third round that has not halved the bracket, its middle. So the bracket halves at least once
/// in three rounds, whatever `f` does, and the search ends after at most 3·log₂(width ÷ tolerance) rounds.
///
/// - `bracket`: where to look; `f` must have opposite signs at its ends (an end that is exactly zero is the root).
/// - Comes back: the root within `tolerance`; `None` when the ends have the same sign or stand in the wrong order, or a
///   value is not a number.
///   If `f` jumps, the place of the jump comes back.
///
/// ```
/// use witnessmark_mechanics::roots::{root, Bracket};
/// let edge = root(Bracket { low: 0.0, high: 2.0, tolerance: 1e-12 }, |x| x * x - 2.0);
/// assert!((edge.unwrap() - 1.414_213_562_373).abs() < 1e-11);
/// ```
///
/// Source: R. P. Brent, Algorithms for Minimization without Derivatives (1973), chapter 4, for the interpolation; the
/// forced halving is the simplest guard with a bound that can be shown in one line.
pub fn root(bracket: Bracket, f: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut low, mut high) = (bracket.low, bracket.high);
    // Written so that an end that is not a number is refused too.
    let in_order = low <= high;
    if !in_order {
        return None;
    }
    let (mut at_low, mut at_high) = (f(low), f(high));
    if at_low == 0.0 {
        return Some(low);
    }
    if at_high == 0.0 {
        return Some(high);
    }
    // So is a value that is not a number.
    let opposite = (at_low < 0.0 && at_high > 0.0) || (at_low > 0.0 && at_high < 0.0);
    if !opposite {
        return None;
    }

    let tolerance = bracket.tolerance.abs();
    // The last point thrown out of the bracket: the third point of the parabola.
    let (mut old, mut at_old) = (low, at_low);
    // What the bracket must have shrunk to by the end of every third round.
    let mut goal = (high - low) / 2.0;
    for round in 0..MOST_ROUNDS {
        let width = high - low;
        if width <= tolerance {
            break;
        }
        let middle = low + width / 2.0;
        let mut x = interpolated([(low, at_low), (high, at_high), (old, at_old)]).unwrap_or(middle);
        let third = round % 3 == 2;
        if third && width > goal {
            x = middle;
        }
        // A guess on an end would not move it; half a tolerance inside lets the far end jump across the root.
        let inset = (tolerance / 2.0).min(width / 4.0);
        x = x.clamp(low + inset, high - inset);
        let at_x = f(x);
        if at_x == 0.0 {
            return Some(x);
        }
        if at_x.is_nan() {
            return None;
        }
        if (at_x < 0.0) == (at_low < 0.0) {
            (old, at_old) = (low, at_low);
            (low, at_low) = (x, at_x);
        } else {
            (old, at_old) = (high, at_high);
            (high, at_high) = (x, at_x);
        }
        if third {
            goal = (high - low) / 2.0;
        }
    }
    Some(if at_low.abs() < at_high.abs() { low } else { high })
}

/// Where the curve through three points crosses zero, if that lies strictly between the first two.
fn interpolated([(a, at_a), (b, at_b), (c, at_c)]: [(f64, f64); 3]) -> Option<f64> {
    let inside = |x: &f64| a < *x && *x < b;
    let (ab, ac, bc) = (at_a - at_b, at_a - at_c, at_b - at_c);
    let quadratic = a * at_b * at_c / (ab * ac) - b * at_a * at_c / (ab * bc) + c * at_a * at_b / (ac * bc);
    Some(quadratic).filter(inside).or_else(|| Some(a - at_a * (b - a) / (at_b - at_a)).filter(inside))
}

/// Rounds of the golden section: 0.618¹⁰⁰ is 1e-21, below the resolution of any interval.
const MOST_SECTIONS: u32 = 100;

/// A place where a function is least, and its value there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Least {
    /// Where.
    pub at: f64,
    /// How much.
    pub value: f64,
}

/// The least value of `f` inside the bracket, for a function that falls and then rises.
///
/// - `bracket`: where to look; a least value on an end is found too.
/// - Comes back: the best point evaluated. For a function with several dips it is one of them, not surely the
///   deepest: narrow the bracket first. The place is good to the larger of `tolerance` and about 1e-8 of the
///   interval (a parabola is flat at its foot); the value is good to rounding.
///
/// ```
/// use witnessmark_mechanics::roots::{least, Bracket};
/// let foot = least(Bracket { low: -1.0, high: 5.0, tolerance: 1e-6 }, |x| (x - 2.0) * (x - 2.0) + 3.0);
/// assert!((foot.at - 2.0).abs() < 1e-6 && (foot.value - 3.0).abs() < 1e-11);
/// ```
///
/// Source: J. Kiefer, Sequential minimax search for a maximum (1953): golden section.
pub fn least(bracket: Bracket, f: impl Fn(f64) -> f64) -> Least {
    const SECTION: f64 = 0.618_033_988_749_894_8;
    let (mut low, mut high) = (bracket.low, bracket.high);
    let probe = |at: f64| Least { at, value: f(at) };
    let mut left = probe(high - SECTION * (high - low));
    let mut right = probe(low + SECTION * (high - low));
    for _ in 0..MOST_SECTIONS {
        if high - low <= bracket.tolerance {
            break;
        }
        if left.value <= right.value {
            high = right.at;
            right = left;
            left = probe(high - SECTION * (high - low));
        } else {
            low = left.at;
            left = right;
            right = probe(low + SECTION * (high - low));
        }
    }
    let mut best = if left.value <= right.value { left } else { right };
    for end in [probe(bracket.low), probe(bracket.high)] {
        if end.value < best.value {
            best = end;
        }
    }
    best
}
