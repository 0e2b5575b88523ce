//! Wheels and brakes: what the geometry needs of the tyres, for now.

use super::{Area, Forms, Sides, Tolerance, customary, numbers, tolerance};
use crate::field::Kind;

numbers! {
    /// Tyre width as measured.
    TYRE_WIDTH = {
        id: "tyre-width",
        name: "tyre width as fitted",
        kind: Kind::Length,
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        definition: "Greatest width of the tyre on its rim at its pressure, a day after fitting.",
        how: "Caliper at four places round the wheel, the widest counts.",
        tolerance: tolerance(0.5),
        customary: customary(20.0, 45.0),
        forms: Forms::PLAIN,
    }
    /// Where the trial of a pressure begins.
    START_PRESSURE = {
        id: "start-pressure",
        name: "start pressure",
        kind: Kind::Pressure,
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        definition: "Pressure over that of the air outside with which the first ride is begun, tyre cold: a liked pressure \
            carried over by load and width to the power 1.5, good to 5 %, or where none is told the rule of 15 % drop (a fit of \
            an old chart, good to 10 % beside the doubt of the load); never above the lowest limit of tyre and rim.",
        how: "The workshop's own gauge before the first ride; what is settled on after it is the tyre pressure.",
        tolerance: Tolerance { value: 20.0, source: "5 % of 400 kPa: what carrying over is good to; own choice" },
        customary: customary(250.0, 800.0),
        forms: Forms::PLAIN,
    }
    /// Pressure of the tyre.
    TYRE_PRESSURE = {
        id: "tyre-pressure",
        name: "tyre pressure",
        kind: Kind::Pressure,
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        definition: "Pressure over that of the air outside, tyre cold, as the bike leaves.",
        how: "The workshop's own gauge, the same for both wheels, at room temperature.",
        tolerance: tolerance(10.0),
        customary: customary(250.0, 800.0),
        forms: Forms::PLAIN,
    }
    /// How far the tyre sinks.
    TYRE_DROP = {
        id: "tyre-drop",
        name: "tyre drop, rider on",
        kind: Kind::Percent,
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        definition: "How far the axle sinks when the rider sits in the hoods, as a share of the tyre's measured width.",
        how: "Height gauge to the axle without and with the rider, three times; the difference over the width.",
        tolerance: tolerance(3.0),
        customary: customary(5.0, 30.0),
        forms: Forms::PLAIN,
    }
    /// Depth of the rim.
    RIM_DEPTH = {
        id: "rim-depth",
        name: "rim depth",
        kind: Kind::Length,
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        definition: "Height of the rim from its edge to where the spokes enter, at its deepest place.",
        how: "Caliper at four places round the rim, the deepest counts.",
        tolerance: tolerance(0.5),
        customary: customary(15.0, 90.0),
        forms: Forms::PLAIN,
    }
    /// Diameter over the tyre.
    WHEEL_DIAMETER = {
        id: "wheel-diameter",
        name: "wheel diameter over the tyre",
        kind: Kind::Length,
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        definition: "Diameter of the wheel over the tread, tyre at its pressure, no rider.",
        how: "Height gauge to the axle, twice; or two squares and a rule.",
        tolerance: tolerance(2.0),
        customary: customary(640.0, 720.0),
        forms: Forms::PLAIN,
    }
    /// Spokes of a wheel.
    SPOKES = {
        id: "spokes",
        name: "spoke count",
        kind: Kind::Plain,
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        definition: "Number of spokes of the wheel.",
        how: "Counted.",
        tolerance: tolerance(0.0),
        customary: customary(12.0, 36.0),
        forms: Forms::PLAIN,
    }
}
