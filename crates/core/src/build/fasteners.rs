//! What was done to each bolt, and with which wrench.
//!
//! Which bolts a bike has is no part of the document: [`compute::fasteners`](crate::compute::fasteners) tells that from
//! the parts fitted. A record stands under the bolt's own id (`stem-face-plate`, `caliper-front`); a wrench stands under
//! the name that the workshop has given it.

use crate::choice;
use crate::part::Compound;
use crate::record;

choice! {
    /// How far a bolt is tightened. One that nobody has touched has no word.
    pub enum FastenerState {
        /// Started, finger tight, or loosened again: it holds the release back.
        Open = "open",
        /// At its torque.
        Closed = "closed",
    }
}

choice! {
    /// The strength class of a screw, as stamped on its head.
    pub enum StrengthClass {
        /// Steel of medium strength.
        Steel8 = "8.8",
        /// Steel of high strength.
        Steel10 = "10.9",
        /// Steel of the highest strength.
        Steel12 = "12.9",
        /// Stainless, soft.
        Stainless50 = "A2-50",
        /// Stainless, cold worked.
        Stainless70 = "A2-70",
        /// Stainless, high strength.
        Stainless80 = "A4-80",
    }
}

record! {
    /// A bolt, or several alike that are tightened together: what the workshop knows of it and did to it.
    pub struct FastenerRecord {
        state: Choice<FastenerState> "How far it is tightened.",
        applied_nm: Torque(0.1..100.0) "Torque that was applied.",
        wrench: Text "The wrench it was applied with, by its name among the wrenches.",
        by: Text "Who did it.",
        on: Day "When.",
        witness: YesNo "A line is painted across bolt and part.",
        checked_by: Text "Who looked a second time.",
        less_nm: Torque(0.1..100.0) "A lower torque that the workshop means to use here.",
        thread: Text "Thread, such as M5 x 0.8.",
        strength: Choice<StrengthClass> "Strength class, as stamped on the head.",
        bit: Text "What turns it: hexagon 4, star 25, spline tool.",
        compound: Choice<Compound> "What goes on the thread.",
        note: Text "Anything else.",
    }
}

record! {
    /// A torque wrench of the workshop.
    pub struct Wrench {
        low_nm: Torque(0.1..100.0) "Lowest torque it is good for.",
        high_nm: Torque(0.5..300.0) "Highest torque it is good for.",
        plus_minus_percent: Percent(0.5..20.0) "How far off it may be, by its certificate.",
        calibrated_on: Day "When it was last calibrated.",
        good_for_days: Count(1.0..2000.0) "Days until it is due again.",
        serial: Text "Its serial number.",
        certificate: Text "Number of the certificate.",
        note: Text "Anything else.",
    }
}
