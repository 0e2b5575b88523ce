//! Lever: brake and shift in one body.

use crate::choice;

choice! {
    /// What moves the brake.
    pub enum BrakeFluid {
        /// Mineral oil. Never mixed with glycol fluid.
        MineralOil = "mineral oil",
        /// Glycol fluid to a DOT grade. Never mixed with mineral oil.
        Dot = "DOT fluid",
        /// A cable.
        Cable = "cable",
    }
}

choice! {
    /// What moves the derailleurs.
    pub enum Shifting {
        /// Wires.
        Wired = "electronic, wired",
        /// Radio.
        Wireless = "electronic, wireless",
        /// Cables.
        Cable = "cable",
        /// It shifts nothing.
        None = "none",
    }
}

choice! {
    /// A wheel's brake.
    pub enum BrakedWheel {
        /// The front brake.
        Front = "front",
        /// The rear brake.
        Rear = "rear",
    }
}

part! {
    /// A brake-and-shift lever on its clamp band.
    pub struct Lever {
        works_brake: Choice<BrakedWheel> "Which brake this lever works. Custom and law differ by country: agree it with the rider in writing.",
        brake: Choice<BrakeFluid> "What moves the brake.",
        shifting: Choice<Shifting> "What moves the derailleurs.",
        ports: Count(0.0..6.0) "Ports for shift wires.",
        end_kind: Text "Kind of wire end its ports take.",
        speeds: Count(5.0..14.0) "Rear speeds it is made for.",
        hose_fitting: Text "Kind of hose end it takes.",
        clamp_diameter_mm: Length(15.0..40.0) "Bar diameter its band is made for.",
        foot_to_clamp_mm: Length(0.0..80.0) "Along the bar, underside of the hood to the middle of the clamp band.",
        trough_along_mm: Length(-80.0..120.0) "Lowest point of the hood's trough from the middle of the band, along the bar away from the stem.",
        trough_out_mm: Length(0.0..120.0) "Lowest point of the hood's trough from the bar's centre, square to the bar.",
        tip_out_mm: Length(20.0..200.0) "Tip of the hood from the bar's centre, square to the bar.",
        hood_width_mm: Length(15.0..70.0) "Width of the hood at the trough.",
        clamp_torque_nm: Torque(0.5..15.0) "Torque its maker states for the band.",
        family: Text "Family and generation of the shifting it belongs to.",
        hoods_offered: YesNo "Hoods of its generation and colour can be ordered.",
    }
}
