//! Radio unit of the shifting system.

use crate::part::Station;

part! {
    /// The unit through which a wired shifting system talks to displays, or wireless levers talk to the derailleurs.
    pub struct RadioUnit {
        ports: Count(0.0..6.0) "Ports for shift wires.",
        end_kind: Text "Kind of wire end its ports take.",
        place: Text "Where it sits; carbon and metal round it weaken it.",
        stands: Choice<Station> "Which station of the wires' route that is.",
        length_mm: Length(5.0..150.0) "Length of the housing.",
        diameter_mm: Length(3.0..60.0) "Largest width or diameter of the housing.",
        talks_to: Text "What it is paired with, by serial number or pairing name.",
    }
}
