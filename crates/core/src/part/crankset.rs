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
        ring_spacing_mm: Length(3.0..15.0) "Ring to ring, middle of the teeth to middle of the teeth.",
        ring_thickness_mm: Length(1.0..4.0) "Thickness of the rings at the tips of their teeth.",
        stance_mm: Length(120.0..200.0) "Across the arms where the pedals sit.",
        shell_wanted: Text "Shells and bearings its maker names.",
        power_meter: Choice<PowerMeter> "Where power is measured.",
        arm_torque_nm: Torque(0.5..70.0) "Torque its maker states for the arm's bolts.",
        ring_torque_nm: Torque(2.0..40.0) "Torque its maker states for the bolts of the rings.",
        ring_bolts: Count(1.0..12.0) "Bolts that hold the rings.",
        arm_bolts: Count(1.0..4.0) "Bolts that hold the arm that is tightened last.",
        material: Choice<crate::part::Material> "What the arms are made of.",
        preload_travel_mm: Length(0.0..15.0) "How much its preload ring or washer can take up.",
        pedal_thread: Text "Thread of the pedal eyes: 9/16 in x 20.",
        power_room_needed_mm: Length(0.0..30.0) "Room that its power meter wants between the left arm's inner face and the stay.",
        lubricant: Choice<crate::part::Lubricant> "What is on the rings, where they were ridden before.",
        catcher_allowed: YesNo "Its maker allows a chain catcher beside the inner ring.",
        magnet_needed: YesNo "Its power meter counts by a magnet on the frame.",
        magnet_fitted: YesNo "That magnet is on the frame, where the maker wants it.",
        chain_speeds: Count(5.0..14.0) "Speeds of the chain its rings are made for.",
    }
}
