//! The parts order: what the workshop buys, then what the customer brings, each with a box to tick when it lies there.

use super::face::Face;
use super::page::{Ink, Paper};
use super::sheet::{Align, Sheet, Type};
use super::table::{Cell, Row, Table, head, row, said};
use super::{Kind, NoSheet, Subject, begin};
use crate::listed::{Listed, together};
use crate::money::Cents;
use crate::words::{capital, count};
use witnessmark_core::field::{Choice, Given};
use witnessmark_core::part::Supplier;

pub(super) fn lay_out(subject: &Subject<'_>, face: &Face, paper: Paper) -> Result<Vec<u8>, NoSheet> {
    let mut sheet = begin(Kind::Order, subject, face, paper);
    let parts = together(subject.build);
    let currency = subject.build.quote.currency.as_ref().map_or("", |given: &Given<String>| given.value.as_str());
    if parts.is_empty() {
        sheet.paragraph("No part is listed yet.", Type::BODY);
    }
    let ways = [
        (Some(Supplier::Shop), "The workshop orders"),
        (Some(Supplier::CustomerNew), "The customer brings new"),
        (Some(Supplier::CustomerUsed), "The customer brings used"),
        (Some(Supplier::CarriedOver), "Comes off the last bike"),
        (None, "Not said who brings it"),
    ];
    for (supplier, title) in ways {
        let of_it: Vec<&Listed> = parts.iter().filter(|part| part.supplier == supplier).collect();
        if !of_it.is_empty() {
            group(&mut sheet, title, supplier, &of_it, currency);
        }
    }
    sheet.signatures(&["ordered, on", "checked on arrival, on"]);
    Ok(sheet.finish()?)
}

fn group(sheet: &mut Sheet<'_>, title: &str, supplier: Option<Supplier>, parts: &[&Listed], currency: &str) {
    let bought = supplier == Some(Supplier::Shop) || supplier.is_none();
    let mut heads = vec![
        head("there", 9.0, Align::Middle),
        head("part", 34.0, Align::Left),
        head("which", 0.0, Align::Left),
        head("number", 13.0, Align::Right),
    ];
    if bought {
        heads.push(head("price of one", 20.0, Align::Right));
        heads.push(head(&format!("sum {currency}"), 22.0, Align::Right));
    } else {
        heads.push(head("condition", 44.0, Align::Left));
    }
    let mut rows: Vec<Row> = parts.iter().map(|part| one(part, bought)).collect();
    if bought {
        rows.push(sum(parts));
    }
    let table = Table::new(heads, rows);
    let words = format!("{title}: {}", count(parts.iter().map(|part| part.count()).sum(), "part"));
    sheet.heading(&words, sheet.begins_with(&table));
    sheet.table(&table);
}

fn one(part: &Listed, bought: bool) -> Row {
    let places = if part.places.is_empty() { String::new() } else { part.places.join(", ") };
    let mut which = Vec::new();
    match &part.name {
        Some(name) => which.push((Type::STRONG, name.clone())),
        None => which.push((Type::BODY.ink(Ink::Stop), "not named: say which".to_owned())),
    }
    if let Some(catalogue) = &part.catalogue {
        which.push((Type::SMALL, format!("catalogue: {catalogue}")));
    }
    if let Some(serial) = &part.serial {
        which.push((Type::SMALL, format!("serial: {serial}")));
    }
    if let Some(note) = &part.note {
        which.push((Type::SMALL, note.clone()));
    }
    let mut what = vec![(Type::BODY, capital(&part.what()))];
    if !places.is_empty() {
        what.push((Type::SMALL, places));
    }
    let mut cells = vec![Cell::Tick, Cell::Text(what), Cell::Text(which), said(Type::BODY, part.count().to_string())];
    if bought {
        cells.push(said(Type::BODY, part.price.map_or_else(|| "not known".to_owned(), |price| price.to_string())));
        cells.push(said(Type::STRONG, part.sum().map_or_else(String::new, |sum| sum.to_string())));
    } else {
        let condition = part.condition.map_or("not said: look it over", |condition| condition.name());
        cells.push(said(Type::BODY, condition));
    }
    Row { least: 7.5, ..row(cells) }
}

fn sum(parts: &[&Listed]) -> Row {
    let total: Cents = parts.iter().filter_map(|part| part.sum()).sum();
    let open = parts.iter().filter(|part| part.price.is_none()).count();
    let words = if open == 0 {
        "all together".to_owned()
    } else {
        format!("all together, without {} that have no price yet", count(open, "line"))
    };
    let mut cells = vec![Cell::Empty, Cell::Empty, said(Type::STRONG, words), Cell::Empty, Cell::Empty];
    cells.push(said(Type::STRONG, total.to_string()));
    Row { sum: true, ..row(cells) }
}
