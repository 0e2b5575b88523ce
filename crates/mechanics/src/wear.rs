//! How much longer a chain has become, from what a rule or a gauge reads.

use crate::chain::PITCH_MM;

/// A length of chain read pin to pin, pulled tight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChainReading {
    /// Pin to pin, or from one side of a pin to the same side of another, mm.
    pub length_mm: f64,
    /// Pitches between the two.
    pub pitches: u32,
}

impl ChainReading {
    /// Elongation against new, per cent.
    ///
    /// Rollers have play of their own, which a gauge that pushes two rollers apart counts in: it reads 0.1 to 0.25 per
    /// cent too much. A rule on the pins, or a gauge that pushes rollers the same way, does not.
    ///
    /// - Comes back: `None` for no pitches or a length that is not above zero.
    ///
    /// ```
    /// use witnessmark_mechanics::wear::ChainReading;
    /// let chain = ChainReading { length_mm: 306.324, pitches: 24 };
    /// assert!((chain.elongation_percent().unwrap() - 0.5).abs() < 1e-9);
    /// ```
    ///
    /// Source: definition, ISO 9633 pitch of 12.7 mm.
    pub fn elongation_percent(&self) -> Option<f64> {
        let new_mm = f64::from(self.pitches) * PITCH_MM;
        (self.pitches > 0 && self.length_mm > 0.0).then(|| (self.length_mm / new_mm - 1.0) * 100.0)
    }
}

/// What a rule reads over so many pitches of a chain that is so much longer than new, mm.
///
/// ```
/// use witnessmark_mechanics::wear::reading_mm;
/// assert!((reading_mm(24, 0.75) - 307.086).abs() < 1e-9);
/// ```
///
/// Source: definition, the other way round.
pub fn reading_mm(pitches: u32, elongation_percent: f64) -> f64 {
    f64::from(pitches) * PITCH_MM * (1.0 + elongation_percent / 100.0)
}
