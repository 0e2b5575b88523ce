//! The numbers in their three columns, and everything about one of them.

use super::address;
use super::field::{self, Note};
use super::findings;
use super::fragment::Fragment;
use crate::loaded::Loaded;
use crate::{sign, words};
use maud::{Markup, html};
use witnessmark_core::build::{AskedForm, ReadingForm};
use witnessmark_core::compute::{How, PlannedNumber};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::About;
use witnessmark_core::number::{self, Area, Number, Side, Sides};

/// The table of an area.
pub(crate) fn table(loaded: &Loaded, area: Area) -> Markup {
    let here: Vec<&'static Number> = number::all().filter(|number| number.area == area).collect();
    table_of(loaded, &here, area.name())
}

/// A table of some numbers.
pub(crate) fn table_of(loaded: &Loaded, numbers: &[&'static Number], caption: &str) -> Markup {
    html! {
        table.numbers role="table" {
            caption.aside { "Numbers: " (caption) }
            thead role="rowgroup" {
                tr role="row" {
                    @for column in ["number", "asked", "planned", "measured", "off by", "sign"] {
                        th scope="col" role="columnheader" { (column) }
                    }
                }
            }
            @for number in numbers {
                tbody role="rowgroup" id={ "of." (number.id) } {
                    @for row in rows(loaded, number) { (row.html) }
                }
            }
        }
    }
}

/// The rows of a number: one, or one for both sides and one for each.
pub(crate) fn rows(loaded: &Loaded, number: &'static Number) -> Vec<Fragment> {
    let each = number.sides.each().iter().filter_map(|side| loaded.plan.numbers.of(number, *side));
    let sides = each.map(|one| Fragment { id: row_id(number, one.side), html: row(loaded, one) });
    if number.sides == Sides::One {
        return sides.collect();
    }
    let both = Fragment { id: row_id(number, Side::None), html: row_of_both(loaded, number) };
    std::iter::once(both).chain(sides).collect()
}

fn row_id(number: &Number, side: Side) -> String {
    format!("row.{}", address::of_number(number.id, side))
}

/// The path of a value: `asked.hood-x.left.value`.
fn path_of(column: &str, number: &Number, side: Side, key: &str) -> String {
    format!("{column}.{}.{key}", address::of_number(number.id, side))
}

fn name(loaded: &Loaded, number: &Number) -> Markup {
    html! { a.more href={ "/builds/" (loaded.id) "/number/" (number.id) } data-more=(number.id) { (number.name) } }
}

/// The row in which both sides are asked for alike.
fn row_of_both(loaded: &Loaded, number: &'static Number) -> Markup {
    let each: Vec<String> = number.sides.each().iter().map(|side| address::of_number(number.id, *side)).collect();
    html! {
        tr.both role="row" id=(row_id(number, Side::None)) data-at={ (number.id) " " (each.join(" ")) } {
            th.name scope="row" role="rowheader" { (name(loaded, number)) }
            td role="cell" data-label="asked, both" { (input(loaded, "asked", number, Side::None)) }
            td.empty role="cell" colspan="4" {}
        }
    }
}

fn row(loaded: &Loaded, one: &PlannedNumber) -> Markup {
    let PlannedNumber { number, side, .. } = one;
    let address = address::of_number(number.id, *side);
    let plus_minus = one.measured.as_ref().and_then(|read| read.plus_minus);
    html! {
        tr role="row" class=(sign::class_of(one.verdict)) id=(row_id(number, *side)) data-at=(address) {
            th.name scope="row" role="rowheader" {
                @if side.word().is_empty() { (name(loaded, number)) } @else { span.side { (side.word()) } }
            }
            td role="cell" data-label="asked" {
                (input(loaded, "asked", number, *side))
                @if let Some(note) = asked_note(loaded, one) { small { (note) } }
            }
            td.figure role="cell" data-label="planned" { (planned(one)) }
            td role="cell" data-label="measured" {
                (input(loaded, "measured", number, *side))
                @if let Some(plus_minus) = plus_minus { small { "± " (words::plain(number.kind, plus_minus)) } }
            }
            td.figure role="cell" data-label="off by" {
                @if let Some(off) = one.difference {
                    (words::signed(number.kind, off)) small { "± " (words::plain(number.kind, one.tolerance)) }
                }
            }
            td.sign role="cell" data-label="sign" { (sign::sign(one)) span.verdict { (one.verdict.name()) } }
        }
    }
}

/// The field of a value, named by its row.
fn input(loaded: &Loaded, column: &str, number: &Number, side: Side) -> Markup {
    field::shown(loaded, &path_of(column, number, side, "value"), Note::None).unwrap_or_default()
}

fn planned(one: &PlannedNumber) -> Markup {
    match &one.planned {
        Ok(value) => html! { (words::plain(one.number.kind, *value)) },
        Err(missing) => html! { span.lacks title=(missing) { "–" } },
    }
}

/// How the asked value came about, where it is not simply what stands in the field.
fn asked_note(loaded: &Loaded, one: &PlannedNumber) -> Option<String> {
    let asked = one.asked?;
    let value = words::plain(one.number.kind, asked.value);
    let own = loaded.text(&path_of("asked", one.number, one.side, "value")).is_some();
    match asked.how {
        How::Derived => Some(format!("derived: {value}")),
        How::Converted => Some(format!("converted: {value}")),
        How::Received if !own => Some(format!("both: {value}")),
        How::Received => None,
    }
}

/// Everything about a number besides its row: what it is, how it is taken, how it was asked and read.
pub(crate) fn more(loaded: &Loaded, number: &'static Number) -> Markup {
    let about: Vec<_> = loaded
        .plan
        .findings
        .iter()
        .filter(|finding| finding.about.iter().any(|about| matches!(about, About::Number(id, _) if *id == number.id)))
        .collect();
    let sides = number.sides.each();
    let history = |column: &str| format!("/builds/{}/history?path={column}.{}", loaded.id, number.id);
    html! {
        div #more {
            dl.about-number {
                dt { "What it is" } dd { (number.definition) }
                dt { "How it is taken" } dd { (number.how) }
                dt { "Customary tolerance" }
                dd { "± " (words::with_unit(number.kind, number.tolerance.value)) " (" (number.tolerance.source) ")" }
                @if let Some(range) = number.customary {
                    dt { "Customary range" }
                    dd {
                        (words::with_unit(number.kind, range.low)) " to " (words::with_unit(number.kind, range.high))
                        " (" (range.source) ")"
                    }
                }
                @for side in sides {
                    @if let Some(Err(missing)) = loaded.plan.numbers.of(number, *side).map(|one| &one.planned) {
                        dt { "Not worked out" @if !side.word().is_empty() { ", " (side.word()) } } dd { (missing) }
                    }
                }
            }
            @if !about.is_empty() { ol.findings { @for finding in about { (findings::one(loaded, finding)) } } }
            @if number.sides != Sides::One { (asked_form(loaded, number, Side::None)) }
            @for side in sides { (asked_form(loaded, number, *side)) }
            @for side in sides { (reading_form(loaded, number, *side)) }
            p.links {
                a href=(history("asked")) { "history as asked" } " "
                a href=(history("measured")) { "history as measured" } " "
                a href={ "/builds/" (loaded.id) "/photos?place=" (number.id) } { "photos of it" }
            }
        }
    }
}

fn legend(column: &str, number: &Number, side: Side) -> String {
    match (number.sides, side) {
        (Sides::One, _) => column.to_owned(),
        (_, Side::None) => format!("{column}, both alike"),
        (_, side) => format!("{column}, {}", side.word()),
    }
}

fn asked_form(loaded: &Loaded, number: &'static Number, side: Side) -> Markup {
    // A definition with one meaning leaves nothing to ask.
    let keys = AskedForm::FIELDS.iter().map(witnessmark_core::field::Field::key).filter(|key| match *key {
        "by" | "note" => true,
        key => field::of_number(number, key).len() > 1,
    });
    fieldset(
        loaded,
        &legend("asked", number, side),
        keys.chain(["tolerance"]).map(|key| path_of("asked", number, side, key)),
    )
}

fn reading_form(loaded: &Loaded, number: &'static Number, side: Side) -> Markup {
    let keys = std::iter::once("plus_minus").chain(ReadingForm::FIELDS.iter().map(witnessmark_core::field::Field::key));
    fieldset(loaded, &legend("measured", number, side), keys.map(|key| path_of("measured", number, side, key)))
}

fn fieldset(loaded: &Loaded, legend: &str, paths: impl Iterator<Item = String>) -> Markup {
    html! {
        fieldset {
            legend { (legend) }
            div.fields { @for path in paths { (field::shown(loaded, &path, Note::None).unwrap_or_default()) } }
        }
    }
}
