//! The torque record: every bolt in the order of the round, how hard and by whose limit, and what was done, with which wrench.

use super::face::Face;
use super::page::{Ink, Paper};
use super::sheet::{Align, Sheet, Type};
use super::table::{Cell, Row, Table, head, row, said};
use super::{Kind, NoSheet, Subject, begin};
use crate::words::{capital, count, said as told};
use witnessmark_core::Build;
use witnessmark_core::build::FastenerState;
use witnessmark_core::compute::{Fastener, Fasteners};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::figure;
use witnessmark_core::model::{Missing, in_words};
use witnessmark_core::number::Area;

pub(super) fn lay_out(subject: &Subject<'_>, face: &Face, paper: Paper) -> Result<Vec<u8>, NoSheet> {
    let fasteners = &subject.plan.worked.fasteners;
    let mut sheet = begin(Kind::Torque, subject, face, paper);
    let (closed, all) = fasteners.closed();
    let text = format!("{closed} of {} closed", count(all, "bolt"));
    sheet.paragraph(&text, Type::STRONG.size(11.0));
    held_back(&mut sheet, fasteners);
    for name in Area::NAMES {
        let bolts: Vec<&Fastener> = fasteners.list.iter().filter(|bolt| bolt.area.name() == *name).collect();
        if !bolts.is_empty() {
            round(&mut sheet, &capital(name), &bolts);
        }
    }
    wrenches(&mut sheet, subject.build);
    sheet.paragraph(LEGEND, Type::SMALL);
    sheet.signatures(&["torque round done by, on", "looked over a second time by, on"]);
    Ok(sheet.finish()?)
}

const LEGEND: &str = "The torque is the lowest that any of the joined parts states or allows; where one of them is silent it \
    is not known, and the lowest stated is what nobody goes above. The pull is an estimate: friction in thread and under \
    the head is known to a factor of two at best. “Line” is the line painted across bolt and part.";

/// Open bolts hold the release back.
fn held_back(sheet: &mut Sheet<'_>, fasteners: &Fasteners) {
    let open: Vec<&str> = fasteners.open().map(|bolt| bolt.name.as_str()).collect();
    if !open.is_empty() {
        let lines = [
            (Type::STRONG.ink(Ink::Stop), format!("{} open: the bike is not released", count(open.len(), "bolt"))),
            (Type::BODY, format!("{}.", open.join("; "))),
        ];
        sheet.callout(Ink::Stop, Ink::StopWash, &lines);
    }
}

fn round(sheet: &mut Sheet<'_>, title: &str, bolts: &[&Fastener]) {
    let table = Table::new(
        vec![
            head("bolt", 0.0, Align::Left),
            head("torque, and whose limit", 37.0, Align::Left),
            head("bit · on the thread", 26.0, Align::Left),
            head("applied N·m", 17.0, Align::Right),
            head("wrench", 19.0, Align::Left),
            head("by, on", 19.0, Align::Left),
            head("line", 8.0, Align::Middle),
        ],
        bolts.iter().map(|bolt| one(bolt)).collect(),
    );
    sheet.heading(title, sheet.begins_with(&table));
    sheet.table(&table);
}

fn one(bolt: &Fastener) -> Row {
    let record = bolt.record.as_ref();
    let by = record.and_then(|record| told(record.by.as_ref()));
    let on = record.and_then(|record| record.on.as_ref()).map(|given| given.value.to_string());
    let signed: Vec<(Type, String)> =
        by.map(|by| (Type::BODY, by.to_owned())).into_iter().chain(on.map(|on| (Type::SMALL, on))).collect();
    let wrench = match &bolt.wrench {
        Some(used) => {
            let mut texts = vec![(Type::BODY, used.name.clone())];
            if used.was_due == Some(true) {
                texts.push((Type::SMALL.ink(Ink::Stop), "was due for calibration".into()));
            }
            if used.in_range == Some(false) {
                texts.push((Type::SMALL.ink(Ink::Stop), "outside its range".into()));
            }
            Cell::Text(texts)
        }
        None => Cell::Write,
    };
    let cells = vec![
        Cell::Text(name(bolt)),
        Cell::Text(torque(bolt)),
        Cell::Text(thread(bolt)),
        bolt.applied_nm().map_or(Cell::Write, |nm| said(Type::STRONG, figure(nm, 1))),
        wrench,
        if signed.is_empty() { Cell::Write } else { Cell::Text(signed) },
        if bolt.witness() == Some(true) { said(Type::STRONG, "yes") } else { Cell::Tick },
    ];
    Row { least: 8.0, ..row(cells) }
}

fn name(bolt: &Fastener) -> Vec<(Type, String)> {
    let many = bolt.count.filter(|count| *count > 1).map_or_else(String::new, |count| format!("{count} × "));
    let mut texts = vec![(Type::STRONG, format!("{many}{}", bolt.name))];
    if bolt.state() == Some(FastenerState::Open) {
        texts.push((Type::STRONG.ink(Ink::Stop), "open".into()));
    }
    texts.extend(bolt.order.map(|order| (Type::SMALL, order.to_owned())));
    texts.extend(bolt.caution.map(|caution| (Type::SMALL.ink(Ink::Black), caution.to_owned())));
    texts
}

fn torque(bolt: &Fastener) -> Vec<(Type, String)> {
    let mut texts = Vec::new();
    match (&bolt.torque_nm(), bolt.lowest()) {
        (Ok(nm), lowest) => {
            texts.push((Type::LARGE, format!("{} N·m", figure(*nm, 1))));
            texts
                .extend(lowest.map(|limit| (Type::SMALL, format!("{}, {}", in_words(&limit.path), limit.says.name()))));
        }
        (Err(missing), Some(limit)) => {
            texts.push((Type::STRONG.ink(Ink::Stop), format!("not known; never above {} N·m", figure(limit.nm, 1))));
            texts.push((Type::SMALL, silent(missing)));
        }
        (Err(missing), None) => {
            texts.push((Type::STRONG.ink(Ink::Stop), "not known".into()));
            texts.push((Type::SMALL, silent(missing)));
        }
    }
    if let Some(Ok(preload)) = &bolt.preload {
        let kilonewtons = |newtons: f64| figure(newtons / 1000.0, 1);
        let mut says = format!("pulls {} to {} kN", kilonewtons(preload.pull_n.low), kilonewtons(preload.pull_n.high));
        if let Ok(share) = preload.most_of_proof() {
            says = format!("{says}, at most {}\u{a0}% of what it bears", figure(share * 100.0, 0));
        }
        texts.push((Type::SMALL, says));
    }
    texts
}

/// Whose torque is missing.
fn silent(missing: &Missing) -> String {
    let says = missing.to_string();
    says.strip_prefix("not known: ").unwrap_or(&says).to_owned()
}

fn thread(bolt: &Fastener) -> Vec<(Type, String)> {
    let mut texts = Vec::new();
    texts.extend(bolt.bit.as_ref().map(|bit| (Type::BODY, bit.clone())));
    let custom = if bolt.compound_by_custom { ", by custom" } else { "" };
    texts.push((Type::SMALL, format!("{}{custom}", bolt.compound.name())));
    texts.extend(bolt.between.map(|between| (Type::SMALL, format!("between the faces: {}", between.name()))));
    texts
}

fn wrenches(sheet: &mut Sheet<'_>, build: &Build) {
    if build.wrenches.is_empty() {
        return;
    }
    let rows = build.wrenches.iter().map(|(name, wrench)| {
        let nm = |given: Option<&witnessmark_core::field::Given<f64>>| {
            given.map_or_else(|| "?".to_owned(), |given| figure(given.value, 1))
        };
        let day = wrench.calibrated_on.as_ref().map_or_else(|| "not known".to_owned(), |given| given.value.to_string());
        let doubt = wrench
            .plus_minus_percent
            .as_ref()
            .map_or_else(String::new, |given| format!("± {} %", figure(given.value, 1)));
        let good = wrench.good_for_days.as_ref().map_or_else(String::new, |given| format!("{} days", given.value));
        row(vec![
            said(Type::BODY, name),
            said(Type::BODY, format!("{} to {} N·m", nm(wrench.low_nm.as_ref()), nm(wrench.high_nm.as_ref()))),
            said(Type::BODY, doubt),
            said(Type::BODY, day),
            said(Type::BODY, good),
            said(Type::QUIET, told(wrench.serial.as_ref()).unwrap_or_default()),
            said(Type::QUIET, told(wrench.certificate.as_ref()).unwrap_or_default()),
        ])
    });
    let table = Table::new(
        vec![
            head("wrench", 0.0, Align::Left),
            head("range", 32.0, Align::Left),
            head("off by", 16.0, Align::Left),
            head("calibrated on", 24.0, Align::Left),
            head("good for", 18.0, Align::Left),
            head("serial", 24.0, Align::Left),
            head("certificate", 24.0, Align::Left),
        ],
        rows.collect(),
    );
    sheet.heading("Wrenches", sheet.begins_with(&table));
    sheet.table(&table);
}
