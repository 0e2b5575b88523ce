//! Post and saddle, as they will stay.

use super::{Asks, Bolts, PLAIN, Step};
use crate::number::{Area, POST_EXTENSION, POST_INSERTION, RAIL_POSITION, SADDLE_TILT};

pub(super) static STEPS: &[Step] = &[
    Step {
        id: "set-post",
        area: Area::Saddle,
        does: "Set the post at its height",
        how: "Height first, then the clamp in two passes; then your weight on it: nothing moves.",
        tool: "rule, torque wrench",
        bolts: Bolts::Named(&["seat-clamp"]),
        compound: "friction paste on carbon; never grease there",
        when: |bike| bike.has("post"),
        reads: &[&POST_EXTENSION],
        hides: &[Asks::Reading(&POST_INSERTION)],
        ..PLAIN
    },
    Step {
        id: "set-saddle",
        area: Area::Saddle,
        does: "Set the saddle: rails, then tilt",
        how: "Rails inside their marks; a straightedge on its two highest points; bolts by turns.",
        tool: "digital level, rule, torque wrench",
        bolts: Bolts::Named(&["rail-clamp"]),
        caution: "Carbon rails: the clamp's own cradles for their shape, and no more than their maker's torque.",
        when: |bike| bike.has("saddle"),
        reads: &[&RAIL_POSITION, &SADDLE_TILT],
        ..PLAIN
    },
];
