//! The part of the sound sample that the finish depends on, invented: bolts, wrenches, tape, scale, pressures.

use crate::field::{Given, Leaf, Value};
use jiff::civil::date;

/// The facts.
pub(super) fn facts() -> Vec<(String, Leaf)> {
    let mut all: Vec<(String, Leaf)> = Vec::new();
    for (path, value) in FIGURES {
        all.push(number(path, *value));
    }
    for (path, word) in WORDS {
        all.push(text(path, word));
    }
    for (path, count) in COUNTS {
        all.push(((*path).to_owned(), leaf(Value::Count(*count), count.to_string())));
    }
    for (id, applied, screw) in BOLTS {
        let at = |key: &str| format!("fasteners.{id}.{key}");
        all.push(text(&at("state"), "closed"));
        all.push(number(&at("applied"), *applied));
        all.push(text(
            &at("wrench"),
            if *applied > 20.0 {
                "large"
            } else if *applied < 2.0 {
                "fine"
            } else {
                "small"
            },
        ));
        all.push(text(&at("by"), "the sample's mechanic"));
        all.push((at("on"), leaf(Value::Day(date(2027, 3, 10)), "2027-03-10".into())));
        all.push((at("witness"), leaf(Value::YesNo(true), "yes".into())));
        if let Some((thread, strength, compound)) = screw {
            all.push(text(&at("thread"), thread));
            all.push(text(&at("strength"), strength));
            all.push(text(&at("compound"), compound));
        }
    }
    for (name, low, high) in [("fine", 0.3, 5.0), ("small", 2.0, 20.0), ("large", 20.0, 80.0)] {
        let at = |key: &str| format!("wrenches.{name}.{key}");
        all.push(number(&at("low"), low));
        all.push(number(&at("high"), high));
        all.push(number(&at("plus_minus"), 4.0));
        all.push((at("calibrated_on"), leaf(Value::Day(date(2027, 1, 15)), "2027-01-15".into())));
        all.push((at("good_for_days"), leaf(Value::Count(365), "365".into())));
    }
    all
}

fn leaf(value: Value, typed: String) -> Leaf {
    Given { value, typed, origin: None }
}

fn number(path: &str, value: f64) -> (String, Leaf) {
    (path.to_owned(), leaf(Value::Number(value), value.to_string()))
}

fn text(path: &str, word: &str) -> (String, Leaf) {
    (path.to_owned(), leaf(Value::Text(word.to_owned()), word.to_owned()))
}

const FIGURES: &[(&str, f64)] = &[
    ("parts.headset.top_cap_torque", 1.5),
    ("parts.crankset.ring_torque", 12.0),
    ("parts.frame.hanger_torque", 3.0),
    ("parts.hose.front.fitting_torque", 5.0),
    ("parts.hose.rear.fitting_torque", 5.0),
    ("parts.tape.thickness", 2.5),
    ("parts.tape.stretch", 6.0),
    ("settings.tape_turns_left", 9.0),
    ("settings.tape_turns_right", 9.0),
    ("settings.tape_stop_left", 60.0),
    ("settings.tape_stop_right", 60.0),
];

const WORDS: &[(&str, &str)] = &[("settings.tape_at_lever", "piece behind the lever")];

const COUNTS: &[(&str, u32)] = &[
    ("parts.stem.steerer_bolts", 2),
    ("parts.stem.bar_bolts", 4),
    ("parts.crankset.arm_bolts", 2),
    ("parts.crankset.ring_bolts", 4),
];

/// Thread, strength class and compound.
type Screw = (&'static str, &'static str, &'static str);

/// Each bolt's id, the torque applied, and what screw it is where it is one with a head.
const BOLTS: &[(&str, f64, Option<Screw>)] = &[
    ("expander", 7.0, Some(("M6 x 1", "12.9", "grease"))),
    ("top-cap", 1.5, Some(("M6 x 1", "10.9", "grease"))),
    ("stem-steerer", 5.0, Some(("M5 x 0.8", "12.9", "grease"))),
    ("stem-face-plate", 5.0, Some(("M5 x 0.8", "12.9", "grease"))),
    ("lever-left", 6.0, Some(("M6 x 1", "10.9", "grease"))),
    ("lever-right", 6.0, Some(("M6 x 1", "10.9", "grease"))),
    ("computer-mount", 1.5, Some(("M4 x 0.7", "A2-70", "grease"))),
    ("seat-clamp", 5.5, Some(("M6 x 1", "10.9", "grease"))),
    ("rail-clamp", 8.0, Some(("M6 x 1", "12.9", "grease"))),
    ("bottom-bracket", 40.0, None),
    ("crank-arm", 13.0, Some(("M6 x 1", "12.9", "dry"))),
    ("ring-bolts", 12.0, Some(("M8 x 0.75", "10.9", "thread lock, medium"))),
    ("pedal-left", 36.0, None),
    ("pedal-right", 36.0, None),
    ("front-derailleur", 6.0, Some(("M6 x 1", "10.9", "grease"))),
    ("hanger", 3.0, Some(("M5 x 0.8", "10.9", "thread lock, medium"))),
    ("rear-derailleur", 10.0, None),
    ("cassette", 40.0, None),
    ("rotor-front", 40.0, None),
    ("caliper-front", 6.5, Some(("M5 x 0.8", "12.9", "thread lock, medium"))),
    ("hose-front", 5.0, None),
    ("axle-front", 12.0, None),
    ("rotor-rear", 40.0, None),
    ("caliper-rear", 6.5, Some(("M5 x 0.8", "12.9", "thread lock, medium"))),
    ("hose-rear", 5.0, None),
    ("axle-rear", 12.0, None),
    ("cage-down-tube", 2.0, Some(("M5 x 0.8", "A2-70", "grease"))),
    ("cage-seat-tube", 2.0, Some(("M5 x 0.8", "A2-70", "grease"))),
];
