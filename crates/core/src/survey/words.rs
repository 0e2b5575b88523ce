//! Readings and points as a mechanic says them.

use crate::build::{SurveyLine, SurveyPoint, Taken};
use crate::field::Choice;
use crate::finding::figure;
use crate::number::{Number, Side};

/// A point with its article left away: "saddle nose".
pub(super) fn point(point: SurveyPoint) -> &'static str {
    match point {
        SurveyPoint::BottomBracket => "bottom bracket",
        other => NAMES[other as usize],
    }
}

const NAMES: &[&str] = SurveyPoint::NAMES;

/// What a reading is: "saddle nose to bar clamp".
pub(super) fn reading(what: Taken, from: SurveyPoint, to: SurveyPoint, line: Option<SurveyLine>) -> String {
    let (from, to) = (point(from), point(to));
    let line = line.map_or("", |line| line.name());
    match what {
        Taken::Straight => format!("tape from {from} to {to}"),
        Taken::Across => format!("width from {from} to {to}"),
        Taken::Height => format!("height of the {to} over the floor"),
        Taken::Ahead => format!("level distance from {from} to {to}"),
        Taken::Above => format!("difference in height from {from} to {to}"),
        Taken::Slope => format!("slope from {from} to {to}"),
        Taken::Off => format!("{to} square to the {line}"),
        Taken::Along => format!("from {from} to {to} along the {line}"),
        Taken::SaddleTilt => "tilt of the saddle".to_owned(),
        Taken::FloorSlope => "slope of the floor".to_owned(),
    }
}

/// A number as a sentence names it: "left hood (forward of the bottom bracket)".
pub(crate) fn spoken(number: &Number, side: Side) -> String {
    let name = match number.name.split_once(", ") {
        Some((thing, which)) => format!("{thing} ({which})"),
        None => number.name.to_owned(),
    };
    if side == Side::None { name } else { format!("{} {name}", side.word()) }
}

/// A value as it is read off: "563 mm", "73.4°".
pub(super) fn value(is_angle: bool, value: f64) -> String {
    if is_angle { format!("{}°", figure(value, 1)) } else { format!("{} mm", figure(value, 1)) }
}
