//! Chain.

use crate::choice;

choice! {
    /// How a chain is closed.
    pub enum ChainJoin {
        /// With a pin that is pressed in once.
        Pin = "pin",
        /// With a joining link that is closed once.
        LinkOnce = "joining link, used once",
        /// With a joining link that may be opened and closed again.
        LinkAgain = "joining link, reusable",
    }
}

choice! {
    /// What a chain is lubricated with. Never mixed unnoticed: wax does not hold on a trace of oil.
    pub enum Lubricant {
        /// The grease it was shipped in.
        Factory = "factory grease",
        /// Hot wax.
        Wax = "wax",
        /// A wax carried in water.
        DripWax = "drip wax",
        /// A dry lubricant with solids.
        Dry = "dry",
        /// Oil.
        Oil = "oil",
    }
}

part! {
    /// A chain.
    pub struct Chain {
        speeds: Count(5.0..14.0) "Rear speeds it is made for.",
        pitch_mm: Length(8.0..16.0) "Pin to pin when new; 12.7 mm on every road chain.",
        links: Count(40.0..160.0) "Links as sold, or as it is now, each inner and each outer one counted.",
        inner_width_mm: Length(1.5..4.0) "Between the inner plates.",
        outer_width_mm: Length(4.0..9.0) "Across the pins.",
        height_mm: Length(6.0..12.0) "Height of the plates.",
        joining: Choice<ChainJoin> "How it is closed.",
        joining_for_speeds: Count(5.0..14.0) "Speeds that its pin or joining link is made for.",
        lubricant: Choice<Lubricant> "What it is lubricated with.",
        one_way: YesNo "Its printed side goes outward, away from the wheel.",
        elongation_percent: Percent(-0.2..3.0) "How much longer than new, by a gauge that does not count roller play.",
        worn_length_mm: Length(100.0..1600.0) "Pin to pin over the pitches counted, pulled tight.",
        worn_pitches: Count(8.0..120.0) "Pitches over which that length was read.",
    }
}
