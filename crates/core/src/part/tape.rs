//! Bar tape.

part! {
    /// Bar tape for both sides.
    pub struct Tape {
        width_mm: Length(10.0..60.0) "Width of the tape, unstretched.",
        length_mm: Length(500.0..4000.0) "Length of one side's roll, unstretched.",
        thickness_mm: Length(0.5..8.0) "Thickness of the tape, unstretched.",
        stretch_percent: Percent(0.0..40.0) "How much longer it is when wrapped the way this workshop pulls it.",
        layers: Count(1.0..3.0) "Layers that go on the bar.",
        adhesive: YesNo "It has a strip of glue on its back, so that at least a third must overlap.",
        colour: Text "Colour, as the rider names it.",
        direction: Text "Which way it is wound in the drops and on the tops, seen by the rider.",
    }
}
