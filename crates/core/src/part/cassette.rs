//! Cassette.

part! {
    /// A cassette of sprockets.
    pub struct Cassette {
        sprockets: Counts(8.0..60.0) "Teeth of the sprockets, smallest first.",
        speeds: Count(5.0..14.0) "Number of sprockets.",
        freehub: Text "Id of the spline it slides onto.",
        spacing_mm: Length(2.0..8.0) "Sprocket to sprocket, middle to middle, along the axle.",
        spacer_behind_mm: Length(0.0..6.0) "Spacer between freehub and largest sprocket.",
        chain_line_mm: Length(30.0..60.0) "Bike's plane to the middle of the cassette, on the wheel in use.",
        chain_speeds: Count(5.0..14.0) "Speeds of the chain its teeth are shaped for.",
        lockring: Text "Thread of the lockring and the smallest sprocket it goes with.",
        lockring_torque_nm: Torque(5.0..80.0) "Torque its maker states for the lockring.",
        body_length_mm: Length(20.0..50.0) "Length of freehub spline that its sprockets fill.",
        lubricant: Choice<crate::part::Lubricant> "What is on it, where it was ridden before.",
        spare_largest: Count(8.0..60.0) "Largest sprocket on the rider's spare wheels.",
    }
}
