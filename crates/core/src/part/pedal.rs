//! Pedals, as a pair, with what the shoe adds.

part! {
    /// A pair of pedals with cleats and shoes as the rider uses them.
    pub struct Pedal {
        stack_mm: Length(0.0..60.0) "Pedal-axle centre to the sole of the foot, cleat and shoe included.",
        width_mm: Length(30.0..140.0) "Crank face to the outer edge of the pedal.",
        below_axle_mm: Length(0.0..60.0) "Pedal-axle centre down to the lowest edge when the pedal hangs as ridden.",
        foot_from_crank_mm: Length(20.0..100.0) "Crank face to the middle line of the shoe.",
        toe_ahead_mm: Length(60.0..200.0) "Pedal-axle centre forward to the tip of the shoe.",
        toe_above_mm: Length(-20.0..80.0) "Pedal-axle centre up to the middle of the shoe's toe.",
        toe_radius_mm: Length(5.0..60.0) "Radius of the shoe's toe.",
        thread: Text "Thread and hand of each side.",
        torque_nm: Torque(5.0..60.0) "Torque its maker states.",
        rider_mass_max_g: Mass(40_000.0..250_000.0) "Heaviest rider its maker allows.",
        heel_inside_mm: Length(10.0..90.0) "Middle line of the shoe inward to the inner side of the heel, the heel turned in as far as the cleat lets it.",
    }
}
