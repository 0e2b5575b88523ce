//! Bar, levers, computer, as they will stay.

use super::{Asks, Bolts, PLAIN, Step};
use crate::number::{
    Area, BAR_ROLL, BAR_WIDTH, COMPUTER_OFFSET, HOOD_GAP, HOOD_TOE_IN, LEVER_FROM_END, STEM_ANGLE, STEM_LENGTH, Sides,
};

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "preload-headset",
        area: Area::FrontEnd,
        does: "Preload the headset, then clamp the steerer",
        how: "Cap until the play is gone and it turns freely; then the clamp's bolts by turns, in three or four passes.",
        tool: "torque wrench",
        bolts: Bolts::Named(&["top-cap", "stem-steerer"]),
        compound: "as the makers of stem and fork both allow",
        caution: "The cap sets the bearings and holds nothing: the clamp does.",
        when: |bike| bike.has("fork") && (bike.has("stem") || bike.has("cockpit")),
        ..PLAIN
    },
    Step {
        id: "set-bar",
        area: Area::Cockpit,
        does: "Set the bar in the stem",
        how: "Centred to its marks, rolled as planned; then the bolts crosswise, gaps alike, unless the stem closes one side first.",
        tool: "digital level, torque wrench",
        bolts: Bolts::Named(&["stem-face-plate"]),
        compound: "friction paste on carbon",
        caution: "A cracking noise while tightening carbon: stop, take it off, look.",
        when: |bike| bike.has("stem") && bike.has("bar"),
        reads: &[&STEM_LENGTH, &STEM_ANGLE, &BAR_ROLL, &BAR_WIDTH],
        ..PLAIN
    },
    Step {
        id: "set-lever",
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        does: "Set the lever",
        how: "No tape, no plug; steel rule along the underside from the bar's end to the hood; both sides alike within 1 mm; then its toe-in.",
        tool: "steel rule, torque wrench",
        bolts: Bolts::Named(&["lever"]),
        when: |bike| bike.has("lever"),
        reads: &[&LEVER_FROM_END, &HOOD_TOE_IN],
        ..PLAIN
    },
    Step {
        id: "check-gap",
        area: Area::Cockpit,
        does: "Measure across the hoods",
        how: "Inside to inside, at the narrowest place; it catches a lever that slipped while its bolt was drawn.",
        tool: "caliper or rule",
        when: |bike| bike.has("lever"),
        reads: &[&HOOD_GAP],
        ..PLAIN
    },
    Step {
        id: "fit-mount",
        area: Area::Cockpit,
        does: "Fit the computer's mount",
        how: "Level with the road; the computer clear of hoses and hands.",
        tool: "torque wrench, rule",
        bolts: Bolts::Named(&["computer-mount"]),
        when: |bike| bike.has("computer_mount"),
        reads: &[&COMPUTER_OFFSET],
        hides: &[Asks::Reading(&BAR_WIDTH)],
        ..PLAIN
    },
];
