//! End plug: what closes the open end of the bar.

use crate::choice;

choice! {
    /// How an end plug holds.
    pub enum PlugHold {
        /// Pushed in over the tucked tape.
        Pushed = "pushed in",
        /// Spread by a screw.
        Expanding = "expanding",
        /// A junction of the shift wires that fills the bar's end.
        Junction = "junction in the bar's end",
    }
}

part! {
    /// The plug of one end of the bar.
    pub struct EndPlug {
        diameter_mm: Length(8.0..40.0) "Outside diameter where it enters the bar, before it is spread.",
        bar_bore_min_mm: Length(8.0..40.0) "Smallest bore of bar that it holds in.",
        bar_bore_max_mm: Length(8.0..40.0) "Largest bore of bar that it holds in.",
        insertion_mm: Length(3.0..80.0) "How far it reaches into the bar.",
        head_thickness_mm: Length(0.0..20.0) "How far its head stands out behind the bar's end.",
        hold: Choice<PlugHold> "How it holds.",
        torque_nm: Torque(0.1..6.0) "Torque its maker states for its screw.",
    }
}
