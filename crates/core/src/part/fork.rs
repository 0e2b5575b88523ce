//! Fork and its steerer.

use crate::choice;
use crate::part::Material;

choice! {
    /// How the maker takes the fork's length.
    pub enum ForkLengthIs {
        /// Along the steering axis, from the crown-race seat to square with the axle.
        AlongAxis = "along the steering axis",
        /// The straight line from the crown-race seat to the axle.
        Straight = "straight to the axle",
    }
}

part! {
    /// A fork with its steerer.
    pub struct Fork {
        material: Choice<Material> "What it is made of.",
        length_mm: Length(250.0..500.0) "Crown-race seat to axle centre.",
        length_is: Choice<ForkLengthIs> "How that length was taken; the two differ by 2 to 3 mm.",
        offset_mm: Length(0.0..90.0) "Axle centre forward of the steering axis, square to it.",
        steerer_material: Choice<Material> "What the steerer is made of.",
        steerer_upper_diameter_mm: Length(20.0..45.0) "Outside diameter of the steerer at the stem.",
        steerer_lower_diameter_mm: Length(20.0..60.0) "Outside diameter of the steerer at the crown.",
        steerer_shape: Text "Shape id of the steerer: round, or the maker's own.",
        steerer_uncut_mm: Length(80.0..500.0) "Length of the steerer as it is now, crown-race seat to its top.",
        crown_race_diameter_mm: Length(20.0..70.0) "Diameter of the crown-race seat.",
        crown_race_angle_deg: Angle(20.0..60.0) "Contact angle of the crown race.",
        spacers_max_mm: Length(0.0..100.0) "Most spacers its maker allows under the stem.",
        spacers_max_counts_cover: YesNo "Whether the top cover counts towards that maximum.",
        spacer_over_required: YesNo "Its maker wants a spacer over the stem.",
        spacer_over_max_mm: Length(0.0..60.0) "Most spacer its maker allows over the stem.",
        steerer_cut_min_mm: Length(0.0..500.0) "Shortest cut its maker allows.",
        steerer_cut_max_mm: Length(0.0..500.0) "Longest cut its maker allows.",
        set_down_min_mm: Length(0.0..10.0) "Least the steerer ends below the top of the stack.",
        set_down_max_mm: Length(0.0..10.0) "Most the steerer ends below the top of the stack.",
        expander: Text "Kind of expander or plug.",
        expander_length_mm: Length(0.0..150.0) "Length of steerer that the expander supports, from its flange down.",
        expander_torque_nm: Torque(0.5..20.0) "Torque its maker states for the expander.",
        axle: Text "Axle: diameter and hub spacing, such as 12 x 100.",
        axle_length_mm: Length(80.0..180.0) "Length of the axle under its head.",
        axle_pitch_mm: Length(0.5..2.0) "Thread pitch of the axle.",
        brake_mount: Text "Brake mount and the rotor it is made for, such as flat 140.",
        rotor_min_mm: Length(100.0..240.0) "Smallest rotor allowed.",
        rotor_max_mm: Length(100.0..240.0) "Largest rotor allowed.",
        tyre_width_max_mm: Length(15.0..80.0) "Widest tyre allowed, as measured.",
        axle_head: Text "Shape of axle head it takes: flush cone, flat with washer, lever.",
        steerer_clamp_torque_nm: Torque(0.5..20.0) "Largest torque its maker allows at the clamp on the steerer.",
        crown_race_moulded: YesNo "Its crown is shaped as the lower race, and none is pressed on.",
        crown_open: YesNo "Its steerer is open below and closed by a plug.",
        crown_plug_held: YesNo "A screw, glue or a lip holds the plug in its crown.",
        tyre_opening_mm: Length(20.0..120.0) "Width inside its legs where the tyre is widest.",
    }
}
