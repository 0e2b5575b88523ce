//! How likely a deviation is: the normal and the chi-square distribution, forwards and backwards.
//!
//! Nothing is looked up in a table. The normal distribution leans on the complementary error function, the chi-square
//! distribution on the incomplete gamma function; both are inverted by steps that stop when nothing changes any more.

/// The share of normal deviates that exceed `deviate` standard deviations.
///
/// - Valid for every `deviate`; beyond about 38 the share is smaller than the smallest number and 0 comes back.
///
/// ```
/// use witnessmark_mechanics::chance::normal_above;
/// assert!((normal_above(1.959_963_984_540_054) - 0.025).abs() < 1e-15);
/// ```
///
/// Source: definition, by the complementary error function.
pub fn normal_above(deviate: f64) -> f64 {
    0.5 * libm::erfc(deviate / core::f64::consts::SQRT_2)
}

/// The number of standard deviations that a share `above` of normal deviates exceeds.
///
/// - Valid for 0 < `above` < 1.
/// - Comes back: `None` outside, or when `above` is not a number.
///
/// ```
/// use witnessmark_mechanics::chance::normal_exceeded_by;
/// let two_sided_one_in_a_thousand = normal_exceeded_by(0.001 / 2.0).unwrap();
/// assert!((two_sided_one_in_a_thousand - 3.290_526_731).abs() < 1e-9);
/// ```
///
/// Source: M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), 26.2.22, for the first guess (good to
/// 0.003); Newton's method with the curvature taken along (Halley) for the rest.
pub fn normal_exceeded_by(above: f64) -> Option<f64> {
    let inside = above > 0.0 && above < 1.0;
    if !inside {
        return None;
    }
    // The smaller tail keeps all its digits.
    if above > 0.5 {
        return normal_exceeded_by(1.0 - above).map(|deviate| -deviate);
    }
    let t = libm::sqrt(-2.0 * libm::log(above));
    let mut deviate = t - (2.30753 + 0.27061 * t) / (1.0 + 0.99229 * t + 0.04481 * t * t);
    // Each round triples the digits: 0.003 → 1e-8 → exact; one round more for the far tail.
    for _ in 0..4 {
        let density = libm::exp(-0.5 * deviate * deviate) / libm::sqrt(2.0 * core::f64::consts::PI);
        if density <= 0.0 {
            break;
        }
        let newton = (normal_above(deviate) - above) / density;
        deviate += newton / (1.0 + 0.5 * deviate * newton);
    }
    Some(deviate)
}

/// The share of chi-square values with so many degrees of `freedom` that exceed `value`.
///
/// The upper incomplete gamma function Q(freedom/2, value/2): its series below the bulge, its continued fraction above.
///
/// - Valid for `freedom` > 0 and `value` ≥ 0; a negative value is exceeded by all: 1 comes back.
/// - Accuracy: about 1e-14 of the share for up to some hundred degrees of freedom.
///
/// ```
/// use witnessmark_mechanics::chance::chi_square_above;
/// assert!((chi_square_above(19.675_137_57, 11.0) - 0.05).abs() < 1e-9);
/// ```
///
/// Source: M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), 6.5.29 (series), 6.5.31 (fraction).
pub fn chi_square_above(value: f64, freedom: f64) -> f64 {
    if value <= 0.0 {
        return 1.0;
    }
    let (a, x) = (0.5 * freedom, 0.5 * value);
    if x < a + 1.0 { 1.0 - lower_series(a, x) } else { upper_fraction(a, x) }
}

/// The value that a share `above` of chi-square values with so many degrees of `freedom` exceeds.
///
/// - Valid for 0 < `above` < 1 and `freedom` > 0.
/// - Comes back: `None` outside, or when a figure is not a number.
///
/// ```
/// use witnessmark_mechanics::chance::chi_square_exceeded_by;
/// assert!((chi_square_exceeded_by(0.05, 11.0).unwrap() - 19.675_137_57).abs() < 1e-8);
/// ```
///
/// Source: E. B. Wilson, M. M. Hilferty, PNAS 17 (1931) 684, for the first guess; a bracketed root for the rest.
pub fn chi_square_exceeded_by(above: f64, freedom: f64) -> Option<f64> {
    let inside = above > 0.0 && above < 1.0 && freedom > 0.0;
    if !inside {
        return None;
    }
    let ninth = 2.0 / (9.0 * freedom);
    let cube_root = 1.0 - ninth + normal_exceeded_by(above)? * libm::sqrt(ninth);
    let guess = (freedom * cube_root * cube_root * cube_root).max(freedom * 1e-3);
    // The guess is good to some per cent for most shares; the bracket opens until it holds the root, and 2000 doublings
    // of a half span every number there is.
    let (mut low, mut high) = (guess * 0.5, guess * 2.0);
    for _ in 0..2000 {
        let (at_low, at_high) = (chi_square_above(low, freedom), chi_square_above(high, freedom));
        match (at_low >= above, at_high <= above) {
            (true, true) => break,
            (false, _) => low *= 0.5,
            (true, false) => high *= 2.0,
        }
    }
    let bracket = crate::roots::Bracket { low, high, tolerance: 1e-13 * high };
    crate::roots::root(bracket, |value| above - chi_square_above(value, freedom))
}

/// P(a, x) by 6.5.29 with the exponential taken out: every term is positive, and they fall once a + n > x.
fn lower_series(a: f64, x: f64) -> f64 {
    let mut term = 1.0 / a;
    let mut sum = term;
    let mut n = a;
    // x < a + 1: the ratio of two terms x/(a + n) is below one half after a + 2 more, so some hundred are plenty for the
    // freedoms of a workshop; 10 000 is the end for any.
    for _ in 0..10_000 {
        n += 1.0;
        term *= x / n;
        sum += term;
        if term < sum * 1e-17 {
            break;
        }
    }
    sum * libm::exp(a * libm::log(x) - x - libm::lgamma(a))
}

/// Q(a, x) by 6.5.31, worked out from its head (W. J. Lentz, Applied Optics 15 (1976) 668).
fn upper_fraction(a: f64, x: f64) -> f64 {
    let mut partial = x + 1.0 - a;
    let mut above = 1.0 / NOT_ZERO;
    let mut below = 1.0 / partial;
    let mut fraction = below;
    let mut round = 0.0;
    // x ≥ a + 1: fewer than some hundred rounds; 10 000 is the end for any.
    for _ in 0..10_000 {
        round += 1.0;
        let step = -round * (round - a);
        partial += 2.0;
        below = 1.0 / away_from_zero(step * below + partial);
        above = away_from_zero(partial + step / above);
        let factor = above * below;
        fraction *= factor;
        if (factor - 1.0).abs() < 1e-16 {
            break;
        }
    }
    fraction * libm::exp(a * libm::log(x) - x - libm::lgamma(a))
}

/// Small enough to change no digit, and large enough to divide by.
const NOT_ZERO: f64 = 1e-300;

fn away_from_zero(value: f64) -> f64 {
    if value.abs() < NOT_ZERO { NOT_ZERO } else { value }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

    use super::*;

    #[test]
    fn forwards_and_backwards_agree() {
        for above in [1e-12, 1e-6, 0.001, 0.025, 0.2, 0.5, 0.8, 0.975, 0.999] {
            let back = normal_above(normal_exceeded_by(above).unwrap());
            assert!((back - above).abs() < 1e-13 * above, "{above}: {back}");
            for freedom in [1.0, 2.0, 5.0, 11.0, 40.0, 200.0] {
                let back = chi_square_above(chi_square_exceeded_by(above, freedom).unwrap(), freedom);
                assert!((back - above).abs() < 1e-10 * above.max(1e-3), "{above}, {freedom}: {back}");
            }
        }
    }

    #[test]
    fn one_degree_of_freedom_is_a_squared_normal_deviate_and_two_are_an_exponential() {
        for value in [0.01, 0.5, 1.0, 3.84, 10.83, 40.0] {
            let normal = 2.0 * normal_above(libm::sqrt(value));
            assert!((chi_square_above(value, 1.0) - normal).abs() < 1e-14);
            let exponential = libm::exp(-value / 2.0);
            assert!((chi_square_above(value, 2.0) - exponential).abs() < 1e-14);
        }
    }

    #[test]
    fn shares_that_are_none_are_refused() {
        for above in [0.0, 1.0, -0.1, 1.1, f64::NAN] {
            assert_eq!(normal_exceeded_by(above), None);
            assert_eq!(chi_square_exceeded_by(above, 5.0), None);
        }
        assert_eq!(chi_square_exceeded_by(0.5, 0.0), None);
    }
}
