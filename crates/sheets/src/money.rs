//! Money in whole cents: amounts are added without a rounding, and where one is needed it is said which.
//!
//! The document keeps an amount as it was typed, with at most two decimals that matter; here it becomes a whole number of
//! hundredths of the currency. A product (hours × rate, tax) is rounded half up to the cent, line by line.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub};

/// An amount in hundredths of the currency.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cents(pub i64);

impl Cents {
    /// The amount nearest to a figure of the document; a figure that is no amount, or beyond any price, is none.
    ///
    /// ```
    /// use witnessmark_sheets::money::Cents;
    /// assert_eq!(Cents::of(149.5), Some(Cents(14_950)));
    /// assert_eq!(Cents::of(0.1 + 0.2), Some(Cents(30)));
    /// assert_eq!(Cents::of(f64::NAN), None);
    /// ```
    pub fn of(amount: f64) -> Option<Self> {
        const MOST: f64 = 1e13;
        let cents = (amount * 100.0).round();
        // Below a tenth of a quadrillion every whole number has its own place in a float.
        #[allow(clippy::cast_possible_truncation, reason = "the range was looked at a word before")]
        (cents.abs() < MOST).then_some(Cents(cents as i64))
    }

    /// So many times: a count of parts.
    #[must_use]
    pub fn times(self, count: usize) -> Self {
        Cents(self.0.saturating_mul(i64::try_from(count).unwrap_or(i64::MAX)))
    }

    /// Hours at this rate, rounded half up to the cent; hours count to the thousandth.
    pub fn for_hours(self, hours: f64) -> Option<Self> {
        let thousandths = thousandths(hours)?;
        Some(Cents(half_up(i128::from(self.0) * i128::from(thousandths), 1000)))
    }

    /// The tax on a price without tax, rounded half up to the cent; the rate counts to the thousandth of a per cent.
    ///
    /// ```
    /// use witnessmark_sheets::money::Cents;
    /// assert_eq!(Cents(10_050).tax_on(19.0), Some(Cents(1910)));  // 19.095 rounds up
    /// assert_eq!(Cents(10_000).tax_on(8.1), Some(Cents(810)));
    /// ```
    pub fn tax_on(self, percent: f64) -> Option<Self> {
        let rate = i128::from(thousandths(percent)?);
        Some(Cents(half_up(i128::from(self.0) * rate, 100_000)))
    }

    /// The tax inside a price with tax, rounded half up to the cent.
    ///
    /// ```
    /// use witnessmark_sheets::money::Cents;
    /// assert_eq!(Cents(11_900).tax_in(19.0), Some(Cents(1900)));
    /// ```
    pub fn tax_in(self, percent: f64) -> Option<Self> {
        let rate = i128::from(thousandths(percent)?);
        Some(Cents(half_up(i128::from(self.0) * rate, 100_000 + rate)))
    }
}

/// A figure in whole thousandths; none for one that is below nothing or beyond any use.
fn thousandths(figure: f64) -> Option<i64> {
    let rounded = (figure * 1000.0).round();
    #[allow(clippy::cast_possible_truncation, reason = "the range was looked at a word before")]
    (0.0..1e12).contains(&rounded).then_some(rounded as i64)
}

/// The quotient, half a unit rounded up. The divisor is above nothing.
fn half_up(product: i128, divisor: i128) -> i64 {
    let rounded = (2 * product + divisor).div_euclid(2 * divisor);
    i64::try_from(rounded).unwrap_or(i64::MAX)
}

impl fmt::Display for Cents {
    /// `1234.50`
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "−" } else { "" };
        let cents = self.0.unsigned_abs();
        write!(f, "{sign}{}.{:02}", cents / 100, cents % 100)
    }
}

impl Add for Cents {
    type Output = Cents;
    fn add(self, other: Cents) -> Cents {
        Cents(self.0.saturating_add(other.0))
    }
}

impl Sub for Cents {
    type Output = Cents;
    fn sub(self, other: Cents) -> Cents {
        Cents(self.0.saturating_sub(other.0))
    }
}

impl AddAssign for Cents {
    fn add_assign(&mut self, other: Cents) {
        *self = *self + other;
    }
}

impl Sum for Cents {
    fn sum<I: Iterator<Item = Cents>>(all: I) -> Cents {
        all.fold(Cents(0), Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_amount_of_two_decimals_is_itself() {
        for cents in (0..2_000_000).step_by(7) {
            let typed: f64 = format!("{}.{:02}", cents / 100, cents % 100).parse().unwrap_or(f64::NAN);
            assert_eq!(Cents::of(typed), Some(Cents(cents)));
        }
    }

    #[test]
    fn half_a_cent_goes_up_and_less_goes_down() {
        assert_eq!(Cents(1).tax_on(50.0), Some(Cents(1)));
        assert_eq!(Cents(1).tax_on(49.0), Some(Cents(0)));
        assert_eq!(Cents(6500).for_hours(2.5), Some(Cents(16_250)));
        assert_eq!(Cents(3333).for_hours(0.25), Some(Cents(833)));
        assert_eq!(Cents(3334).for_hours(0.25), Some(Cents(834)));
    }

    #[test]
    fn tax_inside_a_price_and_the_rest_are_the_price() {
        for gross in [1, 99, 100, 11_900, 123_457] {
            for rate in [0.0, 7.0, 8.1, 19.0, 21.0, 25.5] {
                let tax = Cents(gross).tax_in(rate).unwrap_or_default();
                let net = Cents(gross) - tax;
                let again = net.tax_on(rate).unwrap_or_default();
                assert!((again.0 - tax.0).abs() <= 1, "{gross} at {rate}: {tax:?} inside, {again:?} on {net:?}");
            }
        }
    }

    #[test]
    fn an_amount_reads_as_people_write_it() {
        assert_eq!(Cents(123_450).to_string(), "1234.50");
        assert_eq!(Cents(-5).to_string(), "−0.05");
    }
}
