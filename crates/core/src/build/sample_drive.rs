//! The part of the sound sample that the chain and the shift wires depend on, invented.

use crate::field::{Given, Leaf, Value};

/// The facts: a cage of ordinary wheels, a chain, the chain line, and the wires from both levers by a junction at the stem
/// and one at the shell to the battery and both derailleurs.
pub(super) fn facts() -> Vec<(String, Leaf)> {
    let mut all: Vec<(String, Leaf)> = Vec::new();
    all.extend(FIGURES.iter().map(|(path, value)| put(path, Value::Number(*value))));
    all.extend(COUNTS.iter().map(|(path, count)| put(path, Value::Count(*count))));
    all.extend(WORDS.iter().map(|(path, word)| put(path, Value::Text((*word).into()))));
    for unit in PLUGGED {
        all.push(put(&format!("parts.{unit}.end_kind"), Value::Text("small plug".into())));
    }
    for (name, one, other, length_mm) in WIRES {
        let mut fact = |key: &str, value: Value| all.push(put(&format!("parts.wire.{name}.{key}"), value));
        fact("mass", Value::Number(length_mm / 100.0));
        fact("length", Value::Number(*length_mm));
        fact("lengths_made", Value::Numbers((3..=20).map(|step| f64::from(step) * 50.0).collect()));
        fact("end_kind", Value::Text("small plug".into()));
        fact("one_end", Value::Text((*one).into()));
        fact("other_end", Value::Text((*other).into()));
    }
    for junction in ["stem", "shell"] {
        all.push(put(&format!("parts.junction.{junction}.inside_battery"), Value::YesNo(true)));
        all.push(put(&format!("parts.junction.{junction}.charging"), Value::YesNo(junction == "stem")));
    }
    all
}

fn put(path: &str, value: Value) -> (String, Leaf) {
    let list = |values: &[f64]| values.iter().map(f64::to_string).collect::<Vec<_>>().join("; ");
    let typed = match &value {
        Value::Number(number) => number.to_string(),
        Value::Count(count) => count.to_string(),
        Value::Numbers(numbers) => list(numbers),
        Value::Text(text) => text.clone(),
        Value::YesNo(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        Value::Counts(_) | Value::Day(_) => String::new(),
    };
    (path.to_owned(), Given { value, typed, origin: None })
}

/// Each wire: name, its two units, length in mm.
const WIRES: &[(&str, &str, &str, f64)] = &[
    ("lever-left", "left lever", "junction stem", 450.0),
    ("lever-right", "right lever", "junction stem", 450.0),
    ("main", "junction stem", "junction shell", 1000.0),
    ("battery", "junction shell", "battery", 750.0),
    ("front", "junction shell", "front derailleur", 300.0),
    ("rear", "junction shell", "rear derailleur", 700.0),
];

/// The units whose ports take the wires' ends.
const PLUGGED: &[&str] =
    &["lever.left", "lever.right", "junction.stem", "junction.shell", "battery", "front_derailleur", "rear_derailleur"];

const FIGURES: &[(&str, f64)] = &[
    ("parts.crankset.ring_spacing", 7.5),
    ("parts.crankset.ring_thickness", 2.0),
    ("parts.cassette.chain_line", 43.5),
    ("parts.chain.height", 8.6),
    ("parts.frame.stay_face", 36.0),
    ("parts.frame.stay_face_inner_ring", 33.0),
    ("parts.rear_derailleur.pivot_to_upper", 0.0),
    ("parts.rear_derailleur.pivot_to_lower", 62.0),
    ("parts.rear_derailleur.cage_forward", -15.0),
    ("parts.rear_derailleur.cage_rear", -178.0),
    ("parts.rear_derailleur.pivot_behind_smallest", -14.0),
    ("parts.rear_derailleur.pivot_below_smallest", 70.0),
    ("parts.rear_derailleur.pivot_behind_largest", -18.0),
    ("parts.rear_derailleur.pivot_below_largest", 94.0),
    ("parts.rear_derailleur.wheel_gap", 6.0),
    ("parts.front_derailleur.height_over_teeth", 1.5),
    ("parts.front_derailleur.nose_out", 0.0),
    ("parts.junction.stem.mass", 9.0),
    ("parts.junction.shell.mass", 4.0),
];

const COUNTS: &[(&str, u32)] = &[
    ("parts.chain.links", 116),
    ("parts.rear_derailleur.upper_wheel", 11),
    ("parts.rear_derailleur.lower_wheel", 11),
    ("parts.lever.left.ports", 1),
    ("parts.lever.right.ports", 1),
    ("parts.junction.stem.ports", 3),
    ("parts.junction.shell.ports", 4),
    ("parts.battery.ports", 1),
    ("parts.front_derailleur.ports", 1),
    ("parts.rear_derailleur.ports", 1),
    ("settings.inner_ring_from_sprocket", 12),
];

const WORDS: &[(&str, &str)] = &[
    ("parts.junction.stem.stands", "stem"),
    ("parts.junction.shell.stands", "bottom-bracket shell"),
    ("parts.battery.stands", "down tube"),
];
