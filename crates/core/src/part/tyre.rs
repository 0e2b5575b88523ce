//! Tyre on its rim.

use crate::choice;

choice! {
    /// How a tyre holds its air.
    pub enum TyreKind {
        /// With a tube.
        Tube = "with tube",
        /// Tubeless-ready.
        TubelessReady = "tubeless-ready",
        /// Glued.
        Glued = "glued",
    }
}

part! {
    /// A tyre.
    pub struct Tyre {
        etrto: Text "Size by the standard, width and bead seat, such as 28-622.",
        kind: Choice<TyreKind> "How it holds its air.",
        outer_radius_mm: Length(200.0..400.0) "Wheel centre to the tread, tyre at its pressure, no rider.",
        rolled_mm: Length(1000.0..30000.0) "Rolled distance over the turns counted, rider on, tyre at its pressure.",
        rolled_turns: Count(1.0..20.0) "Turns of the wheel over which it was rolled.",
        rolled_plus_minus_mm: Length(0.0..100.0) "How well that distance was read, either way.",
        width_measured_mm: Length(15.0..80.0) "Greatest width as measured, at its pressure, a day after fitting.",
        measured_on_rim_mm: Length(8.0..40.0) "Inner width of the rim on which that width was measured.",
        pressure_max_kpa: Pressure(100.0..1500.0) "Highest pressure printed on it.",
        pressure_min_kpa: Pressure(50.0..1000.0) "Lowest pressure printed on it.",
        hookless_approved: YesNo "Its maker allows rims without hooks.",
        rotating: Text "Direction of travel, and where the label sits.",
    }
}

/// A tyre's size by the standard: `28-622` is 28 wide on a bead seat of 622.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TyreSize {
    /// Nominal width.
    pub width_mm: f64,
    /// Diameter of the bead seat.
    pub seat_mm: f64,
}

impl TyreSize {
    /// Reads a size; `None` for any other text. Sizes in inches and letters name no bead seat and are not guessed at.
    ///
    /// ```
    /// use witnessmark_core::part::TyreSize;
    /// assert_eq!(TyreSize::read("28-622"), Some(TyreSize { width_mm: 28.0, seat_mm: 622.0 }));
    /// assert_eq!(TyreSize::read("700 x 28C"), None);
    /// ```
    pub fn read(text: &str) -> Option<Self> {
        let figures: Vec<f64> = text
            .replace(", ", "; ")
            .replace(',', ".")
            .split(|c: char| !(c.is_ascii_digit() || c == '.'))
            .filter_map(|word| word.parse().ok())
            .collect();
        match figures.as_slice() {
            [width_mm, seat_mm] if *seat_mm > 200.0 => Some(TyreSize { width_mm: *width_mm, seat_mm: *seat_mm }),
            _ => None,
        }
    }
}
