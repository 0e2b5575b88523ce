//! Number by number: as it was, as it is wanted on the other bike, as it comes there, and whether that is the same.

use crate::words::{plain, signed, with_unit};
use maud::{Markup, html};
use witnessmark_core::carry::{Carried, Row};
use witnessmark_core::field::Choice;
use witnessmark_core::survey::Agreement;

/// The half width that holds the truth 95 times in 100, in standard uncertainties.
const NINETY_FIVE: f64 = 1.96;

pub(super) fn tables(carried: &Carried) -> Markup {
    let (position, noticed): (Vec<&Row>, Vec<&Row>) =
        carried.rows.iter().filter(|row| row.was.is_some() || row.comes.is_some()).partition(|row| row.is_position);
    html! {
        section.area #carry-position aria-labelledby="position-title" {
            h2 #position-title { "The position" }
            @if position.is_empty() { p.quiet { "Nothing of it is known on the old bike." } } @else { (table(&position)) }
            @if !noticed.is_empty() {
                h3 { "What else the rider will notice" }
                (table(&noticed))
                p.quiet { "These follow from the parts. They differ where the bikes do, also when the position is kept." }
            }
        }
    }
}

fn table(rows: &[&Row]) -> Markup {
    html! {
        table.compared {
            thead { tr {
                th scope="col" { "number" } th scope="col" { "was" } th scope="col" { "wanted" } th scope="col" { "comes" }
                th scope="col" { "off by" } th scope="col" { "verdict" }
            } }
            tbody { @for row in rows { (line(row)) } }
        }
    }
}

fn line(row: &Row) -> Markup {
    let kind = row.number.kind;
    let unknown = || html! { small { "not known" } };
    html! {
        tr data-number=(row.number.id) {
            th scope="row" { (row.number.name) @if !row.side.word().is_empty() { ", " (row.side.word()) } }
            td.figure data-label="was" {
                @match row.was {
                    Some(was) => {
                        (with_unit(kind, was.value))
                        // Never less than the last place shown: "± 0" would be a lie.
                        @if was.sd > 0.0 { small { " ±\u{a0}" (plain(kind, (NINETY_FIVE * was.sd).max(0.1))) } }
                        " " small { (was.source.name()) }
                    }
                    None => (unknown()),
                }
            }
            td data-label="wanted" { @match row.wanted { Some(wanted) => (with_unit(kind, wanted)), None => (unknown()) } }
            td.figure data-label="comes" { @match row.comes { Some(comes) => (with_unit(kind, comes)), None => (unknown()) } }
            td data-label="off by" { @if let Some(off) = row.off { (signed(kind, off)) } }
            td data-label="verdict" { (verdict(row)) }
        }
    }
}

/// What is not of the position is not lost where it changes: it is only another.
fn verdict(row: &Row) -> Markup {
    html! {
        @match (row.agreement, row.is_position) {
            (Agreement::Moved, true) => b.unchecked { "not kept" },
            (Agreement::Moved, false) => b { "another" },
            (Agreement::Same, true) => "kept",
            (Agreement::WithinReading, true) => "kept within what was measured",
            (other, _) => (other.name()),
        }
    }
}
