//! Headset: bearings, cover, compression ring.

use crate::choice;

choice! {
    /// What the bearings are made of.
    pub enum BearingMaterial {
        /// Steel balls in steel races.
        Steel = "steel",
        /// Ceramic balls in steel races.
        Hybrid = "hybrid ceramic",
    }
}

part! {
    /// The bearings of the steering and what closes them.
    pub struct Headset {
        upper_shis: Text "Upper bearing seat by the standard designation, such as IS52/28.6.",
        lower_shis: Text "Lower bearing seat by the standard designation, such as IS52/40.",
        upper_bearing_diameter_mm: Length(20.0..70.0) "Outside diameter of the upper bearing.",
        upper_bearing_bore_mm: Length(15.0..60.0) "Bore of the upper bearing.",
        upper_bearing_height_mm: Length(3.0..20.0) "Height of the upper bearing.",
        upper_bearing_angle_deg: Angle(20.0..60.0) "Contact angle of the upper bearing's outer seat.",
        lower_bearing_diameter_mm: Length(20.0..70.0) "Outside diameter of the lower bearing.",
        lower_bearing_bore_mm: Length(15.0..60.0) "Bore of the lower bearing.",
        lower_bearing_height_mm: Length(3.0..20.0) "Height of the lower bearing.",
        lower_bearing_angle_deg: Angle(20.0..60.0) "Contact angle of the lower bearing's outer seat.",
        steerer_diameter_mm: Length(20.0..45.0) "Steerer its compression ring closes on.",
        top_cap_torque_nm: Torque(0.2..8.0) "Torque its maker states for the bolt of the cap that sets the bearings' play.",
        cover_height_mm: Length(0.0..60.0) "Height of the fitted top cover above the top of the head tube.",
        covers_offered: Text "Heights of top cover that its maker offers.",
        lower_stack_mm: Length(0.0..40.0) "Height between the bottom of the head tube and the crown-race seat.",
        compression_ring: Text "Kind of compression ring: split ring, ring for internal hoses.",
        hose_passage: YesNo "Hoses may run through the upper bearing.",
        bearing_material: Choice<BearingMaterial> "What the bearings are made of.",
        upper_bearing_inner_angle_deg: Angle(20.0..60.0) "Contact angle inside the upper bearing, where the compression ring sits.",
        lower_bearing_inner_angle_deg: Angle(20.0..60.0) "Contact angle inside the lower bearing, where the crown race sits.",
        compression_ring_angle_deg: Angle(20.0..60.0) "Angle of the compression ring.",
        crown_race_supplied: YesNo "A crown race comes with it.",
        ring_proud_mm: Length(0.0..12.0) "How far its compression ring stands out above the head tube.",
        cover_recess_mm: Length(0.0..15.0) "Depth of the recess under the cover or base spacer into which the ring reaches.",
    }
}
