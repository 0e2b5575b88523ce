//! Battery of the shifting system.

use crate::part::Station;

part! {
    /// A battery; where each derailleur carries its own, they stand here as one.
    pub struct Battery {
        ports: Count(0.0..6.0) "Ports for shift wires; a battery that clips onto a derailleur has none.",
        end_kind: Text "Kind of wire end its ports take.",
        place: Text "Where it sits, in the frame's own word: in the post, in the down tube, on the derailleurs.",
        stands: Choice<Station> "Which station of the wires' route that is.",
        diameter_mm: Length(5.0..60.0) "Diameter, holder not counted.",
        length_mm: Length(20.0..300.0) "Length with its wire's end and bend.",
        holder: Text "What holds it: clip under the post, sleeve, bayonet.",
        holder_length_mm: Length(0.0..200.0) "How far holder and battery together reach below the post's end.",
        charge_percent: Percent(0.0..100.0) "Charge as read.",
        family: Text "Family and generation of the shifting it belongs to.",
    }
}
