//! What is pressed or set into the frame.

use super::gate::GATE;
use super::{Asks, Bolts, Gate, Heeds, PLAIN, Step};
use crate::number::Area;

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "fit-bottom-bracket",
        area: Area::Transmission,
        does: "Fit the bottom bracket",
        how: "Straight, in one go, to its stop; then the spindle turns by a finger without play. Note the spacers on the spindle.",
        tool: "press, or the cups' own wrench",
        bolts: Bolts::Named(&["bottom-bracket"]),
        compound: "as the makers of frame and bracket both allow",
        caution: "Each pressing can widen the bore of a frame. Left and right threads differ: read which way they run.",
        when: |bike| bike.has("bottom_bracket"),
        hides: &[Asks::Fact("frame", "shell_width"), Asks::Fact("bottom_bracket", "shell")],
        gate: Some(Gate {
            protects: "pressing the bottom bracket",
            asks: &[Asks::Fact("frame", "shell"), Asks::Fact("bottom_bracket", "shell")],
            after: &["prepare-shell"],
            heeds: Heeds::Parts(&["bottom_bracket", "crankset"]),
            ..GATE
        }),
        ..PLAIN
    },
    Step {
        id: "set-crown-race",
        area: Area::FrontEnd,
        does: "Set the crown race and the lower bearing",
        how: "The race goes on without force; what binds is a burr. Read the marking on the bearing before it disappears.",
        tool: "race setter, lamp",
        compound: "light grease",
        when: |bike| bike.has("headset") && bike.has("fork"),
        hides: &[Asks::Fact("headset", "lower_shis")],
        ..PLAIN
    },
    Step {
        id: "set-upper-bearing",
        area: Area::FrontEnd,
        does: "Set the upper bearing",
        how: "Read its marking; grease generously where hoses pass beside it.",
        tool: "fingers",
        compound: "grease",
        when: |bike| bike.has("headset"),
        hides: &[Asks::Fact("headset", "upper_shis")],
        ..PLAIN
    },
];
