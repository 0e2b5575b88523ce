//! Wires plugged and proved, before the frame is closed.

use super::{Asks, PLAIN, Step};
use crate::number::Area;

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "plug-wires",
        area: Area::FrameAndRouting,
        does: "Plug every wire where the plan says",
        how: "Until it clicks, with the plug tool; blank plugs in the spare ports. Note both ends of each.",
        tool: "plug tool",
        when: |bike| bike.has("wire"),
        hides: &[Asks::Fact("wire", "one_end"), Asks::Fact("wire", "other_end")],
        ..PLAIN
    },
    Step {
        id: "prove-shifting",
        area: Area::Transmission,
        does: "Prove the shifting before anything is closed",
        how: "Every unit answers, battery charged, no fault shown; then close the ports, the shell and the post.",
        tool: "charger",
        when: |bike| bike.has("battery") || bike.has("radio_unit"),
        ..PLAIN
    },
    Step {
        id: "pair-units",
        area: Area::Transmission,
        does: "Make the wireless units know each other",
        how: "Levers, derailleurs and the display, as their maker describes; which button does what, as the rider wants it.",
        tool: "as the maker says",
        when: |bike| bike.has("radio_unit"),
        ..PLAIN
    },
];
