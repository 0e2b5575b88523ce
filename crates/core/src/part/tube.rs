//! Tube, or the sealant that stands in its place.

use crate::choice;

choice! {
    /// What keeps the air in.
    pub enum AirSeal {
        /// A tube of butyl rubber.
        Butyl = "butyl tube",
        /// A tube of latex, which loses pressure overnight.
        Latex = "latex tube",
        /// A tube of thin plastic.
        Plastic = "plastic tube",
        /// No tube: sealant, and a valve in the rim.
        Sealant = "sealant",
    }
}

choice! {
    /// The kind of valve.
    pub enum ValveKind {
        /// The narrow road valve with a small nut at its tip.
        Narrow = "narrow, 6 mm",
        /// The wide valve that cars have.
        Wide = "wide, 8 mm",
    }
}

part! {
    /// A tube with its valve, or sealant with a valve, of one wheel.
    pub struct Tube {
        kind: Choice<AirSeal> "What keeps the air in.",
        tyre_width_min_mm: Length(10.0..80.0) "Narrowest tyre it is made for.",
        tyre_width_max_mm: Length(10.0..90.0) "Widest tyre it is made for.",
        valve: Choice<ValveKind> "Kind of valve.",
        valve_length_mm: Length(20.0..150.0) "Length of the valve from its foot to its tip.",
        valve_core_out: YesNo "The valve's core can be taken out.",
        extender_mm: Length(0.0..120.0) "Length that an extender adds.",
        sealant_ml: Plain(0.0..150.0) "Sealant put in, millilitres.",
        filled_on: Day "When sealant was last put in.",
        refill_days: Count(7.0..400.0) "Days after which sealant is to be topped up.",
        loss_overnight_kpa: Pressure(0.0..600.0) "Pressure lost in the night after fitting, as read.",
        valve_held: YesNo "Its valve cannot knock in the rim: a collar, a turn of tape or a nut with a rubber ring holds it.",
        sealant_allows: Text "What the sealant's maker allows beside it: latex tubes, CO2.",
        co2: YesNo "The rider inflates with CO2 on the road.",
    }
}
