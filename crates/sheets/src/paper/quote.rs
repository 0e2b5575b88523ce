//! The quote: work and parts with their prices, who supplies what, tax line by line, and how long it holds.

use super::face::Face;
use super::page::{Ink, Paper};
use super::sheet::{Align, Sheet, Type};
use super::table::{Cell, Row, Table, head, row, said};
use super::{Kind, NoSheet, Subject, begin};
use crate::listed::{Listed, together};
use crate::money::Cents;
use crate::words::{capital, count, of_key, said as told};
use std::collections::BTreeMap;
use witnessmark_core::Build;
use witnessmark_core::build::Work;
use witnessmark_core::field::Choice;
use witnessmark_core::finding::figure;
use witnessmark_core::part::Supplier;

pub(super) fn lay_out(subject: &Subject<'_>, face: &Face, paper: Paper) -> Result<Vec<u8>, NoSheet> {
    let build = subject.build;
    let mut sheet = begin(Kind::Quote, subject, face, paper);
    sheet.facts(&facts(build));
    let quoted = Quoted::of(build);
    lacking(&mut sheet, &quoted);
    lines(&mut sheet, "Work", "what is done", &quoted.work, &quoted);
    lines(&mut sheet, "Parts the workshop supplies", "part", &quoted.parts, &quoted);
    sums(&mut sheet, build, &quoted);
    brought(&mut sheet, build);
    if let Some(note) = told(build.quote.note.as_ref()) {
        sheet.heading("To be read before accepting", 8.0);
        sheet.paragraph(note, Type::BODY);
    }
    if build.quote.valid_until.is_none() {
        sheet.paragraph("It is not said how long this quote holds: ask before you accept.", Type::STRONG);
    }
    sheet.signatures(&["for the workshop, on", "accepted by the customer, on"]);
    Ok(sheet.finish()?)
}

fn facts(build: &Build) -> Vec<(&'static str, String)> {
    let quote = &build.quote;
    let mut facts = Vec::new();
    if let Some(number) = told(quote.number.as_ref()) {
        facts.push(("quote", number.to_owned()));
    }
    if let Some(on) = &quote.on {
        facts.push(("of", on.value.to_string()));
    }
    if let Some(until) = &quote.valid_until {
        facts.push(("holds until", until.value.to_string()));
    }
    if let Some(currency) = told(quote.currency.as_ref()) {
        facts.push(("amounts in", currency.to_owned()));
    }
    facts
}

/// A line with its price.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Line {
    pub(crate) what: String,
    pub(crate) more: String,
    /// As the document has it; none where no price is set.
    pub(crate) price: Option<Cents>,
    /// The rate of tax, in per cent, where one is said.
    pub(crate) tax_percent: Option<f64>,
}

/// The lines of a quote, and how its prices are meant.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Quoted {
    pub(crate) work: Vec<Line>,
    pub(crate) parts: Vec<Line>,
    pub(crate) with_tax: Option<bool>,
    pub(crate) currency: String,
}

/// What is to be paid, once prices and tax are said.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Total {
    pub(crate) net: Cents,
    /// The tax by its rate in thousandths of a per cent, and what it is on.
    pub(crate) by_rate: BTreeMap<i64, (Cents, Cents)>,
    pub(crate) gross: Cents,
}

impl Quoted {
    pub(crate) fn of(build: &Build) -> Self {
        let quote = &build.quote;
        let tax_percent = quote.tax_percent.as_ref().map(|given| given.value);
        let parts = together(build)
            .iter()
            .filter(|part| part.supplier == Some(Supplier::Shop))
            .map(|part| Line {
                what: part.name.clone().unwrap_or_else(|| capital(&part.what())),
                more: more_of(part),
                price: part.sum(),
                tax_percent,
            })
            .collect();
        let work = build.work.iter().map(|(name, work)| worked(name, work, tax_percent)).collect();
        let currency = told(quote.currency.as_ref()).unwrap_or_default().to_owned();
        Quoted { work, parts, with_tax: quote.prices_include_tax.as_ref().map(|given| given.value), currency }
    }

    fn lines(&self) -> impl Iterator<Item = &Line> {
        self.work.iter().chain(&self.parts)
    }

    /// The sum of the lines that have a price. `None` while it is not said whether prices are with tax.
    pub(crate) fn total(&self) -> Option<Total> {
        let taxed = self.lines().any(|line| line.tax_percent.is_some_and(|rate| rate > 0.0));
        let with_tax = if taxed { self.with_tax? } else { false };
        let mut total = Total::default();
        for line in self.lines() {
            let Some(price) = line.price else { continue };
            let rate = line.tax_percent.unwrap_or(0.0);
            let tax = if with_tax { price.tax_in(rate)? } else { price.tax_on(rate)? };
            let net = if with_tax { price - tax } else { price };
            total.net += net;
            total.gross += net + tax;
            #[allow(clippy::cast_possible_truncation, reason = "a rate of tax is at most a hundred per cent")]
            let key = (rate * 1000.0).round() as i64;
            let (on, sum) = total.by_rate.entry(key).or_default();
            *on += net;
            *sum += tax;
        }
        Some(total)
    }
}

fn more_of(part: &Listed) -> String {
    let many = part.count();
    let mut more = part.what();
    if !part.places.is_empty() {
        more = format!("{more}, {}", part.places.join(" and "));
    }
    match part.price {
        Some(price) if many > 1 => format!("{more}; {many} at {price}"),
        _ => more,
    }
}

fn worked(name: &str, work: &Work, tax_percent: Option<f64>) -> Line {
    let flat = work.price.as_ref().and_then(|given| Cents::of(given.value));
    let hours = work.hours.as_ref().map(|given| given.value);
    let rate = work.rate.as_ref().and_then(|given| Cents::of(given.value));
    let by_hours = rate.zip(hours).and_then(|(rate, hours)| rate.for_hours(hours));
    let more = match (flat, hours, rate) {
        (Some(_), ..) => "one price for all of it".to_owned(),
        (None, Some(hours), Some(rate)) => format!("{} h at {rate}", figure(hours, 3)),
        (None, Some(hours), None) => format!("{} h, no rate set", figure(hours, 3)),
        (None, None, _) => String::new(),
    };
    let what = told(work.what.as_ref()).map_or_else(|| capital(&of_key(name)), str::to_owned);
    let own = work.tax_percent.as_ref().map(|given| given.value);
    Line { what, more, price: flat.or(by_hours), tax_percent: own.or(tax_percent) }
}

/// What must be said before the quote can go out.
fn lacking(sheet: &mut Sheet<'_>, quoted: &Quoted) {
    let mut says = Vec::new();
    let open = quoted.lines().filter(|line| line.price.is_none()).count();
    if open > 0 {
        let has = if open == 1 { "has" } else { "have" };
        says.push(format!(
            "{} {has} no price yet and {} in no sum.",
            count(open, "line"),
            if open == 1 { "is" } else { "are" }
        ));
    }
    if quoted.lines().any(|line| line.tax_percent.is_none()) {
        says.push("For some lines no rate of tax is set; none is added for them.".to_owned());
    }
    if quoted.total().is_none() {
        says.push(
            "It is not said whether the prices are with tax or without. Until it is, no total stands here.".to_owned(),
        );
    }
    if quoted.currency.is_empty() {
        says.push("No currency is set.".to_owned());
    }
    if quoted.lines().next().is_none() {
        says.push("Nothing is quoted: no line of work, and no part that the workshop supplies.".to_owned());
    }
    if !says.is_empty() {
        let mut lines = vec![(Type::STRONG.ink(Ink::Stop), "Not ready to go out".to_owned())];
        lines.extend(says.into_iter().map(|says| (Type::BODY, says)));
        sheet.callout(Ink::Stop, Ink::StopWash, &lines);
    }
}

fn lines(sheet: &mut Sheet<'_>, title: &str, what: &str, lines: &[Line], quoted: &Quoted) {
    if lines.is_empty() {
        return;
    }
    let price = match quoted.with_tax {
        Some(true) => "price with tax",
        Some(false) => "price without tax",
        None => "price",
    };
    let rows = lines.iter().map(|line| {
        let rate = line.tax_percent.map_or_else(|| "not set".to_owned(), |rate| format!("{}\u{a0}%", figure(rate, 3)));
        row(vec![
            said(Type::BODY, &line.what),
            said(Type::QUIET, &line.more),
            said(Type::QUIET, rate),
            match line.price {
                Some(price) => said(Type::STRONG, price.to_string()),
                None => said(Type::BODY.ink(Ink::Stop), "not set"),
            },
        ])
    });
    let mut rows: Vec<Row> = rows.collect();
    let sum: Cents = lines.iter().filter_map(|line| line.price).sum();
    rows.push(Row {
        sum: true,
        ..row(vec![said(Type::STRONG, "together"), Cell::Empty, Cell::Empty, said(Type::STRONG, sum.to_string())])
    });
    let table = Table::new(
        vec![
            head(what, 0.0, Align::Left),
            head("", 58.0, Align::Left),
            head("tax", 15.0, Align::Right),
            head(&format!("{price} {}", quoted.currency), 30.0, Align::Right),
        ],
        rows,
    );
    sheet.heading(title, sheet.begins_with(&table));
    sheet.table(&table);
}

fn sums(sheet: &mut Sheet<'_>, build: &Build, quoted: &Quoted) {
    let Some(total) = quoted.total() else { return };
    if quoted.lines().all(|line| line.price.is_none()) {
        return;
    }
    let amount =
        |words: String, sum: Cents, letters: Type| row(vec![said(letters, words), said(letters, sum.to_string())]);
    let mut rows = vec![amount("work and parts without tax".into(), total.net, Type::BODY)];
    for (rate, (on, tax)) in &total.by_rate {
        if *rate > 0 {
            #[allow(clippy::cast_precision_loss, reason = "a rate of tax is a small number")]
            let rate = figure(*rate as f64 / 1000.0, 3);
            rows.push(amount(format!("tax at {rate} % on {on}"), *tax, Type::BODY));
        }
    }
    let words = format!("to be paid {}", quoted.currency);
    rows.push(Row { sum: true, wash: Some(Ink::Wash), ..amount(words.trim().into(), total.gross, Type::TITLE) });
    if let Some(deposit) = build.quote.deposit.as_ref().and_then(|given| Cents::of(given.value)) {
        rows.push(amount("of which before parts are ordered".into(), deposit, Type::BODY));
    }
    let heads = vec![head("", 0.0, Align::Left), head("", 40.0, Align::Right)];
    let table = Table::new(heads, rows);
    sheet.heading("Sum", sheet.begins_with(&table) + 20.0);
    sheet.table(&table);
    sheet.paragraph(
        "Tax is worked out line by line and rounded to the cent, half a cent up; sums add the rounded lines.",
        Type::SMALL,
    );
}

/// What the customer brings: fitted, and not sold.
fn brought(sheet: &mut Sheet<'_>, build: &Build) {
    let parts: Vec<Listed> =
        together(build).into_iter().filter(|part| part.supplier.is_some_and(|by| by != Supplier::Shop)).collect();
    if !parts.is_empty() {
        let rows = parts.iter().map(|part| {
            let what = part.name.clone().unwrap_or_else(|| capital(&part.what()));
            let condition = part.condition.map_or("condition not said", |condition| condition.name());
            let by = part.supplier.map_or("", |supplier| supplier.name());
            let mut more = part.what();
            if !part.places.is_empty() {
                more = format!("{more}, {}", part.places.join(" and "));
            }
            row(vec![
                said(Type::BODY, what),
                said(Type::QUIET, more),
                said(Type::BODY, by),
                said(Type::QUIET, condition),
            ])
        });
        let table = Table::new(
            vec![
                head("part", 0.0, Align::Left),
                head("", 48.0, Align::Left),
                head("who brings it", 30.0, Align::Left),
                head("condition", 38.0, Align::Left),
            ],
            rows.collect(),
        );
        sheet.heading("Parts the customer brings: fitted, not sold", sheet.begins_with(&table));
        sheet.table(&table);
    }
    let open = together(build).into_iter().filter(|part| part.supplier.is_none()).count();
    if open > 0 {
        let text =
            format!("Of {} it is not said who brings them; they are not in this quote.", count(open, "more part"));
        sheet.paragraph(&text, Type::STRONG.ink(Ink::Stop));
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a total that is not there is to stop the test")]

    use super::*;

    fn line(price: i64, rate: f64) -> Line {
        Line { what: "x".into(), more: String::new(), price: Some(Cents(price)), tax_percent: Some(rate) }
    }

    fn quoted(lines: Vec<Line>, with_tax: Option<bool>) -> Quoted {
        Quoted { work: lines, parts: Vec::new(), with_tax, currency: "EUR".into() }
    }

    #[test]
    fn tax_is_rounded_line_by_line_and_sums_add_the_rounded_lines() {
        // 3 x 0.335 tax: each line rounds up to 0.34, where the sum alone would give 1.01 from 1.005.
        let total = quoted(vec![line(335, 10.0), line(335, 10.0), line(335, 10.0)], Some(false)).total().unwrap();
        assert_eq!((total.net, total.gross), (Cents(1005), Cents(1005 + 3 * 34)));
        assert_eq!(total.by_rate[&10_000], (Cents(1005), Cents(102)));
    }

    #[test]
    fn prices_with_tax_add_up_to_what_is_printed_on_them() {
        let total = quoted(vec![line(11_900, 19.0), line(10_700, 7.0)], Some(true)).total().unwrap();
        assert_eq!((total.net, total.gross), (Cents(20_000), Cents(22_600)));
    }

    #[test]
    fn while_it_is_not_said_whether_prices_are_with_tax_there_is_no_total() {
        assert_eq!(quoted(vec![line(100, 19.0)], None).total(), None);
        assert!(quoted(vec![line(100, 0.0)], None).total().is_some(), "without tax there is nothing to ask");
    }

    #[test]
    fn a_line_without_a_price_is_in_no_sum() {
        let open = Line { price: None, ..line(0, 19.0) };
        let total = quoted(vec![line(100, 19.0), open], Some(false)).total().unwrap();
        assert_eq!(total.gross, Cents(119));
    }
}
