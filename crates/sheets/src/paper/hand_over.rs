//! The hand-over sheet: what the bike is, how it is set, what to watch, when it is seen again, and who signed.

use super::face::Face;
use super::page::{Ink, Paper};
use super::sheet::{Align, Sheet, Type};
use super::table::{Cell, Table, head, row, said};
use super::{Kind, NoSheet, Subject, begin, photos};
use crate::listed::together;
use crate::words::{capital, count, with_unit};
use witnessmark_core::compute::PlannedNumber;
use witnessmark_core::field::{Choice, Kind as Unit};
use witnessmark_core::finding::{Finding, Severity, figure};
use witnessmark_core::service::service;
use witnessmark_core::{Build, Plan};

pub(super) fn lay_out(subject: &Subject<'_>, face: &Face, paper: Paper) -> Result<Vec<u8>, NoSheet> {
    let (build, plan) = (subject.build, subject.plan);
    let mut sheet = begin(Kind::HandOver, subject, face, paper);
    released(&mut sheet, plan);
    how_it_is_set(&mut sheet, plan);
    cautions(&mut sheet, build, plan);
    first_round(&mut sheet, build, plan);
    what_it_is(&mut sheet, build);
    services(&mut sheet, build);
    photos::stand_on(&mut sheet, subject, Kind::HandOver);
    sheet.heading("Handed over", 30.0);
    sheet.paragraph("I have been shown how it is set, what to watch, and when it is to be seen again.", Type::BODY);
    sheet.signatures(&["for the workshop, on", "the customer, on"]);
    Ok(sheet.finish()?)
}

/// A bike with a stop or an open bolt is not handed over: the sheet says so before anything else.
fn released(sheet: &mut Sheet<'_>, plan: &Plan) {
    let mut holds: Vec<String> = plan
        .findings
        .iter()
        .filter(|finding| finding.severity == Severity::Stop)
        .map(|finding| finding.what.clone())
        .collect();
    holds.extend(plan.worked.fasteners.open().map(|bolt| format!("Open: {}.", bolt.name)));
    if !holds.is_empty() {
        let mut lines = vec![(Type::STRONG.ink(Ink::Stop), "Not to be handed over yet".to_owned())];
        lines.extend(holds.into_iter().map(|hold| (Type::BODY, hold)));
        sheet.callout(Ink::Stop, Ink::StopWash, &lines);
    }
}

/// The numbers a rider asks for again: after a flight, on a second bike.
const SET: &[&str] = &[
    "saddle-height",
    "saddle-setback",
    "saddle-tilt",
    "saddle-to-hood",
    "saddle-hood-drop",
    "saddle-bar-drop",
    "bar-width",
    "bar-roll",
    "hood-gap",
    "hood-toe-in",
    "lever-from-end",
    "lever-reach",
    "spacers-under",
    "stem-length",
    "steerer-cut",
    "post-extension",
    "post-insertion",
    "crank-length",
    "chain-links",
    "tyre-width",
    "tyre-pressure",
    "mass",
];

fn how_it_is_set(sheet: &mut Sheet<'_>, plan: &Plan) {
    let mut cells: Vec<(String, String)> = Vec::new();
    for id in SET {
        for one in plan.numbers.each().iter().filter(|one| one.number.id == *id) {
            if let Some(value) = value(one) {
                let name = format!("{} {}", one.number.name, one.side.word());
                cells.push((name.trim_end().to_owned(), value));
            }
        }
    }
    if cells.is_empty() {
        return;
    }
    // Two numbers a row, read down the left half first.
    let half = cells.len().div_ceil(2);
    let rows = (0..half).map(|index| {
        let (name, value) = &cells[index];
        let (other, other_value) = cells.get(half + index).cloned().unwrap_or_default();
        row(vec![
            said(Type::BODY, name),
            said(Type::STRONG, value.replace(' ', "\u{a0}")),
            Cell::Empty,
            said(Type::BODY, other),
            said(Type::STRONG, other_value.replace(' ', "\u{a0}")),
        ])
    });
    let column = sheet.width() / 2.0 - 40.0;
    let table = Table::new(
        vec![
            head("number", column, Align::Left),
            head("", 32.0, Align::Right),
            head("", 3.0, Align::Left),
            head("number", 0.0, Align::Left),
            head("", 34.0, Align::Right),
        ],
        rows.collect(),
    );
    sheet.heading("How it is set", sheet.begins_with(&table));
    sheet.table(&table);
    sheet.paragraph("As read off the finished bike; (p): as planned, not read.", Type::SMALL);
}

/// As read, or as planned; a pressure also as it stands on a pump.
fn value(one: &PlannedNumber) -> Option<String> {
    let kind = one.number.kind;
    let said = |value: f64| match kind {
        Unit::Pressure => format!("{} · {} bar", with_unit(kind, value), figure(value / 100.0, 2)),
        _ => with_unit(kind, value),
    };
    let read = one.measured.as_ref().map(|read| said(read.value));
    read.or_else(|| one.planned.as_ref().ok().map(|planned| format!("{} (p)", said(*planned))))
}

/// What every rider of a new bike is told. Common practice, no source.
const ALWAYS: &[&str] = &[
    "Bed the brakes in before you need them: twenty gradual stops from 30 km/h, wheels never locked, on a dry empty road.",
    "Before every ride: both wheels tight in their ends, both brakes firm at the lever, bar straight, tyres at pressure.",
    "After a fall, a crash in transport, or a knock that left a mark on carbon: do not ride on; bring it to be looked over.",
    "No bolt is tightened by feel. A painted line that is broken has moved: bring it, or set it by the torque record.",
    "Clamps on carbon take what is stated and no more: a work stand holds the post, never a tube.",
];

fn cautions(sheet: &mut Sheet<'_>, build: &Build, plan: &Plan) {
    sheet.heading("What to watch", 30.0);
    let mut lines: Vec<(Type, String)> = Vec::new();
    if let Some(hand) = &build.rider.front_brake {
        lines.push((Type::STRONG, format!("The {} hand works the front brake.", hand.value.name())));
    }
    lines.extend(ALWAYS.iter().map(|text| (Type::BODY, (*text).to_owned())));
    sheet.callout(Ink::Dye, Ink::DyeWash, &lines);
    let own: Vec<&Finding> =
        plan.findings.iter().filter(|finding| finding.severity == Severity::Caution && !finding.not_known).collect();
    if !own.is_empty() {
        let lines: Vec<(Type, String)> = own
            .iter()
            .flat_map(|finding| {
                [(Type::STRONG, finding.what.clone()), (Type::BODY, format!("{} {}", finding.why, finding.action))]
            })
            .collect();
        sheet.callout(Ink::Pencil, Ink::Wash, &lines);
    }
}

fn first_round(sheet: &mut Sheet<'_>, build: &Build, plan: &Plan) {
    sheet.heading("First check of every bolt", 12.0);
    let day = build.job.recheck_on.as_ref().map(|given| given.value);
    match day {
        Some(day) => {
            sheet.paragraph(
                &format!("Agreed for {day}, after the first rides and before the first race."),
                Type::STRONG,
            );
        }
        None => sheet.paragraph("No day is agreed yet: ____________", Type::STRONG.ink(Ink::Stop)),
    }
    let fasteners = &plan.worked.fasteners;
    let (closed, all) = fasteners.closed();
    let lines = fasteners.list.iter().filter(|bolt| bolt.witness() == Some(true)).count();
    let text = format!(
        "{closed} of {} closed at hand-over, {} painted across bolt and part. The torque record lists every one.",
        count(all, "bolt"),
        count(lines, "line")
    );
    sheet.paragraph(&text, if closed == all { Type::BODY } else { Type::STRONG.ink(Ink::Stop) });
}

fn what_it_is(sheet: &mut Sheet<'_>, build: &Build) {
    let rows = together(build).into_iter().filter(|part| part.name.is_some() || part.serial.is_some()).map(|part| {
        let mut what = capital(&part.what());
        if !part.places.is_empty() {
            what = format!("{what}, {}", part.places.join(" and "));
        }
        let used = part.condition.map_or("", |condition| condition.name());
        row(vec![
            said(Type::BODY, what),
            said(Type::STRONG, part.name.unwrap_or_default()),
            said(Type::BODY, part.serial.unwrap_or_default()),
            said(Type::QUIET, used),
        ])
    });
    let table = Table::new(
        vec![
            head("part", 44.0, Align::Left),
            head("which", 0.0, Align::Left),
            head("serial", 32.0, Align::Left),
            head("condition", 32.0, Align::Left),
        ],
        rows.collect(),
    );
    if !table.rows.is_empty() {
        sheet.heading("What it is", sheet.begins_with(&table));
        sheet.table(&table);
    }
}

fn services(sheet: &mut Sheet<'_>, build: &Build) {
    let plan = service(build);
    if plan.list.is_empty() {
        return;
    }
    let rows = plan.list.iter().map(|service| {
        let day = match &service.due_on {
            Ok(day) => day.to_string(),
            Err(_) => "no day yet".to_owned(),
        };
        let mut what = vec![(Type::STRONG, service.name.clone()), (Type::SMALL, service.action.to_owned())];
        what.extend(service.limit.iter().map(|limit| (Type::SMALL, format!("done with: {limit}"))));
        let mut every = Vec::new();
        every.extend(service.interval.km.map(|km| format!("{km} km")));
        every.extend(service.interval.days.map(|days| count(days as usize, "day")));
        let every = if service.once { "once".to_owned() } else { every.join(" or ") };
        row(vec![said(Type::STRONG, day), Cell::Text(what), said(Type::BODY, every)])
    });
    let table = Table::new(
        vec![head("due", 24.0, Align::Left), head("what", 0.0, Align::Left), head("every", 44.0, Align::Left)],
        rows.collect(),
    );
    sheet.heading("When it is seen again", sheet.begins_with(&table));
    sheet.table(&table);
    sheet.paragraph("Whichever comes first. What a part’s maker prints goes before these intervals.", Type::SMALL);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_number_of_the_sheet_is_one_of_the_registry() {
        for id in SET {
            assert!(witnessmark_core::number::by_id(id).is_some(), "{id}");
        }
    }
}
