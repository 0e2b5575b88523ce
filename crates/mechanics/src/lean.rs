//! How far the bike leans before a pedal touches the road.

use crate::angle::{sin_cos_deg, tan_deg};

/// The pedal's lowest outer edge and the tyre it leans about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PedalLean {
    /// Height of the edge above the ground with the bike upright and the crank down, mm.
    pub edge_height_mm: f64,
    /// Distance of the edge from the bike's plane, mm.
    pub edge_lateral_mm: f64,
    /// Radius of the tyre's section, half its width, mm; 0 for a tyre taken as a sharp edge.
    pub tyre_section_radius_mm: f64,
}

impl PedalLean {
    /// Lean angle at which the edge touches, degrees.
    ///
    /// φ = asin(ρ/A) + atan2(h − ρ, q) with A = √(q² + (h − ρ)²): the road is the tangent from the edge to the tyre's
    /// section.
    ///
    /// - Comes back: `None` when the edge lies within the tyre's section, or a figure is not a number.
    ///
    /// ```
    /// use witnessmark_mechanics::lean::PedalLean;
    /// let pedal = PedalLean { edge_height_mm: 85.0, edge_lateral_mm: 150.0, tyre_section_radius_mm: 14.0 };
    /// assert!((pedal.lean_deg().unwrap() - 30.168_995_5).abs() < 1e-7);
    /// ```
    ///
    /// Source: tangent from a point to a circle; the lean test (25°) is that of 16 CFR 1512.17(c).
    pub fn lean_deg(&self) -> Option<f64> {
        let over_centre_mm = self.edge_height_mm - self.tyre_section_radius_mm;
        let away_mm = libm::hypot(self.edge_lateral_mm, over_centre_mm);
        (away_mm > self.tyre_section_radius_mm).then(|| {
            (libm::asin(self.tyre_section_radius_mm / away_mm) + libm::atan2(over_centre_mm, self.edge_lateral_mm))
                .to_degrees()
        })
    }

    /// The edge height at which this pedal just touches at a given lean, mm: ρ + q tan φ − ρ/cos φ.
    ///
    /// - Valid for −90° < φ < 90°.
    ///
    /// ```
    /// use witnessmark_mechanics::lean::PedalLean;
    /// let pedal = PedalLean { edge_height_mm: 85.0, edge_lateral_mm: 150.0, tyre_section_radius_mm: 14.0 };
    /// assert!((pedal.edge_height_for_mm(25.0) - 68.498_857_86).abs() < 1e-7);
    /// ```
    ///
    /// Source: distance of the tyre's centre from the leaning line through the edge, set equal to ρ.
    pub fn edge_height_for_mm(&self, lean_deg: f64) -> f64 {
        let (_, cos) = sin_cos_deg(lean_deg);
        self.tyre_section_radius_mm + self.edge_lateral_mm * tan_deg(lean_deg) - self.tyre_section_radius_mm / cos
    }
}
