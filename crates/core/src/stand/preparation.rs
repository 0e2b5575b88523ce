//! Frame and fork, bare.

use super::{Asks, Bolts, PLAIN, Step};
use crate::number::{Area, Sides};

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "weigh-bare",
        area: Area::FrameAndRouting,
        does: "Weigh frame and fork, bare",
        how: "Each by itself; write down which small parts were on it. The fork before its steerer is cut.",
        tool: "scale",
        when: |bike| bike.has("frame"),
        ..PLAIN
    },
    Step {
        id: "prepare-shell",
        area: Area::Transmission,
        does: "Prepare the bottom-bracket shell",
        how: "Clean it; measure its width, and a bore in three directions at two depths; look that both faces are square.",
        tool: "caliper, bore gauge; thread chaser where it has threads",
        caution: "A bore wider than its cups is refused and not glued up: ask the frame's maker.",
        when: |bike| bike.has("frame") && bike.has("bottom_bracket"),
        ..PLAIN
    },
    Step {
        id: "prepare-head-tube",
        area: Area::FrontEnd,
        does: "Prepare the head tube",
        how: "Seats clean and round; each bearing drops in by hand, sits all round and does not rock.",
        tool: "cloth, feeler gauge",
        when: |bike| bike.has("frame") && bike.has("headset"),
        ..PLAIN
    },
    Step {
        id: "look-at-steerer",
        area: Area::FrontEnd,
        does: "Look the fork and its steerer over",
        how: "Straight, smooth, no mark; diameter at the stem and at the crown; the bore clean where the expander grips.",
        tool: "caliper, lamp",
        caution: "A score, a soft place or a mark of a crash on a carbon steerer: do not fit the fork; ask its maker or a specialist.",
        when: |bike| bike.has("fork"),
        ..PLAIN
    },
    Step {
        id: "prepare-mounts",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Prepare the brake mount",
        how: "No paint on the faces, threads clean, faces square to the axle.",
        tool: "facing tool where the faces are not square",
        when: |bike| bike.has("caliper"),
        ..PLAIN
    },
    Step {
        id: "run-axle",
        area: Area::WheelsAndBrakes,
        sides: Sides::FrontRear,
        does: "Run the axle in by hand",
        how: "By the fingers to its full depth, and count the turns; faces clean.",
        tool: "fingers",
        compound: "grease on the thread",
        when: |bike| bike.end().is_some_and(|end| end.axle.part.is_some()),
        ..PLAIN
    },
    Step {
        id: "align-hanger",
        area: Area::Transmission,
        does: "Fit and align the hanger",
        how: "New hangers and new frames are found bent as well. Gauge at the rim in four places; bring it within 2 mm.",
        tool: "hanger gauge",
        bolts: Bolts::Named(&["hanger"]),
        when: |bike| bike.has("rear_derailleur"),
        ..PLAIN
    },
    Step {
        id: "feel-seat-tube",
        area: Area::Saddle,
        does: "Feel how deep the seat tube is free",
        how: "Clean, no burr; the post slides. A rod down to the first obstacle, the battery in its place.",
        tool: "rod and rule",
        when: |bike| bike.has("frame") && bike.has("post"),
        hides: &[Asks::Fact("frame", "post_depth_max")],
        ..PLAIN
    },
    Step {
        id: "prepare-ports",
        area: Area::FrameAndRouting,
        does: "Prepare the ports, and draw strings in",
        how: "No burr, grommets fit, guide tubes whole; one string for each hose and wire.",
        tool: "deburring tool, string",
        when: |bike| bike.has("hose") || bike.has("wire"),
        ..PLAIN
    },
    Step {
        id: "protect-paint",
        area: Area::Finish,
        does: "Put film where things rub",
        how: "Chainstay, down tube, and the head tube where hoses touch.",
        tool: "film, cloth",
        when: |bike| bike.has("frame"),
        ..PLAIN
    },
];
