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
