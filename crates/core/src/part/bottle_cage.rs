//! Bottle cage.

use crate::part::Material;

part! {
    /// A bottle cage.
    pub struct BottleCage {
        material: Choice<Material> "What it is made of.",
        place: Text "Where it sits: down tube, seat tube.",
        bottle_diameter_mm: Length(40.0..110.0) "Diameter of the bottle it holds.",
        room_needed_mm: Length(100.0..350.0) "Along the tube from its lower bolt to the top of a bottle as it is drawn.",
        entry: Text "From which side the bottle comes out: top, left, right.",
        bolt_length_mm: Length(5.0..40.0) "Length of its bolts under the head.",
        torque_nm: Torque(0.3..8.0) "Torque its maker states for its bolts.",
    }
}
