//! The finished bike measured, then weighed.

use super::{Asks, PLAIN, Step};
use crate::number::{
    Area, BAR_X, BAR_Y, HOOD_X, HOOD_Y, MASS, SADDLE_BAR_DROP, SADDLE_HEIGHT, SADDLE_SETBACK, SADDLE_TILT,
    SADDLE_TO_HOOD, WHEELBASE,
};

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "level-bike",
        does: "Stand the bike upright and level",
        how: "Tyres at pressure; both axles at the height that the plan has; the digital level zeroed on that line.",
        tool: "stand, digital level",
        ..PLAIN
    },
    Step {
        id: "read-saddle",
        area: Area::Saddle,
        does: "Read the saddle",
        how: "Tilt first, then height, then setback.",
        tool: "steel rule, plumb line, digital level",
        when: |bike| bike.has("saddle"),
        reads: &[&SADDLE_TILT, &SADDLE_HEIGHT, &SADDLE_SETBACK],
        ..PLAIN
    },
    Step {
        id: "read-cockpit",
        area: Area::Cockpit,
        does: "Read bar and hoods",
        how: "From the bottom bracket, left then right; what you read, not what you remember.",
        tool: "plumb line, height gauge",
        when: |bike| bike.has("lever"),
        reads: &[&BAR_X, &BAR_Y, &HOOD_X, &HOOD_Y],
        ..PLAIN
    },
    Step {
        id: "read-across",
        area: Area::FrameAndRouting,
        does: "Cross-check with the tape",
        how: "Straight distances that the other readings must agree with.",
        tool: "steel tape",
        reads: &[&SADDLE_TO_HOOD, &SADDLE_BAR_DROP, &WHEELBASE],
        ..PLAIN
    },
    Step {
        id: "photograph",
        does: "Photograph the bike",
        how: "Drive side square on, bike level, from the same place as always; cockpit from the rider's eye; each label and mark.",
        tool: "camera",
        ..PLAIN
    },
];

pub(super) static WEIGHING: &[Step] = &[Step {
    id: "weigh",
    does: "Weigh the bike",
    how: "With and without what the mass is told with; write down what was on it.",
    tool: "scale",
    reads: &[&MASS],
    hides: &[Asks::Reading(&SADDLE_HEIGHT)],
    ..PLAIN
}];
