//! Seat post and its rail clamp.

use crate::part::Material;

part! {
    /// A seat post.
    pub struct Post {
        material: Choice<Material> "What it is made of.",
        shape: Text "Shape id: round diameter, or the maker's own.",
        length_mm: Length(80.0..600.0) "Centre of the rail clamp to the post's lower end, along the post.",
        layback_mm: Length(-40.0..60.0) "How far the rail clamp's centre lies behind the post's axis, square to it; forward is negative.",
        insertion_min_mm: Length(20.0..300.0) "Least insertion marked on the post.",
        clamp_length_mm: Length(10.0..60.0) "Length of rail that the clamp covers.",
        rail_shapes: Text "Rail sections its clamp takes.",
        rail_clamp_torque_nm: Torque(0.5..25.0) "Torque its maker states for the rail clamp.",
        inside_below_mm: Length(0.0..200.0) "How far whatever lives inside the post, such as a battery holder, reaches below its end.",
        bore_mm: Length(8.0..40.0) "Bore at its lower end, for what lives inside.",
        compound: Choice<crate::part::Compound> "What goes between it and the frame.",
        clamp_torque_nm: Torque(0.5..20.0) "Largest torque its maker allows at the frame's clamp.",
        rider_mass_max_g: Mass(40_000.0..250_000.0) "Heaviest rider its maker allows.",
        number_holder: YesNo "The holder of a race number can be fixed to it.",
        cut_min_mm: Length(80.0..600.0) "Shortest that its maker lets it be cut, taken as its length is.",
    }
}
