//! Bar tape: the last look at the bare bar, then the wrapping.

use super::gate::GATE;
use super::{Asks, Bolts, Gate, Heeds, PLAIN, Step};
use crate::number::{Area, BAR_ROLL, HOOD_GAP, HOOD_TOE_IN, LEVER_FROM_END, LEVER_REACH, Sides, TAPE_STOP, TAPE_TURNS};

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "last-look",
        area: Area::Cockpit,
        does: "Look at the bare bar for the last time",
        how: "Lever bolts drawn, marked and photographed; hoses and wires in their grooves and taped down; brakes hold and shifting answers.",
        tool: "camera, thin tape",
        when: |bike| bike.has("tape"),
        hides: &[
            Asks::Reading(&LEVER_FROM_END),
            Asks::Reading(&HOOD_TOE_IN),
            Asks::Reading(&HOOD_GAP),
            Asks::Reading(&BAR_ROLL),
        ],
        ..PLAIN
    },
    Step {
        id: "wrap-tape",
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        does: "Wrap the tape from the end to the lever, and count the turns",
        how: "Firm and even, overlap as planned, more on the outside of the bend; the other side mirrors it.",
        tool: "hands",
        when: |bike| bike.has("tape"),
        reads: &[&TAPE_TURNS],
        hides: &[Asks::Reading(&LEVER_FROM_END), Asks::Reading(&LEVER_REACH)],
        ..PLAIN
    },
    Step {
        id: "cut-tape",
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        does: "Cut the tape and finish it",
        how: "At the planned distance from the mount's centre, both sides within 1 mm; bevel along the stem's face; thin tape over its edge.",
        tool: "scissors, rule",
        caution: "Cut off the bar, never with a blade on it.",
        when: |bike| bike.has("tape"),
        reads: &[&TAPE_STOP],
        gate: Some(Gate {
            protects: "cutting the tape",
            asks: &[Asks::Reading(&LEVER_FROM_END), Asks::Reading(&HOOD_GAP), Asks::Reading(&TAPE_TURNS)],
            after: &["last-look", "wrap-tape", "bleed"],
            heeds: Heeds::Parts(&["bar", "cockpit", "lever", "tape"]),
            ..GATE
        }),
        ..PLAIN
    },
    Step {
        id: "plug-bar",
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        does: "Close the bar's end",
        how: "The plug holds the tucked tape and cannot be pulled out by hand.",
        tool: "hands",
        bolts: Bolts::Named(&["end-plug"]),
        caution: "An open bar end cuts like a punch in a fall, and no race lets it start.",
        when: |bike| bike.has("end_plug") || bike.has("tape"),
        ..PLAIN
    },
];
