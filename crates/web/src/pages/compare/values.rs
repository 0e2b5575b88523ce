//! Number by number: the best that is known of each build, and whether the two are the same.
//!
//! Best known is what was read off the bike, then what its survey gives, then what is planned. A difference is judged
//! against the number's tolerance and against how well the two values are known.

use super::super::build::{capital, fragment::AREAS};
use super::One;
use crate::loaded::Loaded;
use crate::words::{count, plain, signed, with_unit};
use maud::{Markup, html};
use witnessmark_core::field::Choice;
use witnessmark_core::number::{self, Area, Number, Side, Sides};
use witnessmark_core::survey::{Agreement, Survey, side_tolerance, survey};

/// A value with its standard uncertainty and where it comes from.
#[derive(Clone, Copy)]
struct Best {
    value: f64,
    sd: f64,
    from: &'static str,
}

/// The best that is known of a bike.
struct Known<'a> {
    loaded: &'a Loaded,
    survey: Option<Survey>,
}

impl<'a> Known<'a> {
    fn of(loaded: &'a Loaded) -> Self {
        let survey = (!loaded.build.survey.is_empty()).then(|| survey(&loaded.build));
        Known { loaded, survey }
    }

    fn best(&self, number: &Number, side: Side) -> Option<Best> {
        let planned = self.loaded.plan.numbers.of(number, side);
        if let Some(read) = planned.and_then(|one| one.measured.as_ref()) {
            // Surely inside, and nowhere likelier than elsewhere: a rectangle's standard uncertainty (JCGM 100, 4.3.7).
            let sd = read.plus_minus.unwrap_or(0.0) / 3.0_f64.sqrt();
            return Some(Best { value: read.value, sd, from: "measured" });
        }
        if let Some(value) = self.survey.as_ref().and_then(|survey| survey.of(number, side)) {
            return Some(Best { value: value.value, sd: value.sd, from: "surveyed" });
        }
        let value = planned?.planned.as_ref().ok()?;
        Some(Best { value: *value, sd: 0.0, from: "planned" })
    }
}

/// A number of both builds.
pub(super) struct Compared {
    number: &'static Number,
    side: Side,
    a: Option<Best>,
    b: Option<Best>,
    tolerance: f64,
    agreement: Agreement,
}

/// Every number that is known of one of the two at least.
pub(super) fn of(a: &One, b: &One) -> Vec<Compared> {
    let (a, b) = (Known::of(&a.loaded), Known::of(&b.loaded));
    let all = a.loaded.plan.numbers.each().iter();
    all.filter_map(|one| {
        let (number, side) = (one.number, one.side);
        let (best_a, best_b) = (a.best(number, side), b.best(number, side));
        if best_a.is_none() && best_b.is_none() {
            return None;
        }
        // Two bikes are the same within what the closer of the two asks.
        let tolerance =
            b.loaded.plan.numbers.of(number, side).map_or(one.tolerance, |other| one.tolerance.min(other.tolerance));
        let agreement = match (best_a, best_b) {
            (Some(a), Some(b)) => Agreement::of(b.value - a.value, a.sd.hypot(b.sd), tolerance),
            _ => Agreement::NotKnown,
        };
        Some(Compared { number, side, a: best_a, b: best_b, tolerance, agreement })
    })
    .collect()
}

/// The word for a verdict between two bikes.
fn verdict(agreement: Agreement) -> Markup {
    html! { @match agreement { Agreement::Moved => b.unchecked { "they differ" }, other => (other.name()) } }
}

/// First what differs; what is the same, and what only one of the two has, is folded away.
pub(super) fn tables(all: &[Compared]) -> Markup {
    let of = |wanted: &[Agreement]| all.iter().filter(|one| wanted.contains(&one.agreement)).collect::<Vec<_>>();
    let moved = of(&[Agreement::Moved]);
    let within = of(&[Agreement::WithinReading]);
    let same = of(&[Agreement::Same]);
    let lone = of(&[Agreement::NotKnown]);
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

fn table(list: &[&Compared]) -> Markup {
    html! {
        table.compared {
            thead { tr { th scope="col" { "number" } th scope="col" { "A" } th scope="col" { "B" } th scope="col" { "B less A" } th scope="col" { "may differ by" } th scope="col" { "verdict" } } }
            @for area in AREAS {
                @let here: Vec<&&Compared> = list.iter().filter(|one| one.number.area == area).collect();
                @if !here.is_empty() { tbody { (heading(area)) @for one in here { (row(one)) } } }
            }
        }
    }
}

fn heading(area: Area) -> Markup {
    html! { tr.area-of { th colspan="6" scope="rowgroup" { (capital(area.name())) } } }
}

fn row(one: &Compared) -> Markup {
    let kind = one.number.kind;
    let difference = one.a.zip(one.b).map(|(a, b)| (b.value - a.value, a.sd.hypot(b.sd)));
    html! {
        tr data-number=(one.number.id) {
            th scope="row" { (one.number.name) @if !one.side.word().is_empty() { ", " (one.side.word()) } }
            td.figure data-label="A" { (value(one.number, one.a)) }
            td.figure data-label="B" { (value(one.number, one.b)) }
            td data-label="B less A" {
                @if let Some((difference, sd)) = difference {
                    b { (signed(kind, difference)) }
                    @if sd > 0.0 { " ± " (plain(kind, (1.96 * sd).max(0.1))) }
                }
            }
            td data-label="may differ by" { (with_unit(kind, one.tolerance)) }
            td data-label="verdict" { (verdict(one.agreement)) }
        }
    }
}

fn value(number: &Number, best: Option<Best>) -> Markup {
    html! { @match best { Some(best) => { (with_unit(number.kind, best.value)) " " small { (best.from) } }, None => small { "not known" } } }
}

/// Left against right, on each of the two.
pub(super) fn sides(a: &One, b: &One) -> Markup {
    let bikes = [(a.letter, Known::of(&a.loaded)), (b.letter, Known::of(&b.loaded))];
    let rows: Vec<(&Number, &str, Best, Best)> = number::all()
        .filter(|number| number.sides == Sides::LeftRight)
        .flat_map(|number| {
            bikes.iter().filter_map(move |(letter, known)| {
                Some((number, *letter, known.best(number, Side::Left)?, known.best(number, Side::Right)?))
            })
        })
        .collect();
    html! {
        section.area aria-labelledby="sides-title" {
            h2 #sides-title { "Left and right" }
            @if rows.is_empty() { p.quiet { "No number is known on both sides of one bike." } } @else {
                table.compared {
                    thead { tr { th scope="col" { "number" } th scope="col" { "bike" } th scope="col" { "left" } th scope="col" { "right" } th scope="col" { "may differ by" } th scope="col" { "verdict" } } }
                    tbody { @for (number, letter, left, right) in &rows {
                        @let tolerance = side_tolerance(number);
                        @let agreement = Agreement::of(left.value - right.value, left.sd.hypot(right.sd), tolerance);
                        tr {
                            th scope="row" { (number.name) }
                            td data-label="bike" { (letter) }
                            td.figure data-label="left" { (value(number, Some(*left))) }
                            td.figure data-label="right" { (value(number, Some(*right))) }
                            td data-label="may differ by" { (with_unit(number.kind, tolerance)) }
                            td data-label="verdict" { (verdict(agreement)) }
                        }
                    } }
                }
            }
        }
    }
}
