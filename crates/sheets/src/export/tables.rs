//! What goes out: one table of numbers, one of parts, one of findings, one of bolts.

use crate::listed;
use crate::money::Cents;
use witnessmark_core::field::Choice;
use witnessmark_core::model::in_words;
use witnessmark_core::{Build, Plan};

/// A value in a table.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Nothing is known.
    Empty,
    /// A quantity, in the unit of its column or of its row.
    Number(f64),
    /// An amount of money.
    Money(Cents),
    /// A text.
    Text(String),
    /// A calendar day.
    Day(jiff::civil::Date),
}

/// A column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// Its head.
    pub name: &'static str,
    /// How wide it stands in a workbook, in letters.
    pub letters: f64,
}

/// A table.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Its name: that of its file and of its page in the workbook.
    pub name: &'static str,
    /// Its columns.
    pub columns: &'static [Column],
    /// Its rows, each with a cell for every column.
    pub rows: Vec<Vec<Cell>>,
}

const fn column(name: &'static str, letters: f64) -> Column {
    Column { name, letters }
}

const NUMBERS: &[Column] = &[
    column("id", 20.0),
    column("number", 34.0),
    column("side", 7.0),
    column("area", 18.0),
    column("unit", 6.0),
    column("asked", 10.0),
    column("asked how", 12.0),
    column("planned", 10.0),
    column("measured", 10.0),
    column("plus minus", 10.0),
    column("difference", 10.0),
    column("tolerance", 10.0),
    column("verdict", 10.0),
    column("read by", 12.0),
    column("read on", 11.0),
];

const PARTS: &[Column] = &[
    column("area", 18.0),
    column("kind", 18.0),
    column("place", 12.0),
    column("name", 30.0),
    column("supplied by", 16.0),
    column("condition", 18.0),
    column("price", 10.0),
    column("mass g", 9.0),
    column("serial", 16.0),
    column("catalogue id", 20.0),
    column("note", 40.0),
];

const BOLTS: &[Column] = &[
    column("id", 24.0),
    column("bolt", 30.0),
    column("area", 18.0),
    column("count", 7.0),
    column("torque N·m", 11.0),
    column("lowest stated N·m", 16.0),
    column("limit from", 30.0),
    column("compound", 18.0),
    column("bit", 14.0),
    column("state", 9.0),
    column("applied N·m", 11.0),
    column("wrench", 16.0),
    column("by", 12.0),
    column("on", 11.0),
    column("line painted", 11.0),
];

const FINDINGS: &[Column] = &[
    column("severity", 9.0),
    column("what", 50.0),
    column("why", 60.0),
    column("what to do", 50.0),
    column("about", 34.0),
    column("source", 40.0),
    column("check", 24.0),
];

/// Every table of a build.
pub fn tables(build: &Build, plan: &Plan) -> Vec<Table> {
    vec![
        Table { name: "numbers", columns: NUMBERS, rows: numbers(plan) },
        Table { name: "parts", columns: PARTS, rows: parts(build) },
        Table { name: "bolts", columns: BOLTS, rows: bolts(plan) },
        Table { name: "findings", columns: FINDINGS, rows: findings(plan) },
    ]
}

fn text(text: impl Into<String>) -> Cell {
    let text = text.into();
    if text.is_empty() { Cell::Empty } else { Cell::Text(text) }
}

fn number(value: Option<f64>) -> Cell {
    value.filter(|value| value.is_finite()).map_or(Cell::Empty, Cell::Number)
}

fn day(day: Option<jiff::civil::Date>) -> Cell {
    day.map_or(Cell::Empty, Cell::Day)
}

fn numbers(plan: &Plan) -> Vec<Vec<Cell>> {
    let one = |one: &witnessmark_core::compute::PlannedNumber| {
        let read = one.measured.as_ref();
        vec![
            text(one.number.id),
            text(one.number.name),
            text(one.side.word()),
            text(one.number.area.name()),
            text(one.number.kind.unit()),
            number(one.asked.map(|asked| asked.value)),
            text(one.asked.map_or("", |asked| how(asked.how))),
            number(one.planned.as_ref().ok().copied()),
            number(read.map(|read| read.value)),
            number(read.and_then(|read| read.plus_minus)),
            number(one.difference),
            number(Some(one.tolerance)),
            text(one.verdict.name()),
            text(read.and_then(|read| read.by.clone()).unwrap_or_default()),
            day(read.and_then(|read| read.on)),
        ]
    };
    plan.numbers.each().iter().map(one).collect()
}

fn how(how: witnessmark_core::compute::How) -> &'static str {
    use witnessmark_core::compute::How;
    match how {
        How::Received => "received",
        How::Converted => "converted",
        How::Derived => "derived",
    }
}

fn parts(build: &Build) -> Vec<Vec<Cell>> {
    let rows = listed::each(build).into_iter().map(|part| {
        vec![
            text(part.kind.area.name()),
            text(part.what()),
            text(part.places.join(", ")),
            text(part.name.unwrap_or_default()),
            text(part.supplier.map_or("", |supplier| supplier.name())),
            text(part.condition.map_or("", |condition| condition.name())),
            part.price.map_or(Cell::Empty, Cell::Money),
            number(part.mass_g),
            text(part.serial.unwrap_or_default()),
            text(part.catalogue.unwrap_or_default()),
            text(part.note.unwrap_or_default()),
        ]
    });
    rows.collect()
}

fn bolts(plan: &Plan) -> Vec<Vec<Cell>> {
    let rows = plan.worked.fasteners.list.iter().map(|bolt| {
        let record = bolt.record.as_ref();
        let said = |given: Option<&witnessmark_core::field::Given<String>>| {
            text(given.map(|given| given.value.clone()).unwrap_or_default())
        };
        vec![
            text(bolt.id.clone()),
            text(bolt.name.clone()),
            text(bolt.area.name()),
            number(bolt.count.map(f64::from)),
            number(bolt.torque_nm().ok()),
            number(bolt.lowest().map(|limit| limit.nm)),
            text(bolt.lowest().map(|limit| in_words(&limit.path)).unwrap_or_default()),
            text(bolt.compound.name()),
            text(bolt.bit.clone().unwrap_or_default()),
            text(bolt.state().map_or("", |state| state.name())),
            number(bolt.applied_nm()),
            said(record.and_then(|record| record.wrench.as_ref())),
            said(record.and_then(|record| record.by.as_ref())),
            day(record.and_then(|record| record.on.as_ref()).map(|given| given.value)),
            text(bolt.witness().map_or("", |painted| if painted { "yes" } else { "no" })),
        ]
    });
    rows.collect()
}

fn findings(plan: &Plan) -> Vec<Vec<Cell>> {
    let rows = plan.findings.iter().map(|finding| {
        let about: Vec<String> = finding.about.iter().map(witnessmark_core::finding::About::address).collect();
        vec![
            text(finding.severity_word()),
            text(finding.what.clone()),
            text(finding.why.clone()),
            text(finding.action.clone()),
            text(about.join(", ")),
            text(finding.source),
            text(finding.check),
        ]
    });
    rows.collect()
}
