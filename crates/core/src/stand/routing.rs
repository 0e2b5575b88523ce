//! Hoses and wires through the frame and the front end.

use super::{Asks, PLAIN, Step};
use crate::number::{Area, STEERER_CUT, Sides};

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "draw-hose",
        area: Area::FrameAndRouting,
        sides: Sides::FrontRear,
        does: "Draw the hose through",
        how: "With its sleeve over the full length; no crossing in the head tube that binds, nothing caught under the bearing's cover.",
        tool: "string, magnet, lamp",
        when: |bike| bike.has("hose"),
        ..PLAIN
    },
    Step {
        id: "draw-wires",
        area: Area::FrameAndRouting,
        does: "Draw the wires through",
        how: "Before the bottom bracket's cover and the head tube close; a loop in hand at each end, tails away from the expander's bolt.",
        tool: "string, magnet",
        when: |bike| bike.has("wire"),
        hides: &[Asks::Fact("wire", "length")],
        ..PLAIN
    },
    Step {
        id: "close-front",
        area: Area::FrontEnd,
        does: "Close the front end",
        how: "Fork in for good, cover, spacers in their order (note which are split), stem or cockpit; photograph the hoses in the head tube.",
        tool: "hands, camera",
        compound: "grease on the bearings; friction paste on the steerer where its maker allows it",
        when: |bike| bike.has("fork"),
        hides: &[Asks::Reading(&STEERER_CUT)],
        ..PLAIN
    },
    Step {
        id: "sweep-steering",
        area: Area::FrontEnd,
        does: "Sweep the steering from stop to stop",
        how: "Wheel lifted: it falls to both sides by itself and the hoses neither pull nor bend tightly; both ends still reach.",
        tool: "hands",
        caution: "A bike that steers back by its hoses is not ridden.",
        when: |bike| bike.has("fork") && bike.has("hose"),
        ..PLAIN
    },
];
