//! Drop bar of two-piece cockpits.

use crate::part::Material;

part! {
    /// A drop bar. Its side view is a curve of straights and bends; see `mechanics::bar`.
    pub struct Bar with bar_shape {
        material: Choice<Material> "What it is made of.",
        clamp_diameter_mm: Length(20.0..40.0) "Outside diameter where the stem clamps it.",
        stem_clamp_torque_nm: Torque(0.5..15.0) "Largest torque its maker allows at the stem's clamp.",
        hoses_inside: YesNo "Hoses and wires run inside it.",
        clamp_compound: Choice<crate::part::Compound> "What goes between it and the stem's clamp.",
    }
}
