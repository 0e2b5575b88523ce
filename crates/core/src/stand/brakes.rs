//! Hoses cut, calipers on, bled.

use super::gate::GATE;
use super::{Asks, Bolts, Gate, Heeds, PLAIN, Step};
use crate::number::{Area, LEVER_REACH, Sides};

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "confirm-brake-hands",
        area: Area::WheelsAndBrakes,
        does: "Say aloud which hand works the front brake, and check both hoses",
        how: "As the rider agreed in writing; follow each hose from its lever to its caliper with a finger.",
        tool: "the bench sheet",
        caution: "A front brake on the other hand than the rider's throws the rider at the first hard stop.",
        when: |bike| bike.has("lever") && bike.has("caliper"),
        hides: &[Asks::Fact("lever", "works_brake")],
        ..PLAIN
    },
    Step {
        id: "mount-caliper",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Mount the caliper",
        how: "With the adapter and the screws that the plan names; screws long enough and not too long.",
        tool: "torque wrench",
        bolts: Bolts::Named(&["caliper"]),
        compound: "threadlock where it is not on the screw already",
        caution: "Oil on pads or rotor: they are replaced, not wiped.",
        when: |bike| bike.has("caliper"),
        ..PLAIN
    },
    Step {
        id: "cut-hose",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Cut the hose",
        how: "Square, with the hose cutter, at the mark; new insert and olive of this hose's own kind.",
        tool: "hose cutter, insert tool",
        caution: "Mark twice: bars at both stops, lever where it will be. An insert of another hose leaks.",
        when: |bike| bike.has("hose"),
        gate: Some(Gate {
            protects: "cutting the hose",
            asks: &[Asks::Fact("hose", "length"), Asks::Fact("hose", "insert")],
            after: &["sweep-steering", "confirm-brake-hands", "draw-hose"],
            heeds: Heeds::Parts(&["hose", "caliper", "lever"]),
            ..GATE
        }),
        ..PLAIN
    },
    Step {
        id: "connect-hose",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Connect the hose at both ends",
        how: "Mark how far it goes in; the mark disappears when it is home.",
        tool: "torque wrench",
        bolts: Bolts::Named(&["hose"]),
        compound: "as the brake's maker says; never grease on the olive",
        when: |bike| bike.has("hose"),
        hides: &[Asks::Fact("hose", "length"), Asks::Fact("hose", "insertion")],
        ..PLAIN
    },
    Step {
        id: "bleed",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Bleed the brake",
        how: "With the fluid that lever and caliper are made for and no other; wheel and pads out, block in. Squeeze hard for a minute: nothing moves, nothing weeps.",
        tool: "bleed kit, block",
        caution: "Mineral oil and DOT fluid are never mixed; either in the wrong brake destroys its seals. Keep it off pads, rotor, paint and skin.",
        when: |bike| bike.has("hose") && bike.has("caliper"),
        ..PLAIN
    },
    Step {
        id: "set-reach",
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        does: "Set the lever's reach",
        how: "To the rider's hand, both alike; then the free stroke, and the blade stops well before the bar.",
        tool: "small hex key, rule",
        when: |bike| bike.has("lever"),
        reads: &[&LEVER_REACH],
        ..PLAIN
    },
];
