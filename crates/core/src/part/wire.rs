//! Shift wire between two units.

part! {
    /// One wire of the shifting system.
    pub struct Wire {
        length_mm: Length(50.0..3000.0) "Length, end to end.",
        lengths_made_mm: Lengths(50.0..3000.0) "The lengths in which this wire is made.",
        end_kind: Text "Kind of its ends; both units must take it.",
        end_diameter_mm: Length(1.0..12.0) "Largest diameter of its ends, which must pass every hole on the way.",
        one_end: Text "The unit at one end, as this document calls it: lever left, junction stem, battery.",
        other_end: Text "The unit at the other end, as this document calls it.",
        path: Text "The way it takes: through the bar, the head tube, the down tube.",
    }
}
