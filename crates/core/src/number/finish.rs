//! Finish: what is taken last, when everything is on the bike.

use super::{Area, Forms, Sides, customary, numbers, tolerance};
use crate::field::Kind;

numbers! {
    /// Mass as weighed.
    MASS = {
        id: "mass",
        name: "mass as weighed",
        kind: Kind::Mass,
        area: Area::Finish,
        sides: Sides::One,
        definition: "Mass of the bike with what the weighing says was on it: pedals, cages, mount, computer, bottles.",
        how: "Hanging scale, three weighings, the middle one counts; write down what was on.",
        tolerance: tolerance(30.0),
        customary: customary(5500.0, 12000.0),
        forms: Forms::PLAIN,
    }
    /// Load on a wheel without a rider.
    WHEEL_LOAD = {
        id: "wheel-load",
        name: "load on the wheel, no rider",
        kind: Kind::Mass,
        area: Area::Finish,
        sides: Sides::FrontRear,
        definition: "What stands on the wheel, bike level and upright, with what was on it when it was weighed, no rider.",
        how: "A scale under one wheel, the other on a block of the same height; then the other way round.",
        tolerance: tolerance(150.0),
        customary: customary(2300.0, 7000.0),
        forms: Forms::PLAIN,
    }
    /// Load on a wheel with the rider.
    RIDER_LOAD = {
        id: "rider-load",
        name: "load on the wheel, rider in the hoods",
        kind: Kind::Mass,
        area: Area::Finish,
        sides: Sides::FrontRear,
        definition: "What stands on the wheel, bike level, with the rider ready to ride, hands in the hoods, cranks level.",
        how: "A scale under one wheel and a block of the same height under the other, the rider held upright by a finger.",
        tolerance: tolerance(2000.0),
        customary: customary(20000.0, 75000.0),
        forms: Forms::PLAIN,
    }
}
