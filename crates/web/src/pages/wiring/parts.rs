//! Units with their ports, wires with their ways, and what is to be bought.

use crate::loaded::Loaded;
use maud::{Markup, html};
use witnessmark_core::compute::{Unit, WireEnd, WireRun, Wiring, station_word};
use witnessmark_core::finding::figure;
use witnessmark_sheets::transmission::port_said;

/// Every unit, numbered as on the drawing, with every port and what is in it.
pub(super) fn units(wiring: &Wiring) -> Markup {
    html! {
        section.area aria-labelledby="units-title" {
            h2 #units-title { "Every port" }
            ol.units { @for (at, unit) in wiring.units.iter().enumerate() { (one_unit(wiring, at, unit)) } }
        }
    }
}

fn one_unit(wiring: &Wiring, at: usize, unit: &Unit) -> Markup {
    let spare = wiring.spare_ports(at);
    html! {
        li {
            p.unit-name {
                b { (crate::pages::build::capital(&unit.name)) }
                @match unit.station.map(station_word) {
                    // A lever and a derailleur sit where their names say.
                    Some(word) if word == unit.name => {}
                    Some(word) => { small { " " (word) } }
                    None => { small { " nobody said where it sits" } }
                }
                @match spare {
                    None => { small { " its ports are not known" } }
                    Some(spare) if spare < 0 => { span.says.stop { " " (-spare) " too few" } }
                    Some(_) => {}
                }
            }
            ul.ports {
                @for port in wiring.ports_of(at) {
                    li.spare[port.holds.is_empty()].wrong[port.exists == Some(false) || port.holds.len() > 1] {
                        span.port-number { (port.number) } " " (port_said(wiring, unit, &port))
                        @if port.holds.len() > 1 { b { " – taken twice" } }
                        @if port.holds.is_empty() { small { " close it with a blank plug" } }
                    }
                }
            }
        }
    }
}

/// Every wire with its way, the length to take, and its sleeve.
pub(super) fn wires(loaded: &Loaded, wiring: &Wiring) -> Markup {
    html! {
        @if !wiring.wires.is_empty() {
            section.area aria-labelledby="wires-title" {
                h2 #wires-title { "Every wire" }
                table.drive-rows {
                    thead { tr {
                        th scope="col" { "wire" } th scope="col" { "from, to" } th scope="col" { "way, mm" }
                        th scope="col" { "needs, mm" } th scope="col" { "listed, mm" } th scope="col" { "take, mm" } th scope="col" { "sleeve, mm" }
                    } }
                    tbody { @for wire in &wiring.wires { (one_wire(loaded, wiring, wire)) } }
                }
                p.quiet {
                    "Way: along the bike with the bar straight. Needs: with slack for the whole sweep of the bar, a loop at the lever, and "
                    "what a plug needs to come out and be joined. Take: the shortest length that is made and long enough. Sleeve: foam or "
                    "tube against rattling, as long as the way inside the frame. Lay a string before the frame is closed."
                }
            }
        }
    }
}

fn one_wire(loaded: &Loaded, wiring: &Wiring, wire: &WireRun) -> Markup {
    let mm = |value: Option<f64>| value.map_or_else(|| "?".to_owned(), |value| figure(value, 0));
    let way = wire.way.as_ref().ok();
    html! {
        tr {
            th scope="row" { a href={ "/builds/" (loaded.id) "/part/" (wire.path) } { (crate::pages::build::capital(&wire.name)) } }
            td.words data-label="from, to" { (end(wiring, &wire.ends[0])) " → " (end(wiring, &wire.ends[1])) }
            td data-label="way, mm" {
                (mm(way.map(|way| way.along_mm)))
                @if let Some(way) = way { small { " ± " (figure(way.plus_minus_mm, 0)) @if way.by_string { " by string" } } }
            }
            td data-label="needs, mm" { (mm(way.map(|way| way.needed_mm))) }
            td data-label="listed, mm" { (mm(wire.length_mm)) }
            td data-label="take, mm" { @if way.is_some() && wire.choice_mm.is_none() { b { "none is made" } } @else { b { (mm(wire.choice_mm)) } } @if !wire.lengths_known { small { " of customary lengths" } } }
            td data-label="sleeve, mm" { (mm(way.map(|way| way.sleeve_mm))) }
        }
        @if let Err(missing) = &wire.way {
            tr.lacks-way { td.words colspan="7" { span.says.caution { "Its way is " (missing) "." } } }
        }
    }
}

fn end(wiring: &Wiring, end: &WireEnd) -> Markup {
    if let Some(unit) = end.unit.and_then(|at| wiring.units.get(at)) {
        return html! { (unit.name) @if let Some(port) = end.port { ", port " (port) } };
    }
    html! {
            span.says.stop {
                @match &end.said {
                    Some(said) => { "«" (said) "», which is not there" }
                    None => { "nobody said where" }
                }
            }
    }
}

/// What is to be bought, and what cannot be.
pub(super) fn to_buy(wiring: &Wiring) -> Markup {
    html! {
        section.area aria-labelledby="buy-title" {
            h2 #buy-title { "To buy" }
            @if wiring.buy.is_empty() && wiring.none_made.is_empty() { p.quiet { "Nothing: every wire is there already, or its length is not known yet." } }
            ul.to-buy {
                @for buy in &wiring.buy {
                    li { b { (buy.wires.len()) " × " (figure(buy.length_mm, 0)) " mm" } " for " (buy.wires.join(", ")) }
                }
                @for wire in wiring.none_made.iter().filter_map(|at| wiring.wires.get(*at)) {
                    li {
                        span.says.stop { "No " (wire.name) " is made long enough" }
                        @if let Ok(way) = &wire.way { ": it needs " (figure(way.needed_mm, 0)) " mm. Put a junction on the way." }
                    }
                }
            }
        }
    }
}
