//! Fork, steerer, post and cockpit together without cutting; then the cut.

use super::gate::GATE;
use super::{Asks, Bike, Bolts, Gate, Heeds, PLAIN, Step};
use crate::number::{
    Area, BAR_ROLL, HOOD_X, HOOD_Y, LEVER_FROM_END, POST_EXTENSION, POST_INSERTION, SADDLE_HEIGHT, SPACERS_OVER,
    SPACERS_UNDER, STEERER_BELOW, STEERER_CUT, Sides,
};

fn has_cockpit(bike: &Bike<'_>) -> bool {
    bike.has("cockpit") || bike.has("stem") && bike.has("bar")
}

/// The ends of its bar are to be cut.
fn is_cut(bike: &Bike<'_>) -> bool {
    bike.model.build.settings.bar_cut_mm.as_ref().is_some_and(|cut| cut.value > 0.0)
}

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "stack-dry",
        area: Area::FrontEnd,
        does: "Stack the front end dry",
        how: "Fork, bearings, cover, spacers under and over, stem or cockpit lightly clamped; the steerer uncut, with spacers to its end.",
        tool: "hands, caliper",
        caution: "Never clamp a carbon steerer hard where the expander does not stand behind it.",
        when: |bike| bike.has("fork") && has_cockpit(bike),
        reads: &[&SPACERS_UNDER, &SPACERS_OVER],
        ..PLAIN
    },
    Step {
        id: "saddle-dry",
        area: Area::Saddle,
        does: "Set post and saddle to the planned height",
        how: "Rails in the middle third of the clamp; the post inside at least to its mark and the frame's, with the battery in.",
        tool: "rule",
        caution: "Less inside than either mark asks for, and the post or the frame can break.",
        when: |bike| bike.has("post") && bike.has("saddle"),
        reads: &[&POST_EXTENSION, &POST_INSERTION, &SADDLE_HEIGHT],
        ..PLAIN
    },
    Step {
        id: "mark-bar",
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        does: "Mark the bar's end for the saw",
        how: "Square round the tube, both ends alike; a second person reads the mark. From here on the mark is the bar's end.",
        tool: "steel rule, masking tape",
        when: |bike| has_cockpit(bike) && is_cut(bike),
        ..PLAIN
    },
    Step {
        id: "levers-dry",
        area: Area::Cockpit,
        does: "Put the levers at their place, both sides alike",
        how: "Bare bar. Along the underside from the bar's end, or the saw's mark; then across; then the hoods from the bottom bracket, bike level.",
        tool: "steel rule, plumb line, digital level",
        when: |bike| bike.has("lever") && has_cockpit(bike),
        reads: &[&BAR_ROLL, &LEVER_FROM_END, &HOOD_X, &HOOD_Y],
        ..PLAIN
    },
    Step {
        id: "cranks-dry",
        area: Area::Transmission,
        does: "Turn the cranks through and look",
        how: "Ring against the stay, meter and pedal against the frame, the heel against the stay.",
        tool: "eyes, feeler gauge",
        when: |bike| bike.has("crankset") && bike.has("frame"),
        ..PLAIN
    },
    Step {
        id: "approve-dry",
        area: Area::Cockpit,
        does: "Let the rider approve the dry bike",
        how: "The rider sits on it, or the fitter signs the readings. Nothing is cut before.",
        tool: "the bench sheet",
        when: |bike| bike.has("fork"),
        ..PLAIN
    },
    Step {
        id: "mark-steerer",
        area: Area::FrontEnd,
        does: "Mark the steerer for the saw",
        how: "Measure the dry stack over all, less the set-down, and enter what you read; a second person reads the mark.",
        tool: "steel rule, masking tape",
        when: |bike| bike.has("fork") && has_cockpit(bike),
        reads: &[&STEERER_CUT],
        ..PLAIN
    },
    Step {
        id: "cut-steerer",
        area: Area::FrontEnd,
        does: "Cut the steerer",
        how: "Fine blade in a guide, square within half a millimetre; dress and seal the edge as its maker asks. Keep the off-cut, labelled.",
        tool: "saw guide, fine blade",
        caution: "Carbon dust: wet, extraction and a mask. Too short cannot be mended: cut long with spacers above where the rider may still change.",
        when: |bike| bike.has("fork") && has_cockpit(bike),
        gate: Some(Gate {
            protects: "cutting the steerer",
            asks: &[
                Asks::Reading(&STEERER_CUT),
                Asks::Reading(&SPACERS_UNDER),
                Asks::Reading(&SPACERS_OVER),
                Asks::Reading(&HOOD_X),
                Asks::Reading(&HOOD_Y),
            ],
            after: &["approve-dry", "mark-steerer"],
            heeds: Heeds::Parts(&["fork", "headset", "stem", "cockpit", "spacer"]),
            ..GATE
        }),
        ..PLAIN
    },
    Step {
        id: "cut-post",
        area: Area::Saddle,
        does: "Cut the post",
        how: "Only what the plan names, and only where its maker allows it; the marks for least insertion stay on it.",
        tool: "saw guide, fine blade",
        caution: "Carbon dust: wet, extraction and a mask.",
        when: |bike| {
            bike.has("post") && bike.model.build.settings.post_cut_mm.as_ref().is_some_and(|cut| cut.value > 0.0)
        },
        gate: Some(Gate {
            protects: "cutting the post",
            asks: &[Asks::Reading(&POST_EXTENSION), Asks::Reading(&SADDLE_HEIGHT)],
            after: &["approve-dry", "saddle-dry"],
            heeds: Heeds::Parts(&["post", "saddle"]),
            ..GATE
        }),
        ..PLAIN
    },
    Step {
        id: "cut-bar",
        area: Area::Cockpit,
        sides: Sides::LeftRight,
        does: "Cut the bar's end",
        how: "Levers off; fine blade in a guide, on the waste side of the mark; dress the edge inside and out, seal carbon. Keep the off-cut, labelled.",
        tool: "saw guide, fine blade",
        caution: "Carbon dust: wet, extraction and a mask. Both ends alike, or the bar is scrap.",
        when: |bike| has_cockpit(bike) && is_cut(bike),
        hides: &[Asks::Fact("bar", "end_length"), Asks::Fact("cockpit", "end_length")],
        gate: Some(Gate {
            protects: "cutting the bar's end",
            asks: &[Asks::Reading(&LEVER_FROM_END), Asks::Reading(&HOOD_X), Asks::Reading(&HOOD_Y)],
            after: &["approve-dry", "mark-bar", "levers-dry"],
            heeds: Heeds::Parts(&["bar", "cockpit", "end_plug"]),
            knows: true,
            ..GATE
        }),
        ..PLAIN
    },
    Step {
        id: "set-expander",
        area: Area::FrontEnd,
        does: "Set the expander",
        how: "At the depth at which it stands behind the whole clamp; then the top of the steerer below the top of the stack, through the cap's hole.",
        tool: "depth gauge, torque wrench",
        bolts: Bolts::Named(&["expander"]),
        caution: "A steerer that stands as high as the stack takes the cap's pull itself, and the bearings stay loose.",
        when: |bike| bike.has("fork") && has_cockpit(bike),
        reads: &[&STEERER_BELOW],
        hides: &[Asks::Reading(&STEERER_CUT)],
        ..PLAIN
    },
];
