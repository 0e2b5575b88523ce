//! Saddle and its rails.

part! {
    /// A saddle.
    pub struct Saddle {
        length_mm: Length(180.0..360.0) "Nose to tail.",
        width_mm: Length(90.0..220.0) "Greatest width.",
        nose_to_reference_mm: Length(40.0..260.0) "Nose back to where the saddle is 80 mm wide, level.",
        nose_to_middle_of_rail_mm: Length(40.0..260.0) "Nose back to the middle of the usable rail, level.",
        rail_to_top_mm: Length(20.0..90.0) "Centre of the rails up to the top where the saddle is 80 mm wide.",
        dip_below_reference_mm: Length(-20.0..40.0) "How far the lowest point of its top lies below the reference point.",
        nose_below_reference_mm: Length(-30.0..40.0) "How far the nose lies below the reference point, saddle level.",
        rail_usable_mm: Length(20.0..120.0) "Length of straight rail between its marks.",
        rail_shape: Text "Rail section: round 7, oval 7 x 9, and so on.",
        rail_material: Choice<crate::part::Material> "What the rails are made of.",
        rail_clamp_torque_nm: Torque(0.5..25.0) "Largest torque its maker allows at the rails.",
        rider_mass_max_g: Mass(40_000.0..250_000.0) "Heaviest rider its maker allows.",
        bag: YesNo "A bag hangs under it.",
        light_sensor: YesNo "A light under it switches by a sensor that must look out.",
    }
}
