//! Ridden, corrected, and out of the door.

use super::gate::GATE;
use super::{Gate, Heeds, PLAIN, Step};
use crate::number::Area;

pub(super) static TEST_RIDE: &[Step] = &[
    Step {
        id: "stand-test",
        does: "Rock it, drop it, sweep it",
        how: "Front brake on and rock; bars square and rock; drop the front wheel a hand's height: no knock, no rattle. Lift it: the bars fall both ways.",
        tool: "hands and ears",
        ..PLAIN
    },
    Step {
        id: "bed-in",
        area: Area::WheelsAndBrakes,
        does: "Bed the brakes in",
        how: "Off the road: ten slow progressive stops a brake, then firmer from a faster roll; let them cool. Bite even, blade well off the bar.",
        tool: "a quiet yard, helmet",
        caution: "New pads do not brake before they are bedded in. The one who rides wears a helmet.",
        when: |bike| bike.has("rotor"),
        ..PLAIN
    },
    Step {
        id: "ride",
        does: "Ride it",
        how: "Every gear up and down, a sprint out of the saddle, hands off on a straight, a rough patch. Listen.",
        tool: "helmet",
        caution: "Only when every step before is over.",
        ..PLAIN
    },
    Step {
        id: "look-after-ride",
        does: "Look at every painted line again",
        how: "Bar, stem, post, saddle, levers: each line unbroken. Tyres: what they lost overnight.",
        tool: "eyes, torque wrench, gauge",
        ..PLAIN
    },
];

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "explain",
        does: "Explain the bike to its rider",
        how: "Brake hands, axles, pressures and limits, first rides, when to come back; the rider shows it to you.",
        tool: "the hand-over sheet",
        ..PLAIN
    },
    Step {
        id: "release",
        does: "Hand the bike over",
        how: "Papers signed by both, paid, keys and spares with it.",
        tool: "the hand-over sheet",
        caution: "A bike with one open fastener, one stop, or one gate that nobody answers for does not leave.",
        gate: Some(Gate { protects: "the release", heeds: Heeds::Everything, last: true, ..GATE }),
        ..PLAIN
    },
];
