//! Junction of shift wires.

use crate::part::Station;

part! {
    /// A junction where shift wires meet.
    pub struct Junction {
        ports: Count(1.0..12.0) "Ports for shift wires.",
        end_kind: Text "Kind of wire end its ports take.",
        place: Text "Where it sits: bar end, stem, down tube, bottom bracket.",
        stands: Choice<Station> "Which station of the wires' route that is.",
        length_mm: Length(5.0..200.0) "Length of the housing.",
        diameter_mm: Length(3.0..60.0) "Largest width or diameter of the housing, which must pass the hole it goes in by.",
        charging: YesNo "The battery is charged through it.",
        inside_battery: YesNo "It works with a battery inside the frame.",
    }
}
