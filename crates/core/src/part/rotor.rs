//! Brake rotor of one wheel.

use crate::part::RotorMount;

part! {
    /// A brake rotor.
    pub struct Rotor {
        diameter_mm: Length(100.0..240.0) "Diameter: 140 or 160 on road bikes.",
        mount: Choice<RotorMount> "How it sits on the hub.",
        adapter: Text "Adapter between hub and rotor, where the two differ: none, or which.",
        thickness_new_mm: Length(1.0..3.0) "Thickness when new.",
        thickness_min_mm: Length(0.8..3.0) "Thickness at which its maker wants it gone, as stamped on it.",
        pad_height_mm: Length(5.0..30.0) "Height of the ring that the pads run on.",
        resin_pads_only: YesNo "Its maker allows resin pads only.",
        shim_mm: Length(0.0..1.0) "Shims behind it, so that another wheel's rotor runs in the same plane.",
        torque_nm: Torque(2.0..60.0) "Torque its maker states for lockring or bolts.",
        thickness_mm: Length(0.5..3.0) "Thickness at its thinnest place, as it is now.",
        lockring: Text "Kind of its lockring: inner teeth, outer teeth.",
    }
}
