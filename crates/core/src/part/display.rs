//! Display: the rider's computer, or the display of the shifting system.

use crate::part::Station;

part! {
    /// A display.
    pub struct Display {
        interface: Text "Shape id of the foot that turns into the mount.",
        length_mm: Length(20.0..200.0) "Length of the housing, in the direction of travel as mounted.",
        width_mm: Length(15.0..150.0) "Width of the housing.",
        height_mm: Length(5.0..60.0) "Thickness of the housing without its foot.",
        place: Text "Where it sits.",
        stands: Choice<Station> "Which station of the wires' route that is.",
        ports: Count(0.0..6.0) "Ports for shift wires; a display that only listens by radio has none.",
        end_kind: Text "Kind of wire end its ports take.",
        listens_to: Text "What it is paired with: shifting, power, heart, speed.",
    }
}
