//! Every bolt of a build: how hard, by whose limit, with what, what that pulls against what the bolt bears, and what was
//! done. Bolts that stand open, and those whose torque is not known, come before everything else.
//!
//! What is done is recorded at the stand; here stand the facts of the screw itself and the wrenches.

mod bolt;
mod wrenches;

#[cfg(test)]
mod tests;

use super::build::capital;
use super::gears::found;
use super::whole::Whole;
use crate::app::App;
use crate::loaded::Loaded;
use crate::words::count;
use axum::routing::MethodRouter;
use maud::{Markup, html};
use witnessmark_core::compute::{Fastener, Fasteners};
use witnessmark_core::field::Choice;
use witnessmark_core::stand::stand;
use witnessmark_sheets::finish::BOLT_CHECKS;

pub(super) static WHOLE: Whole = Whole { word: "fasteners", title: "Bolts", body };

pub(super) fn methods() -> MethodRouter<App> {
    WHOLE.methods()
}

fn body(loaded: &Loaded) -> Markup {
    let all = &loaded.plan.worked.fasteners;
    let work = stand(&loaded.build, &loaded.plan);
    html! {
        p.links {
            a href={ "/builds/" (loaded.id) "/stand#step-torque-round" } { "the torque round at the stand" }
            a href={ "/builds/" (loaded.id) "/sheets/torque.pdf" } { "torque record as PDF" }
            a href={ "/builds/" (loaded.id) "/fasteners.json" } { "as JSON" }
        }
        @if all.list.is_empty() {
            p.lead { "No part with a bolt is listed yet." }
        } @else {
            (in_short(all))
            p.caution {
                b { "The maker’s own instruction goes before every figure here. " }
                "A torque is the lowest that any of the joined parts states or allows, for the thread as it is written: clean, and "
                "with the compound that is named. Where one of the parts is silent the torque is not known, and asked for."
            }
            (at_a_glance(all))
            (found(&loaded.plan, BOLT_CHECKS, loaded))
            @for bolts in all.list.chunk_by(|a, b| a.area == b.area) {
                @if let Some(first) = bolts.first() {
                    @let id = format!("bolts-{}", first.area.name().replace(' ', "-"));
                    section.area.bolts-of aria-labelledby=(id) {
                        h2 id=(id) { (capital(first.area.name())) }
                        @for one in bolts { (bolt::card(loaded, &work, one)) }
                    }
                }
            }
            p.quiet {
                "Pull: of each screw, by the turning moment less friction in the thread and under the head, between the least and the "
                "most friction that the compound leaves and for a wrench that errs as it may. Bears: the load that its strength class "
                "promises without lengthening. Friction is known to a factor of two at best."
            }
        }
        (wrenches::section(loaded))
    }
}

fn in_short(all: &Fasteners) -> Markup {
    let (closed, bolts) = all.closed();
    let open = all.open().count();
    let unknown = all.list.iter().filter(|bolt| bolt.torque_nm().is_err()).count();
    html! {
        p.lead {
            b { (closed) " of " (bolts) } " at their torque"
            @if open > 0 { ", " b { (open) " left open" } }
            @if unknown > 0 { ", " b { (count(unknown, "torque") ) " not known" } }
            "."
        }
    }
}

/// What holds the bike back, in a list to be run down with a finger.
fn at_a_glance(all: &Fasteners) -> Markup {
    let open: Vec<&Fastener> = all.open().collect();
    let untouched: Vec<&Fastener> = all.list.iter().filter(|bolt| bolt.state().is_none()).collect();
    let unknown: Vec<&Fastener> = all.list.iter().filter(|bolt| bolt.torque_nm().is_err()).collect();
    let unmarked: Vec<&Fastener> =
        all.list.iter().filter(|bolt| bolt.state().is_some() && bolt.witness() != Some(true)).collect();
    let nothing = [&open, &untouched, &unknown, &unmarked].iter().all(|bolts| bolts.is_empty());
    if nothing && all.strangers.is_empty() {
        return html! { p { "Nothing is left open, every torque is known, and a line is painted across every bolt." } };
    }
    html! {
        dl.facts.glance {
            (row("left open: the bike is not released", "stop", &open))
            (row("whose torque is not known", "stop", &unknown))
            (row("not touched yet", "caution", &untouched))
            (row("no line painted", "caution", &unmarked))
            @if !all.strangers.is_empty() {
                dt { span.says.caution { "recorded, and on no part of this bike" } }
                dd { (all.strangers.join(", ")) }
            }
        }
    }
}

fn row(says: &str, severity: &str, bolts: &[&Fastener]) -> Markup {
    html! {
        @if !bolts.is_empty() {
            dt { span class={ "says " (severity) } { (bolts.len()) " " (says) } }
            dd { ul.in-a-row { @for bolt in bolts { li { a href={ "#bolt." (bolt.id) } { (bolt.name) } } } } }
        }
    }
}
