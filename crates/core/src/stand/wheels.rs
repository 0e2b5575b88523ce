//! Tyres, rotors, axles.

use super::gate::GATE;
use super::{Asks, Bolts, Gate, Heeds, PLAIN, Step};
use crate::number::{Area, ROLLING, Sides, TYRE_WIDTH, WHEEL_DIAMETER};
use crate::part::RimBead;

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "look-at-wheel",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Look the wheel over and note its rim",
        how: "Round and true, spokes even, no crack at the holes; inner width, bead and valve hole; bed sealed or taped.",
        tool: "caliper, lamp",
        caution: "A crack or a soft place in a carbon rim: do not fit the tyre.",
        when: |bike| bike.has("wheel"),
        ..PLAIN
    },
    Step {
        id: "glue-tyre",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Glue the tyre on",
        how: "Old glue off, thin coats, each dry; then straight, centred, and left under pressure for as long as the glue's maker says.",
        tool: "brush, gloves",
        compound: "the glue that rim and tyre makers allow",
        caution: "A tyre that rolls off throws the rider. Solvent and glue: fresh air, gloves.",
        when: |bike| bike.end().is_some_and(is_glued) && bike.has("tyre"),
        gate: Some(Gate {
            protects: "bonding the tyre",
            after: &["look-at-wheel"],
            heeds: Heeds::Parts(&["tyre", "wheel"]),
            ..GATE
        }),
        ..PLAIN
    },
    Step {
        id: "fit-tyre",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Fit the tyre",
        how: "By hand, label at the valve, direction of travel; seated all round at both edges. Never over the lowest limit of tyre and rim.",
        tool: "hands, levers of plastic, gauge",
        caution: "Straight-walled rims only with tyres approved for them, and never over their pressure: a bead that comes off throws the rider.",
        when: |bike| bike.has("tyre") && !bike.end().is_some_and(is_glued),
        hides: &[Asks::Fact("wheel", "rim_inner_width"), Asks::Fact("tube", "valve_length")],
        ..PLAIN
    },
    Step {
        id: "fit-rotor",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Fit the rotor",
        how: "Clean hands; arrow forward; bolts in a star, or the lockring of its own kind, to torque.",
        tool: "torque wrench, lockring tool",
        bolts: Bolts::Named(&["rotor"]),
        compound: "threadlock where it is not on the bolt already",
        caution: "Fingers out of a turning rotor. Grease on it: it is cleaned with brake cleaner, and the pads are replaced.",
        when: |bike| bike.has("rotor"),
        ..PLAIN
    },
    Step {
        id: "fit-wheel",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Fit the wheel and centre the caliper",
        how: "Axle to its torque; rotor midway between the pads, no rub; pull the lever hard ten times.",
        tool: "torque wrench, lamp",
        bolts: Bolts::Named(&["axle"]),
        compound: "grease on the axle",
        when: |bike| bike.has("wheel"),
        ..PLAIN
    },
    Step {
        id: "measure-tyre",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Measure the tyre, a day after it was fitted",
        how: "At its pressure: greatest width, and the diameter over the tread; the least room in frame and fork all round.",
        tool: "caliper, rule",
        when: |bike| bike.has("tyre"),
        reads: &[&TYRE_WIDTH, &WHEEL_DIAMETER],
        ..PLAIN
    },
    Step {
        id: "roll-out",
        area: Area::Transmission,
        does: "Roll the rear wheel out",
        how: "Rider on, tyre at its pressure, several turns along a tape.",
        tool: "steel tape, chalk",
        when: |bike| bike.has("tyre") && bike.has("cassette"),
        reads: &[&ROLLING],
        ..PLAIN
    },
];

fn is_glued(end: &crate::model::End<'_>) -> bool {
    end.wheel.part.and_then(|wheel| wheel.bead.as_ref()).is_some_and(|bead| bead.value == RimBead::Glued)
}
