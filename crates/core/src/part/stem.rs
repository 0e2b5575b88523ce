//! Stem of two-piece cockpits.

use crate::part::Material;

part! {
    /// A stem that clamps the steerer and the bar.
    pub struct Stem {
        material: Choice<Material> "What it is made of.",
        length_mm: Length(20.0..180.0) "Centre of the steerer to centre of the bar.",
        angle_deg: Angle(-45.0..45.0) "From square to the steerer, up positive, the way it is printed.",
        reversible: YesNo "May be fitted the other way up.",
        clamp_height_mm: Length(15.0..80.0) "Height of its clamp along the steerer.",
        steerer_diameter_mm: Length(20.0..45.0) "Steerer it clamps.",
        bar_diameter_mm: Length(20.0..40.0) "Bar it clamps.",
        steerer_insertion_min_mm: Length(0.0..80.0) "Least steerer inside the clamp, from its lower edge.",
        spacer_over_required: YesNo "Its maker wants a spacer over it.",
        spacer_shape: Text "Shape id of the spacers that sit flush under it.",
        steerer_bolts: Count(1.0..4.0) "Bolts at the steerer.",
        bar_bolts: Count(1.0..8.0) "Bolts at the bar.",
        steerer_clamp_torque_nm: Torque(0.5..20.0) "Torque its maker states at the steerer.",
        bar_clamp_torque_nm: Torque(0.5..15.0) "Torque its maker states at the bar.",
        steerer_shape: Text "Shape id of the steerer its clamp takes: round, or the maker's own.",
        rider_mass_max_g: Mass(40_000.0..250_000.0) "Heaviest rider its maker allows.",
    }
}
