//! Cranks, derailleurs, chain.

use super::gate::GATE;
use super::{Asks, Bolts, Gate, Heeds, PLAIN, Step};
use crate::number::{
    Area, CHAIN_LINE, CHAIN_LINKS, CHAIN_WEAR, CRANK_LENGTH, DERAILLEUR_GAP, FRONT_DERAILLEUR_ANGLE,
    FRONT_DERAILLEUR_HEIGHT,
};

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "fit-cranks",
        area: Area::Transmission,
        does: "Fit the cranks",
        how: "Bearings without play and turning freely; then the clamp. Spacers as the plan says.",
        tool: "torque wrench",
        bolts: Bolts::Named(&["crank-arm", "ring-bolts"]),
        compound: "grease on the spindle as its maker says",
        when: |bike| bike.has("crankset"),
        reads: &[&CRANK_LENGTH, &CHAIN_LINE],
        ..PLAIN
    },
    Step {
        id: "fit-cassette",
        area: Area::Transmission,
        does: "Fit the cassette",
        how: "On a clean spline, spacers as the plan says, lockring to its torque.",
        tool: "lockring tool, torque wrench",
        bolts: Bolts::Named(&["cassette"]),
        when: |bike| bike.has("cassette"),
        ..PLAIN
    },
    Step {
        id: "fit-front-derailleur",
        area: Area::Transmission,
        does: "Fit the front derailleur",
        how: "Cage over the teeth of the outer ring, its plate along the ring; support screw against the frame.",
        tool: "feeler gauge, torque wrench",
        bolts: Bolts::Named(&["front-derailleur"]),
        when: |bike| bike.has("front_derailleur"),
        reads: &[&FRONT_DERAILLEUR_HEIGHT, &FRONT_DERAILLEUR_ANGLE],
        ..PLAIN
    },
    Step {
        id: "fit-rear-derailleur",
        area: Area::Transmission,
        does: "Fit the rear derailleur",
        how: "On the aligned hanger, its stop against the hanger's, limits set by eye.",
        tool: "torque wrench",
        bolts: Bolts::Named(&["rear-derailleur"]),
        when: |bike| bike.has("rear_derailleur"),
        ..PLAIN
    },
    Step {
        id: "count-links",
        area: Area::Transmission,
        does: "Lay the chain and count its links to the mark, twice",
        how: "Round the largest ring and sprocket as its maker describes; mark the link, count from both ends, enter what you counted.",
        tool: "marker",
        when: |bike| bike.has("chain"),
        reads: &[&CHAIN_LINKS],
        ..PLAIN
    },
    Step {
        id: "trim-chain",
        area: Area::Transmission,
        does: "Trim the chain",
        how: "At the mark, so that its ends suit the joining piece.",
        tool: "chain tool",
        when: |bike| bike.has("chain"),
        gate: Some(Gate {
            protects: "trimming the chain",
            asks: &[Asks::Reading(&CHAIN_LINKS)],
            after: &["count-links", "fit-rear-derailleur", "fit-cassette"],
            heeds: Heeds::Parts(&["chain", "cassette", "crankset", "rear_derailleur"]),
            ..GATE
        }),
        ..PLAIN
    },
    Step {
        id: "join-chain",
        area: Area::Transmission,
        does: "Join the chain",
        how: "Markings outward, joining piece the right way round, pulled home; look at it from both sides.",
        tool: "chain tool or link pliers",
        caution: "A joining piece or pin that its maker allows once is not used twice.",
        when: |bike| bike.has("chain"),
        reads: &[&CHAIN_WEAR],
        hides: &[Asks::Reading(&CHAIN_LINKS)],
        ..PLAIN
    },
    Step {
        id: "set-gears",
        area: Area::Transmission,
        does: "Set limits, gap and every gear",
        how: "Up and down by hand and loaded; largest ring with largest sprocket, and the smallest pair that is used: taut and clear.",
        tool: "hex keys, gauge",
        when: |bike| bike.has("rear_derailleur"),
        reads: &[&DERAILLEUR_GAP],
        ..PLAIN
    },
];
