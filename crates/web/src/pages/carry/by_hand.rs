//! What to set on the other bike and what to measure when it is set, in working order, each with how it is taken.

use crate::loaded::Loaded;
use maud::{Markup, html};
use witnessmark_core::carry::{ByHand, Carried};
use witnessmark_core::search::shelf_part;

pub(super) fn tables(carried: &Carried, onto: &Loaded) -> Markup {
    html! {
        section.area #carry-set aria-labelledby="set-title" {
            h2 #set-title { "Set by hand" }
            (parts(carried))
            @if carried.to_set.is_empty() { p.quiet { "Nothing can be set yet: see above what is missing." } } @else {
                (list("set", "to", &carried.to_set))
            }
            p.links { a href={ "/builds/" (onto.id) "/reach" } { "other ways, with what is asked there now" } }
        }
        section.area #carry-check aria-labelledby="check-title" {
            h2 #check-title { "Then measure" }
            @if carried.to_check.is_empty() { p.quiet { "Nothing yet." } } @else { (list("measure", "should be", &carried.to_check)) }
        }
    }
}

/// The parts that were chosen, and among how many ways.
fn parts(carried: &Carried) -> Markup {
    html! {
        @if let Some(front) = &carried.front {
            p { "At the front: " b { (shelf_part(&front.stem)) @if front.flipped { ", the other way up" } @if front.bar != front.stem { " + " (shelf_part(&front.bar)) } }
                ", the best of " (carried.reach.front.tried) " combinations." }
        }
        @if let Some(rear) = &carried.rear {
            p { "At the saddle: " b { (shelf_part(&rear.saddle)) " + " (shelf_part(&rear.post)) } "." }
        }
    }
}

fn list(what: &str, value: &str, list: &[ByHand]) -> Markup {
    html! {
        table.compared.by-hand {
            thead { tr { th scope="col" { (what) } th scope="col" { (value) } th scope="col" { "how" } } }
            tbody { @for one in list {
                tr {
                    th scope="row" { (one.words) }
                    td.figure data-label=(value) { (one.value) }
                    td.how data-label="how" { (one.how) }
                }
            } }
        }
    }
}
