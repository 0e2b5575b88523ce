//! Small parts: bolts, caps, plugs, grommets, guides.

use crate::choice;
use crate::part::Material;

choice! {
    /// What goes on a thread or between two faces.
    pub enum Compound {
        /// Nothing: dry.
        Dry = "dry",
        /// Grease.
        Grease = "grease",
        /// Paste with grains, for carbon.
        CarbonPaste = "carbon paste",
        /// Paste against seizing.
        AntiSeize = "anti-seize",
        /// Thread lock that comes loose by hand.
        ThreadLockMedium = "thread lock, medium",
        /// Thread lock that wants heat.
        ThreadLockStrong = "thread lock, strong",
    }
}

part! {
    /// A small part, or several alike.
    pub struct SmallPart {
        material: Choice<Material> "What it is made of.",
        count: Count(1.0..200.0) "How many of them.",
        place: Text "Where they go.",
        thread: Text "Thread, such as M5 x 0.8.",
        length_mm: Length(0.5..200.0) "Length under the head.",
        head: Text "Shape of the head and what turns it.",
        strength_class: Text "Strength class, as stamped: 8.8, 12.9, A2-70.",
        compound: Choice<Compound> "What goes on the thread.",
        torque_nm: Torque(0.1..80.0) "Torque for it here.",
        screws_of: Text "Ids of the bolts of the torque round that it is, such as stem-face-plate.",
    }
}
