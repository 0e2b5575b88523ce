//! One-piece cockpit: stem and bar in one.

use crate::part::Material;

part! {
    /// Stem and bar moulded in one piece.
    pub struct Cockpit with bar_shape {
        material: Choice<Material> "What it is made of.",
        stem_length_mm: Length(40.0..180.0) "Centre of the steerer to centre of the tops, along the stem.",
        stem_angle_deg: Angle(-45.0..45.0) "From square to the steerer to the line from steerer centre to the centre of the tops; up positive.",
        clamp_height_mm: Length(15.0..80.0) "Height of its clamp along the steerer.",
        steerer_diameter_mm: Length(20.0..45.0) "Steerer it clamps.",
        spacer_shape: Text "Shape id of the spacers that sit flush under it.",
        spacers_max_mm: Length(0.0..100.0) "Most spacers its maker allows under it.",
        spacer_over_required: YesNo "Its maker wants a spacer over it.",
        hose_path: Text "Where hoses and wires run: under it, inside it.",
        mount_bolts: Text "Bolts for a computer mount: how many, how far apart.",
        steerer_clamp_torque_nm: Torque(0.5..20.0) "Torque its maker states at the steerer.",
        steerer_shape: Text "Shape id of the steerer its clamp takes: round, or the maker's own.",
        hoses_hidden: YesNo "Hoses and wires leave it hidden, down into the head tube.",
        mount_bolt_spacing_mm: Length(5.0..80.0) "Centre to centre of its bolts for a computer mount.",
    }
}
