//! Through-axle of one wheel.

part! {
    /// The axle of one wheel.
    pub struct Axle {
        diameter_mm: Length(8.0..25.0) "Diameter.",
        hub_spacing_mm: Length(90.0..160.0) "Hub spacing it is made for.",
        length_mm: Length(90.0..220.0) "Length under its head to its tip.",
        thread_length_mm: Length(5.0..40.0) "Length of its thread.",
        pitch_mm: Length(0.5..2.0) "Pitch of its thread.",
        head: Text "Shape of its head: flush cone, flat with washer, lever.",
        key: Text "What turns it: hexagon and size, or its own lever.",
        torque_nm: Torque(3.0..25.0) "Torque its maker states.",
        lever_to_rotor_mm: Length(0.0..80.0) "Least gap between its lever and rotor or caliper, the lever turned right round.",
    }
}
