//! The shift wires of a build: the tree along the bike, every port with what is in it, every wire with its way, its length
//! and its sleeve, and what is to be bought. A wrong tree says what is wrong at which end, before anything else.

mod parts;

#[cfg(test)]
mod tests;

use super::build::loaded;
use super::chain::picture::{Paper, picture, tenth};
use super::gears::found;
use crate::app::App;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Path, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use witnessmark_core::compute::Wiring;
use witnessmark_core::draw::{self, Drawing, Role};
use witnessmark_core::model::Model;
use witnessmark_sheets::transmission::{WIRE_CHECKS, found_by};

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

async fn show(State(app): State<App>, Path(id): Path<String>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    Ok(app.compute(move || whole(&loaded)).await)
}

fn whole(loaded: &Loaded) -> Markup {
    let wiring = &loaded.plan.worked.wiring;
    let main = html! {
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { "Shift wires" }
        p.links {
            a href={ "/builds/" (loaded.id) "#frame-and-routing" } { "frame and routing" }
            a href={ "/builds/" (loaded.id) "#transmission" } { "transmission" }
            a href={ "/builds/" (loaded.id) "/wiring.json" } { "as JSON" }
        }
        (in_short(loaded, wiring))
        @if !wiring.absent() {
            (found(&loaded.plan, WIRE_CHECKS, loaded))
            (tree(loaded, wiring))
            (parts::units(wiring))
            (parts::wires(loaded, wiring))
            (parts::to_buy(wiring))
        }
    };
    page(&Page { title: &format!("Shift wires of {}", loaded.title()), main })
}

/// How the tree stands, in a sentence.
fn in_short(loaded: &Loaded, wiring: &Wiring) -> Markup {
    if wiring.absent() {
        return html! {
            p.lead { "No wires: nothing on this bike waits for one." }
            p.quiet { "A wired system is told by its levers, derailleurs, junctions and battery with their ports, and by a wire for each way between two of them." }
            p.links { a href={ "/builds/" (loaded.id) "/add" } { "add a part" } }
        };
    }
    let wrong = found_by(&loaded.plan, WIRE_CHECKS)
        .filter(|finding| finding.severity == witnessmark_core::finding::Severity::Stop)
        .count();
    let spare: i64 =
        (0..wiring.units.len()).filter_map(|unit| wiring.spare_ports(unit)).filter(|spare| *spare > 0).sum();
    html! {
        p.lead {
            b { (crate::words::count(wiring.units.len(), "unit")) } ", " b { (crate::words::count(wiring.wires.len(), "wire")) } ". "
            @if wrong > 0 { b { "As it stands it does not work: " (crate::words::count(wrong, "thing")) " to put right, below." } }
            @else if spare > 0 { (crate::words::count(usize::try_from(spare).unwrap_or_default(), "spare port")) "." }
            @else { "No port stays free." }
        }
    }
}

/// The tree along the bike, its units numbered as in the list.
fn tree(loaded: &Loaded, wiring: &Wiring) -> Markup {
    let drawing = draw::wiring(&Model::new(&loaded.build), &loaded.plan.worked);
    if drawing.marks.is_empty() {
        return html! {};
    }
    // Behind the wires the bike itself, as far as it is known.
    let bike = Drawing {
        marks: loaded
            .plan
            .drawing
            .marks
            .iter()
            .filter(|mark| matches!(mark.role, Role::Frame | Role::Wheel))
            .cloned()
            .collect(),
        callouts: Vec::new(),
    };
    let numbers = html! {
        g.numbers-of-units {
            @for callout in &drawing.callouts {
                @if let Some(at) = wiring.units.iter().position(|unit| unit.path == callout.about) {
                    text x=(tenth(callout.at.x_mm)) y=(tenth(-callout.at.y_mm + 12.0)) text-anchor="middle" { (at + 1) }
                }
            }
        }
    };
    let says = format!(
        "The shift wires along the bike, to scale, drive side: {} units, numbered as in the list below, and {} wires.",
        drawing.callouts.len(),
        wiring.wires.len()
    );
    let left_out = wiring.units.len().saturating_sub(drawing.callouts.len());
    html! {
        section.area aria-labelledby="tree-title" {
            h2 #tree-title { "Along the bike" }
            figure.to-scale.wiring-drawing {
                (picture(&[&bike, &drawing], &Paper { room_for: &[&bike, &drawing], margin_mm: 40.0, says: &says }, &numbers))
                figcaption {
                    span { "numbers: the units below" }
                    span { "to scale, drive side; units that share a place stand below one another" }
                    @if left_out > 0 { span { b { (left_out) " not drawn: nobody said where they sit" } } }
                }
            }
        }
    }
}
