//! Number by number: the best that is known of each build and whether the two are the same, and left against right.

use super::super::build::{capital, fragment::AREAS};
use crate::words::{count, plain, signed, with_unit};
use maud::{Markup, html};
use witnessmark_core::compare::{Against, Comparison, Row};
use witnessmark_core::field::{Choice, Kind};
use witnessmark_core::held::Held;
use witnessmark_core::number::{Area, Number, Side};
use witnessmark_core::survey::Agreement;

/// The half width that holds the truth 95 times in 100, in standard uncertainties.
const NINETY_FIVE: f64 = 1.96;

/// A number of both builds, and the second against the first.
type Pair<'a> = (&'a Row, &'a Against);

/// First what differs; what is the same, and what only one of the two has, is folded away.
pub(super) fn tables(comparison: &Comparison) -> Markup {
    let of = |wanted: Agreement| -> Vec<Pair<'_>> {
        let rows = comparison.rows.iter().filter_map(|row| Some((row, row.against_first.first()?)));
        rows.filter(|(_, against)| against.agreement == wanted).collect()
    };
    let moved = of(Agreement::Moved);
    let within = of(Agreement::WithinReading);
    let same = of(Agreement::Same);
    let lone = of(Agreement::NotKnown);
    html! {
        section.area aria-labelledby="numbers-title" {
            h2 #numbers-title { "Number by number" }
            p.tally-of {
                b { (count(moved.len(), "number")) @if moved.len() == 1 { " differs" } @else { " differ" } } "; "
                (same.len()) " the same; " (within.len()) " the same within what was measured; " (lone.len()) " known of one of the two only"
            }
            @if moved.is_empty() { p.quiet { "Nothing that is known of both differs." } } @else { (table(&moved)) }
            @for (title, list) in [("The same within what was measured", &within), ("The same", &same), ("Known of one only", &lone)] {
                @if !list.is_empty() {
                    details.fold { summary { (title) " " small { (list.len()) } } (table(list)) }
                }
            }
        }
    }
}

fn table(list: &[Pair<'_>]) -> Markup {
    html! {
        table.compared {
            thead { tr {
                th scope="col" { "number" } th scope="col" { "A" } th scope="col" { "B" }
                th scope="col" { "B less A" } th scope="col" { "may differ by" } th scope="col" { "verdict" }
            } }
            @for area in AREAS {
                @let here: Vec<&Pair<'_>> = list.iter().filter(|(row, _)| row.number.area == area).collect();
                @if !here.is_empty() { tbody { (heading(area)) @for pair in here { (row(pair)) } } }
            }
        }
    }
}

fn heading(area: Area) -> Markup {
    html! { tr.area-of { th colspan="6" scope="rowgroup" { (capital(area.name())) } } }
}

fn row((row, against): &Pair<'_>) -> Markup {
    let kind = row.number.kind;
    let held = |bike: usize| row.held.get(bike).copied().flatten();
    html! {
        tr data-number=(row.number.id) {
            th scope="row" { (named(row.number, row.side)) }
            td.figure data-label="A" { (value(row.number, held(0))) }
            td.figure data-label="B" { (value(row.number, held(1))) }
            td data-label="B less A" {
                @if let Some((difference, sd)) = against.difference { b { (signed(kind, difference)) } (give_or_take(kind, sd)) }
            }
            td data-label="may differ by" { (with_unit(kind, against.tolerance)) }
            td data-label="verdict" { (verdict(against.agreement)) }
        }
    }
}

fn named(number: &Number, side: Side) -> String {
    if side.word().is_empty() { number.name.to_owned() } else { format!("{}, {}", number.name, side.word()) }
}

/// Nothing where nothing was read; else never less than the last place shown.
fn give_or_take(kind: Kind, sd: f64) -> String {
    if sd > 0.0 { format!(" ± {}", plain(kind, (NINETY_FIVE * sd).max(0.1))) } else { String::new() }
}

/// The word for a verdict.
fn verdict(agreement: Agreement) -> Markup {
    html! { @match agreement { Agreement::Moved => b.unchecked { "they differ" }, other => (other.name()) } }
}

fn value(number: &Number, held: Option<Held>) -> Markup {
    html! {
        @match held {
            Some(held) => { (with_unit(number.kind, held.value)) " " small { (held.source.name()) } }
            None => small { "not known" },
        }
    }
}

/// Left against right, on each of the two.
pub(super) fn sides(comparison: &Comparison) -> Markup {
    let bikes = || comparison.names.iter().zip(&comparison.sides);
    html! {
        section.area aria-labelledby="sides-title" {
            h2 #sides-title { "Left and right" }
            @if comparison.sides.iter().all(Vec::is_empty) { p.quiet { "No number is known on both sides of one bike." } } @else {
                table.compared {
                    thead { tr {
                        th scope="col" { "number" } th scope="col" { "left" } th scope="col" { "right" }
                        th scope="col" { "differ by" } th scope="col" { "may differ by" } th scope="col" { "verdict" }
                    } }
                    @for (letter, sides) in bikes() { tbody {
                        tr.area-of { th colspan="6" scope="rowgroup" { (letter) @if sides.is_empty() { " " small { "nothing is known on both sides" } } } }
                        @for one in sides {
                            @let kind = one.number.kind;
                            tr {
                                th scope="row" { (one.number.name) }
                                td.figure data-label="left" { (value(one.number, Some(one.left))) }
                                td.figure data-label="right" { (value(one.number, Some(one.right))) }
                                td data-label="differ by" { (with_unit(kind, (one.left.value - one.right.value).abs())) (give_or_take(kind, one.sd)) }
                                td data-label="may differ by" { (with_unit(kind, one.tolerance)) }
                                td data-label="verdict" { (verdict(one.agreement)) }
                            }
                        }
                    } }
                }
            }
        }
    }
}
