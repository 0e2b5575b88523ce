//! How the finished bike was weighed, and at what pressures the rider was last content.

use crate::part::AirSeal;
use crate::record;

record! {
    /// What was on the bike when it was weighed.
    pub struct Weighing {
        with_pedals: YesNo "The pedals were on.",
        with_cages: YesNo "The bottle cages were on.",
        with_mount: YesNo "The computer's mount was on.",
        with_computer: YesNo "The computer was on.",
        with_bottles: YesNo "Full or empty, bottles were in the cages.",
        bottles_g: Mass(20.0..4000.0) "What the bottles weigh, where they were on.",
        note: Text "Anything else.",
    }
}

record! {
    /// Pressures that the rider liked on another bike or other tyres: they can be carried over.
    pub struct Liked {
        pressure_front_kpa: Pressure(100.0..1500.0) "Pressure in front that the rider liked.",
        pressure_rear_kpa: Pressure(100.0..1500.0) "Pressure at the rear that the rider liked.",
        width_front_mm: Length(15.0..80.0) "Width of that front tyre, as measured on its rim.",
        width_rear_mm: Length(15.0..80.0) "Width of that rear tyre, as measured on its rim.",
        rider_mass_g: Mass(25_000.0..200_000.0) "What the rider weighed then, ready to ride.",
        bike_mass_g: Mass(3_000.0..40_000.0) "What that bike weighed, with what was on it.",
        front_share_percent: Percent(20.0..70.0) "How much of rider and bike stood on that front wheel, where it was read.",
        seal: Choice<AirSeal> "What kept the air in.",
        road: Text "On what road.",
        note: Text "Anything else.",
    }
}
