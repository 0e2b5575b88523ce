//! Front derailleur.

use crate::part::Shifting;

part! {
    /// A front derailleur.
    pub struct FrontDerailleur {
        mount: Text "Mount it is made for, in the frame's own words: braze-on, or a band and its diameter.",
        shifting: Choice<Shifting> "What moves it.",
        ports: Count(0.0..4.0) "Ports for shift wires.",
        end_kind: Text "Kind of wire end its ports take.",
        ring_min: Count(20.0..70.0) "Smallest outer ring its cage follows.",
        ring_max: Count(20.0..70.0) "Largest outer ring its cage clears.",
        difference_max: Count(0.0..40.0) "Largest difference of the two rings.",
        chain_line_min_mm: Length(35.0..60.0) "Smallest chain line its maker names.",
        chain_line_max_mm: Length(35.0..60.0) "Largest chain line its maker names.",
        chainstay_angle_min_deg: Angle(50.0..75.0) "Smallest angle between seat tube and chainstay that its maker names.",
        height_over_teeth_mm: Length(0.0..10.0) "Gap its maker wants between the outer plate and the teeth of the outer ring.",
        nose_out_deg: Angle(-3.0..3.0) "How far its maker wants the cage's nose turned outward from parallel to the rings.",
        speeds: Count(5.0..14.0) "Rear speeds whose chain its cage is made for.",
        curved_washer: YesNo "A washer or shim matches it to a curved mount.",
        support_screw: YesNo "A screw props it against the frame, on a stuck-on plate.",
        mount_torque_nm: Torque(1.0..12.0) "Torque its maker states at the mount.",
        family: Text "Family and generation of the shifting it belongs to.",
        catcher: YesNo "A chain catcher sits at it, inside the inner ring.",
    }
}
