//! The tape-and-cockpit card for the customer's file: how the hands are set, and how the tape was wound, so that it can be
//! wound the same way again.

use super::face::Face;
use super::page::{Ink, Paper};
use super::sheet::{Align, Sheet, Type};
use super::table::{Table, head, row, said};
use super::{Kind, NoSheet, Subject, begin};
use crate::words::{said as told, with_unit};
use witnessmark_core::compute::{PitchFrom, PlannedNumber, TapeSide};
use witnessmark_core::field::{Choice, Kind as Unit};
use witnessmark_core::finding::figure;
use witnessmark_core::number::{Area, Side};
use witnessmark_core::{Build, Plan};

pub(super) fn lay_out(subject: &Subject<'_>, face: &Face, paper: Paper) -> Result<Vec<u8>, NoSheet> {
    let mut sheet = begin(Kind::Cockpit, subject, face, paper);
    tape(&mut sheet, subject.build, subject.plan);
    hands(&mut sheet, subject.plan);
    sheet.signatures(&["wound and read by, on"]);
    Ok(sheet.finish()?)
}

fn tape(sheet: &mut Sheet<'_>, build: &Build, plan: &Plan) {
    let tape = &plan.worked.tape;
    sheet.heading("Tape", 60.0);
    if !tape.listed {
        sheet.paragraph("No tape is listed.", Type::BODY);
        return;
    }
    if let Some(part) = build.parts.tape.at("") {
        let mm = |given: Option<&witnessmark_core::field::Given<f64>>| {
            given.map(|given| with_unit(Unit::Length, given.value))
        };
        let facts = [
            ("which", told(part.name.as_ref()).map(str::to_owned)),
            ("colour", told(part.colour.as_ref()).map(str::to_owned)),
            ("width", mm(part.width_mm.as_ref())),
            ("roll of one side", mm(part.length_mm.as_ref())),
        ];
        let facts: Vec<(&'static str, String)> =
            facts.into_iter().filter_map(|(word, value)| value.map(|value| (word, value))).collect();
        sheet.facts(&facts);
        if let Some(direction) = told(part.direction.as_ref()) {
            sheet.paragraph(&format!("Wound: {direction}."), Type::STRONG);
        }
    }
    if let Some(passes) = tape.passes {
        sheet.paragraph(&format!("At the lever: {}.", passes.name()), Type::BODY);
    }
    for (word, side) in [("left", &tape.left), ("right", &tape.right)] {
        if let Err(missing) = side {
            sheet.paragraph(&format!("The {word} side: {missing}."), Type::BODY);
        }
    }
    super::wound_bar::both(sheet, build, plan);
    if let (Ok(left), Ok(right)) = (&tape.left, &tape.right) {
        wound(sheet, left, right);
    }
    match tape.alike() {
        Ok(true) => sheet.paragraph("Both sides are wound alike.", Type::QUIET),
        Ok(false) => sheet.paragraph("The two sides are not wound alike.", Type::STRONG.ink(Ink::Stop)),
        Err(_) => {}
    }
}

fn wound(sheet: &mut Sheet<'_>, left: &TapeSide, right: &TapeSide) {
    let mm = |value: f64| with_unit(Unit::Length, value);
    let percent = |value: f64| format!("{} %", figure(value, 0));
    let over = |turns: f64, length_mm: f64| format!("{} over {}", figure(turns, 1), mm(length_mm));
    let pair = |words: &str, of: &dyn Fn(&TapeSide) -> String| {
        row(vec![said(Type::BODY, words), said(Type::STRONG, of(left)), said(Type::STRONG, of(right))])
    };
    let rows = vec![
        pair("turns from the bar’s end to the lever", &|side| over(side.turns_to_lever, side.end_to_lever_mm)),
        pair("turns from the lever to the stop", &|side| over(side.turns_to_stop, side.lever_to_stop_mm)),
        pair("pitch: how far each turn goes along the bar", &|side| mm(side.pitch_mm)),
        pair("the pitch comes from", &|side| PitchFrom::name(&side.from).to_owned()),
        pair("overlap on a straight run", &|side| percent(side.overlap_percent)),
        pair("overlap outside of the tightest bend", &|side| percent(side.outside_percent)),
        pair("overlap inside of it", &|side| percent(side.inside_percent)),
        pair("stop, from the mount’s centre", &|side| mm(side.stop_mm)),
        pair("off the roll", &|side| format!("{} ± {}", mm(side.used_mm), figure(side.plus_minus_mm, 0))),
        pair("left of the roll", &|side| mm(side.left_mm)),
        pair("piece behind the lever", &|side| match (side.piece_mm, side.piece_from_this_roll()) {
            (None, _) => "none".to_owned(),
            (Some(piece), Some(true)) => format!("{}, from this roll", mm(piece)),
            (Some(piece), Some(false)) => format!("{}, not from this roll", mm(piece)),
            (Some(piece), None) => format!("{}, perhaps from this roll", mm(piece)),
        }),
    ];
    let table = Table::new(
        vec![head("tape", 0.0, Align::Left), head("left", 46.0, Align::Right), head("right", 46.0, Align::Right)],
        rows,
    );
    sheet.table(&table);
}

/// The numbers of the cockpit, left and right side by side, read where they were read.
fn hands(sheet: &mut Sheet<'_>, plan: &Plan) {
    let of_it: Vec<&PlannedNumber> =
        plan.numbers.each().iter().filter(|one| matches!(one.number.area, Area::Cockpit)).collect();
    let more = ["stem-length", "stem-angle", "spacers-under", "spacers-over", "steerer-cut"];
    let more = plan.numbers.each().iter().filter(|one| more.contains(&one.number.id));
    let mut rows = Vec::new();
    for one in of_it.into_iter().chain(more) {
        if one.side == Side::Right || value(one).is_none() {
            continue;
        }
        let right = plan.numbers.of(one.number, Side::Right).filter(|_| one.side == Side::Left);
        let text = |one: &PlannedNumber| value(one).unwrap_or_default();
        rows.push(row(vec![
            said(Type::BODY, one.number.name),
            said(Type::STRONG, text(one)),
            said(Type::STRONG, right.map(text).unwrap_or_default()),
            said(Type::QUIET, one.number.definition),
        ]));
    }
    let table = Table::new(
        vec![
            head("number", 44.0, Align::Left),
            head("left, or both", 24.0, Align::Right),
            head("right", 24.0, Align::Right),
            head("what it is", 0.0, Align::Left),
        ],
        rows,
    );
    if !table.rows.is_empty() {
        sheet.heading("Cockpit", sheet.begins_with(&table));
        sheet.table(&table);
        sheet.paragraph("(p): as planned, not read off the bike.", Type::SMALL);
    }
}

/// As read; as planned where it was not read, and then it says so.
fn value(one: &PlannedNumber) -> Option<String> {
    let kind = one.number.kind;
    let read = one.measured.as_ref().map(|read| with_unit(kind, read.value));
    read.or_else(|| one.planned.as_ref().ok().map(|planned| format!("{} (p)", with_unit(kind, *planned))))
}
