//! Shift wire between two units.

use crate::choice;

choice! {
    /// A station on the way of the wires: where a unit sits, as far as the length of a wire depends on it.
    pub enum Station {
        /// At the left lever.
        LeverLeft = "left lever",
        /// At the right lever.
        LeverRight = "right lever",
        /// In the bar's left end.
        BarEndLeft = "left bar end",
        /// In the bar's right end.
        BarEndRight = "right bar end",
        /// At the stem: on it, under it or behind it.
        Stem = "stem",
        /// In the mouth where the wires enter at the head tube.
        HeadTube = "head tube",
        /// In the down tube.
        DownTube = "down tube",
        /// At the bottom-bracket shell.
        Shell = "bottom-bracket shell",
        /// In the seat tube or the post.
        SeatTube = "seat tube or post",
        /// At the front derailleur.
        FrontDerailleur = "front derailleur",
        /// At the rear derailleur.
        RearDerailleur = "rear derailleur",
    }
}

part! {
    /// One wire of the shifting system.
    pub struct Wire {
        length_mm: Length(50.0..3000.0) "Length, end to end.",
        lengths_made_mm: Lengths(50.0..3000.0) "The lengths in which this wire is made.",
        end_kind: Text "Kind of its ends; both units must take it.",
        other_end_kind: Text "Kind of the end at the other unit, where the two differ.",
        end_diameter_mm: Length(1.0..12.0) "Largest diameter of its ends, which must pass every hole on the way.",
        one_end: Text "The unit at one end, as this document calls it: lever left, junction stem, battery.",
        other_end: Text "The unit at the other end, as this document calls it.",
        one_port: Count(1.0..12.0) "The port at the first unit, counted as its maker numbers them, where it matters.",
        other_port: Count(1.0..12.0) "The port at the other unit, counted as its maker numbers them, where it matters.",
        path: Text "The way it takes: through the bar, the head tube, the down tube.",
    }
}
