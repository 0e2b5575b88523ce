//! Crankset with its rings.

use crate::choice;

choice! {
    /// Where power is measured.
    pub enum PowerMeter {
        /// Nowhere.
        None = "none",
        /// In the left arm.
        Left = "left arm",
        /// In the right arm or the spider.
        Right = "right arm or spider",
        /// In both arms.
        Both = "both arms",
        /// In the spindle.
        Spindle = "spindle",
    }
}

part! {
    /// Arms, spindle and rings.
    pub struct Crankset {
        arm_length_mm: Length(100.0..200.0) "Bottom-bracket centre to pedal-axle centre.",
        rings: Counts(20.0..70.0) "Teeth of the rings, largest first.",
        spindle_diameter_mm: Length(15.0..40.0) "Outside diameter of the spindle at the bearings.",
        spindle_length_mm: Length(60.0..200.0) "Length of the spindle between its shoulders.",
        chain_line_mm: Length(35.0..60.0) "Bike's plane to the middle between the rings.",
        stance_mm: Length(120.0..200.0) "Across the arms where the pedals sit.",
        shell_wanted: Text "Shells and bearings its maker names.",
        power_meter: Choice<PowerMeter> "Where power is measured.",
        arm_torque_nm: Torque(0.5..70.0) "Torque its maker states for the arm's bolts.",
    }
}
