//! The bench sheet: the drawing, what is wrong, and every number asked, planned and measured, by area.

use super::face::Face;
use super::page::{Ink, Paper};
use super::picture::{bike, sign, sign_height};
use super::sheet::{Align, Sheet, Type};
use super::table::{Cell, Row, Table, head, row, said};
use super::{Kind, NoSheet, Subject, begin, photos};
use crate::words::{capital, count, plain, signed, with_unit};
use witnessmark_core::Plan;
use witnessmark_core::compute::{How, PlannedNumber, Verdict};
use witnessmark_core::field::{Choice, Kind as KindOfValue};
use witnessmark_core::finding::{Finding, Severity};
use witnessmark_core::number::Area;

/// The width of a sign in a row.
const SIGN: f64 = 13.0;

pub(super) fn lay_out(subject: &Subject<'_>, face: &Face, paper: Paper) -> Result<Vec<u8>, NoSheet> {
    let plan = subject.plan;
    let mut sheet = begin(Kind::Bench, subject, face, paper);
    standing(&mut sheet, plan);
    drawing(&mut sheet, plan);
    findings(&mut sheet, plan);
    for name in Area::NAMES {
        if let Some(area) = Area::from_name(name) {
            numbers(&mut sheet, plan, area);
        }
    }
    unknown(&mut sheet, plan);
    sheet.paragraph(LEGEND, Type::SMALL);
    photos::stand_on(&mut sheet, subject, Kind::Bench);
    Ok(sheet.finish()?)
}

const LEGEND: &str = "The sign: asked on top, planned in the middle, measured below, on one scale; the pale band is what is \
    still right. One unbroken line is in line; a broken one has moved; without a foot it is not yet read; a tip lies off \
    the scale. ± is how far off is still right. ~ before an asked value: converted from another definition; = : follows from other figures.";

/// How the build stands, in one line.
fn standing(sheet: &mut Sheet<'_>, plan: &Plan) {
    let (in_line, counted) = plan.numbers.in_line();
    let moved = plan.numbers.each().iter().filter(|one| one.verdict == Verdict::Moved).count();
    let text = format!(
        "{in_line} of {counted} numbers in line · {moved} moved · {} · {}",
        count(plan.count(Severity::Stop), "stop"),
        count(plan.count(Severity::Caution), "caution"),
    );
    let ink = if plan.count(Severity::Stop) > 0 { Ink::Stop } else { Ink::Black };
    sheet.paragraph(&text, Type::STRONG.size(11.0).ink(ink));
}

fn drawing(sheet: &mut Sheet<'_>, plan: &Plan) {
    match bike(plan, sheet.face, sheet.width(), 118.0) {
        Some((height, marks)) => {
            let words = "Side drawing of the bike, to scale. Every value in it stands in the tables below.";
            sheet.picture(height, marks, words);
            sheet.gap(1.0);
            let key =
                "To scale, drive side; rule in mm from the bottom bracket. Ring: asked. Solid: planned. Dot: measured.";
            sheet.paragraph(key, Type::SMALL);
        }
        None => sheet.paragraph("Nothing to draw yet.", Type::QUIET),
    }
}

/// What stops the work and what somebody has to decide, in full; notes are counted.
fn findings(sheet: &mut Sheet<'_>, plan: &Plan) {
    let weighty: Vec<&Finding> = plan.findings.iter().filter(|finding| finding.severity != Severity::Note).collect();
    if !weighty.is_empty() {
        sheet.heading("What is to be seen to, worst first", 24.0);
        for finding in &weighty {
            one_finding(sheet, finding);
        }
    }
    let notes = plan.count(Severity::Note);
    if notes > 0 {
        sheet.paragraph(&format!("{} more in the record.", count(notes, "note")), Type::QUIET);
    }
}

fn one_finding(sheet: &mut Sheet<'_>, finding: &Finding) {
    let (ink, wash) = match finding.severity {
        Severity::Stop => (Ink::Stop, Ink::StopWash),
        _ => (Ink::Dye, Ink::DyeWash),
    };
    let lines = [
        (Type::STRONG.ink(ink), format!("{}: {}", finding.severity_word(), finding.what)),
        (Type::BODY, finding.why.clone()),
        (Type::STRONG, finding.action.clone()),
        (Type::SMALL, finding.source.to_owned()),
    ];
    sheet.callout(ink, wash, &lines);
}

/// Whether anything at all stands in a number's row.
fn is_told(one: &PlannedNumber) -> bool {
    one.asked.is_some() || one.planned.is_ok() || one.measured.is_some()
}

fn numbers(sheet: &mut Sheet<'_>, plan: &Plan, area: Area) {
    let rows: Vec<&PlannedNumber> =
        plan.numbers.each().iter().filter(|one| one.number.area == area && is_told(one)).collect();
    if rows.is_empty() {
        return;
    }
    let table = Table::new(
        vec![
            head("number", 0.0, Align::Left),
            head("asked", 21.0, Align::Right),
            head("planned", 21.0, Align::Right),
            head("measured", 21.0, Align::Right),
            head("off by", 12.0, Align::Right),
            head("±", 10.0, Align::Right),
            head("sign", SIGN, Align::Left),
            head("", 13.0, Align::Left),
        ],
        rows.into_iter().map(one_number).collect(),
    );
    sheet.heading(&capital(area.name()), sheet.begins_with(&table));
    sheet.table(&table);
}

/// A row of the three columns: what is not read yet is a line to write on.
fn one_number(one: &PlannedNumber) -> Row {
    let kind = one.number.kind;
    let asked = one.asked.map_or_else(String::new, |asked| {
        let mark = match asked.how {
            How::Received => "",
            How::Converted => "~",
            How::Derived => "=",
        };
        format!("{mark}{}", unbroken(kind, asked.value))
    });
    let planned = one.planned.as_ref().map_or_else(|_| String::new(), |value| unbroken(kind, *value));
    let measured = match &one.measured {
        Some(read) => said(Type::STRONG, unbroken(kind, read.value)),
        None => Cell::Write,
    };
    let off = one.difference.filter(|off| off.abs() >= 0.05).map_or_else(String::new, |off| signed(kind, off));
    let tolerance = plain(kind, one.tolerance);
    let moved = one.verdict == Verdict::Moved;
    let verdict = if moved { Type::SMALL.ink(Ink::Dye) } else { Type::SMALL };
    let picture = Cell::Picture {
        width: SIGN,
        height: sign_height(SIGN),
        marks: sign(one, SIGN),
        words: format!("sign: {}", one.verdict.name()),
    };
    row(vec![
        said(Type::BODY, format!("{} {}", one.number.name, one.side.word()).trim_end()),
        said(Type::BODY, asked),
        said(Type::STRONG, planned),
        measured,
        said(if moved { Type::STRONG.ink(Ink::Dye) } else { Type::BODY }, off),
        said(Type::QUIET, tolerance),
        picture,
        said(verdict, one.verdict.name()),
    ])
}

/// A value and its unit on one line.
fn unbroken(kind: KindOfValue, value: f64) -> String {
    with_unit(kind, value).replace(' ', "\u{a0}")
}

/// The numbers of which nothing is known: named, so that nobody thinks they were forgotten.
fn unknown(sheet: &mut Sheet<'_>, plan: &Plan) {
    let mut names: Vec<&str> =
        plan.numbers.each().iter().filter(|one| !is_told(one)).map(|one| one.number.name).collect();
    names.dedup();
    if !names.is_empty() {
        sheet.heading("Nothing known yet", 10.0);
        sheet.paragraph(&format!("{}.", names.join(" · ")), Type::QUIET);
    }
}
