//! Brake caliper of one wheel.

use crate::choice;
use crate::part::BrakeFluid;

choice! {
    /// What keeps the pads in the caliper.
    pub enum PadPin {
        /// A screw with a clip.
        Screw = "screw with clip",
        /// A split pin.
        SplitPin = "split pin",
    }
}

part! {
    /// A brake caliper with its pads.
    pub struct Caliper {
        brake: Choice<BrakeFluid> "What moves it.",
        mount: Text "Mount it is made for, in the frame's own words, such as flat.",
        rotor_direct_mm: Length(100.0..240.0) "Rotor it suits when it sits on the mount without an adapter.",
        adapter: Text "Adapter under it: none, or which.",
        adapter_rotor_mm: Length(100.0..240.0) "Rotor it suits with that adapter.",
        hose_fitting: Text "Kind of hose end it takes.",
        pad_shape: Text "Shape id of its pads.",
        pad_compound: Text "What the pads are made of: resin, sintered metal.",
        pad_pin: Choice<PadPin> "What keeps the pads in.",
        pad_thickness_mm: Length(0.0..8.0) "Thickness of one pad without its plate, as it is now.",
        pad_thickness_min_mm: Length(0.0..4.0) "Thickness at which its maker wants the pads gone.",
        bolt_length_mm: Length(8.0..80.0) "Length of its bolts under the head.",
        bolt_engagement_mm: Length(0.0..40.0) "Length of bolt inside the thread, once mounted.",
        mount_torque_nm: Torque(1.0..15.0) "Torque its maker states at the mount.",
        pad_fins: YesNo "Its pads carry cooling fins.",
        fin_to_spoke_mm: Length(0.0..60.0) "Least gap between fins and spokes with new pads, the wheel turned right round.",
        bolt_washers_mm: Length(0.0..20.0) "Washers and plates under the heads of its bolts, added up.",
        thread_depth_mm: Length(3.0..40.0) "Depth of the thread into which its bolts go.",
    }
}
