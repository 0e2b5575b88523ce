//! Bottom bracket: the bearings between frame and spindle.

use crate::choice;
use crate::part::BearingMaterial;

choice! {
    /// How a bottom bracket is held in the shell, and which way its threads run.
    pub enum ShellHold {
        /// Pressed in.
        Pressed = "pressed in",
        /// Threaded; the drive side's thread is left-handed.
        ThreadedOpposite = "threaded, drive side left-handed",
        /// Threaded; both sides are right-handed, so the drive side wants watching.
        ThreadedAlike = "threaded, both right-handed",
        /// Pressed in, and the two halves screwed into each other.
        ScrewedTogether = "halves screwed together",
    }
}

part! {
    /// A bottom bracket.
    pub struct BottomBracket {
        shell: Text "Shell it is made for: thread or bore, in the frame's own words.",
        hold: Choice<ShellHold> "How it is held, and which way its threads run.",
        shell_width_mm: Length(50.0..120.0) "Width of shell it is made for.",
        shell_bore_mm: Length(20.0..60.0) "Bore of shell it is made for, where it is pressed in.",
        spindle_diameter_mm: Length(15.0..40.0) "Spindle it takes.",
        bearing_width_mm: Length(50.0..150.0) "Across the outer faces of its bearings when fitted, spacers not counted.",
        spacer_left_mm: Length(0.0..20.0) "Spacers on the spindle, left.",
        spacer_right_mm: Length(0.0..20.0) "Spacers on the spindle, right.",
        bearing_material: Choice<BearingMaterial> "What the bearings are made of.",
        torque_nm: Torque(5.0..80.0) "Torque its maker states for the cups.",
        cup_diameter_mm: Length(20.0..60.0) "Outside diameter of its cups, where they are pressed in.",
    }
}
