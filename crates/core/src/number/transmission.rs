//! Transmission: crank and pedal, for now.

use super::{Area, Forms, Sides, customary, numbers, tolerance};
use crate::field::Kind;

numbers! {
    /// Crank length.
    CRANK_LENGTH = {
        id: "crank-length",
        name: "crank length",
        kind: Kind::Length,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "Bottom-bracket centre to pedal-axle centre.",
        how: "Printed on the arm.",
        tolerance: tolerance(0.5),
        customary: customary(145.0, 180.0),
        forms: Forms::PLAIN,
    }
    /// Pedal clearance angle.
    PEDAL_CLEARANCE = {
        id: "pedal-clearance",
        name: "lean at which the pedal meets the ground",
        kind: Kind::Angle,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "Lean of the bike at which the lower outer edge of a pedal at the bottom of its stroke touches the ground, tyre not pressed in.",
        how: "Worked out; as a check lean the bike against a digital level until the pedal touches.",
        tolerance: tolerance(1.0),
        customary: None,
        forms: Forms::PLAIN,
    }
    /// Longest gear, rolled out.
    DEVELOPMENT_LONGEST = {
        id: "development-longest",
        name: "longest gear, rolled out",
        kind: Kind::Length,
        area: Area::Transmission,
        sides: Sides::One,
        definition: "How far the bike rolls in a straight line with one turn of the crank in the longest gear that can be used.",
        how: "Tyres at race pressure; mark floor and tyre, turn the crank once round, tape from mark to mark.",
        tolerance: tolerance(80.0),
        customary: customary(4000.0, 12000.0),
        forms: Forms::PLAIN,
    }
}
