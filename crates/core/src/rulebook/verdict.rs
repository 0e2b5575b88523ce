//! Inside, outside, or too close to say: a reading against a limit by the decision rule of ISO 14253-1.

use super::{Asks, Limit};
use crate::choice;

/// Sums of decimal figures miss by far less; no limit is finer.
const LAST_DIGIT: f64 = 1e-6;

/// From this value to that one, both allowed; an end that is not limited is infinite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// The smallest value allowed.
    pub low: f64,
    /// The largest value allowed.
    pub high: f64,
}

/// A value and how well it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// The value.
    pub value: f64,
    /// Its expanded uncertainty U: half the width of the interval in which the truth surely lies.
    pub plus_minus: f64,
}

/// Where a reading lies to a range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Zone {
    /// Conformance is proven.
    Inside,
    /// Nothing is proven: the doubt of the reading reaches across the limit.
    TooClose,
    /// Non-conformance is proven.
    Outside,
}

choice! {
    /// What a reading says about a limit, best first.
    pub enum Verdict {
        /// Inside, with its doubt.
        Inside = "inside",
        /// Beyond the limit, and inside what the body allows for measuring.
        ByTolerance = "inside by the measuring tolerance",
        /// Beyond the limit, and inside what an exemption allows.
        WithExemption = "inside with an exemption",
        /// Nobody can say with this reading.
        TooClose = "too close to say",
        /// Outside, even with its doubt.
        Outside = "outside",
    }
}

impl Range {
    /// Where a reading lies: the decision rule.
    ///
    /// With limits *low* and *high* and a reading *y* of expanded uncertainty *U*, conformance is proven where
    /// low + U ≤ y ≤ high − U, and non-conformance where y < low − U or high + U < y. In between nothing is proven, and
    /// the doubt counts against whoever has to prove: the workshop that says "inside", the commissaire who says "outside".
    ///
    /// - Symbols: all in the unit of the number; U is half the width of the interval in which the truth surely lies.
    /// - Validity: U ≥ 0. Where U is more than half the range, no reading proves conformance.
    /// - Comes back: always one of the three zones; a value that is not a number is [`Zone::TooClose`].
    /// - Source: ISO 14253-1:2013, the guard band is U itself; rule from memory, agreeing with public restatements of it.
    ///   The 2017 edition may take less (0.83 U for a probability of 95 % at one limit, from memory); ours is the stricter.
    ///
    /// A worked example: 10.00 ± 0.05 is asked for and 10.03 was read with U = 0.04. 10.03 lies within the limits, but
    /// 10.03 + 0.04 does not, so conformance is not proven; 10.03 − 0.04 lies within, so neither is non-conformance.
    ///
    /// ```
    /// use witnessmark_core::rulebook::{Range, Reading, Zone};
    /// let asked = Range { low: 9.95, high: 10.05 };
    /// let read = |value| Reading { value, plus_minus: 0.04 };
    /// assert_eq!(asked.zone(read(10.03)), Zone::TooClose);
    /// assert_eq!(asked.zone(read(10.01)), Zone::Inside);
    /// assert_eq!(asked.zone(read(10.08)), Zone::TooClose);
    /// assert_eq!(asked.zone(read(10.10)), Zone::Outside);
    /// ```
    pub fn zone(self, reading: Reading) -> Zone {
        let Reading { value, plus_minus } = reading;
        let surely_in = at_most(self.low + plus_minus, value) && at_most(value, self.high - plus_minus);
        let maybe_in = at_most(self.low - plus_minus, value) && at_most(value, self.high + plus_minus);
        match (surely_in, maybe_in) {
            (true, _) => Zone::Inside,
            (false, true) => Zone::TooClose,
            (false, false) if value.is_nan() => Zone::TooClose,
            (false, false) => Zone::Outside,
        }
    }

    /// The range with so much more at each limited end.
    #[must_use]
    pub fn widened(self, by: f64) -> Range {
        Range { low: self.low - by, high: self.high + by }
    }
}

/// Not larger, but for the last digit of a sum.
fn at_most(a: f64, b: f64) -> bool {
    a <= b + LAST_DIGIT
}

impl Limit {
    /// What a reading says about this limit; `None` where it asks for no figure.
    ///
    /// The limit itself is tried first, then the limit with what the body allows for measuring, then what an exemption
    /// allows. Outside is only what none of them could hold.
    pub fn verdict(&self, reading: Reading) -> Option<Verdict> {
        let Asks::Within(range) = self.asks else {
            return matches!(self.asks, Asks::Nothing).then_some(Verdict::Inside);
        };
        let allowed = range.widened(self.measuring_tolerance);
        let exempt = self.exemption.map(|exemption| exemption.within);
        Some(match (range.zone(reading), allowed.zone(reading), exempt.map(|range| range.zone(reading))) {
            (Zone::Inside, ..) => Verdict::Inside,
            (_, Zone::Inside, _) => Verdict::ByTolerance,
            // Surely beyond the limit, surely within the exemption's: no doubt is left but the paper.
            (Zone::Outside, _, Some(Zone::Inside)) => Verdict::WithExemption,
            (_, Zone::Outside, None | Some(Zone::Outside)) => Verdict::Outside,
            _ => Verdict::TooClose,
        })
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at what it did not expect")]

    use super::*;
    use crate::rulebook::RuleBook;

    fn verdict(id: &str, value: f64, plus_minus: f64) -> Verdict {
        let limit = RuleBook::published().limits().find(|limit| limit.id == id).unwrap();
        limit.verdict(Reading { value, plus_minus }).unwrap()
    }

    #[test]
    fn the_guard_band_is_the_readings_own_doubt_on_both_sides_of_a_limit() {
        let at_least = Range { low: 400.0, high: f64::INFINITY };
        for (value, zone) in [
            (401.0, Zone::Inside),
            (400.999, Zone::TooClose),
            (400.0, Zone::TooClose),
            (399.0, Zone::TooClose),
            (398.999, Zone::Outside),
        ] {
            assert_eq!(at_least.zone(Reading { value, plus_minus: 1.0 }), zone, "{value}");
        }
        assert_eq!(at_least.zone(Reading { value: f64::NAN, plus_minus: 1.0 }), Zone::TooClose);
    }

    #[test]
    fn a_doubt_wider_than_the_range_proves_nothing_inside_it() {
        let range = Range { low: 240.0, high: 300.0 };
        for value in [240.0, 270.0, 300.0] {
            assert_eq!(range.zone(Reading { value, plus_minus: 31.0 }), Zone::TooClose);
        }
    }

    #[test]
    fn more_doubt_never_proves_more() {
        let range = Range { low: 240.0, high: 300.0 };
        for tenth in 2000..3500 {
            let value = f64::from(tenth) / 10.0;
            let mut proven = true;
            for plus_minus in [0.0, 0.5, 1.0, 5.0, 40.0, 200.0] {
                let now = range.zone(Reading { value, plus_minus }) != Zone::TooClose;
                assert!(proven || !now, "{value} ± {plus_minus}");
                proven = now;
            }
        }
    }

    #[test]
    fn the_bodys_own_tolerance_and_the_exemption_stand_between_inside_and_outside() {
        assert_eq!(verdict("uci-saddle-length", 305.0, 0.0), Verdict::ByTolerance);
        assert_eq!(verdict("uci-saddle-length", 306.0, 0.0), Verdict::Outside);
        assert_eq!(verdict("uci-saddle-length", 304.8, 0.5), Verdict::TooClose);
        assert_eq!(verdict("uci-saddle-tilt-9", -9.5, 0.0), Verdict::ByTolerance);
        assert_eq!(verdict("uci-saddle-tilt-9", 10.5, 0.0), Verdict::Outside);
        assert_eq!(verdict("uci-saddle-setback", 20.0, 1.0), Verdict::WithExemption);
        assert_eq!(verdict("uci-saddle-setback", 0.0, 0.0), Verdict::WithExemption);
        assert_eq!(verdict("uci-saddle-setback", 0.5, 1.0), Verdict::TooClose);
        assert_eq!(verdict("uci-saddle-setback", 49.5, 1.0), Verdict::TooClose);
        assert_eq!(verdict("uci-saddle-setback", -1.0, 0.5), Verdict::Outside);
    }
}
