//! What the program checks, and why: made from the checks themselves.

use super::build::{capital, head};
use crate::app::App;
use crate::shell::{Page, page};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use witnessmark_core::check::{ALL, Check, Weight};
use witnessmark_core::field::Choice;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

async fn show() -> Markup {
    let main = html! {
        h1 { "What is checked" }
        p.lead {
            (ALL.len()) " checks. Each is silent, finds something, or says what it lacks to judge; "
            "a missing fact is never a pass."
        }
        @for checks in ALL.chunk_by(|a, b| a.concern == b.concern) {
            @if let Some(first) = checks.first() {
                section.area id=(first.concern) {
                    h2 { (concern(first.concern)) }
                    @for check in checks { (one(check)) }
                }
            }
        }
    };
    page(&Page { title: "What is checked", main })
}

fn one(check: &Check) -> Markup {
    let severity = check.severity();
    html! {
        article.check id=(check.id) {
            h3 { (check.title()) }
            p.weight {
                span class={ "count " (severity.name()) } { (head::shape(severity)) (severity.name()) }
                " " code { (check.id) }
                @if let Weight::Other(_, reason) = check.weight { " because " (reason) }
            }
            dl {
                @for heading in ["looks at", "why"] {
                    @if let Some(text) = check.heading(heading) { dt { (capital(heading)) } dd { (capital(&text)) } }
                }
                dt { "Source" } dd { (check.source) }
                @for heading in ["fits", "does not fit", "not known"] {
                    @if let Some(text) = check.heading(heading) { dt { (capital(heading)) } dd { (capital(&text)) } }
                }
            }
        }
    }
}

/// What a concern asks.
fn concern(key: &str) -> String {
    match key {
        "fits" => "Does every part fit every part it touches?".into(),
        "reach" => "Can the asked position be reached?".into(),
        "race" => "May the bike race?".into(),
        "safe" => "Is it safe?".into(),
        "asked" => "Is it clear what was asked?".into(),
        other => capital(&crate::words::of_key(other)),
    }
}
