//! The ledger, for owners: who looked at what, who was let in, who took something away.

use crate::app::{App, Owner};
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::Query;
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;

/// How many lines are shown.
const SHOWN: i64 = 500;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

#[derive(Debug, Deserialize)]
struct Asked {
    /// A build, or whatever else a line is about.
    what: Option<String>,
}

async fn show(owner: Owner, Query(asked): Query<Asked>) -> Result<Markup, Refusal> {
    let what = asked.what.as_deref().filter(|what| !what.is_empty());
    let lines = owner.store().ledger(what, SHOWN).await?;
    let is_build = |what: &str| what.parse::<witnessmark_store::BuildId>().is_ok();
    let main = html! {
        p.back { a href="/people" { "People" } }
        h1 { "Who looked" }
        p.lead {
            "The last " (SHOWN) " lines"
            @if let Some(what) = what { " about " b { (what) } ", " a href="/ledger" { "or about everything" } }
            ". A look at a build is written down once an hour for each person; edits stand in the history of the build."
        }
        @if lines.is_empty() { p.quiet { "Nothing yet. On this machine alone, without a sign-in, nobody’s looks are written down." } }
        ol.history {
            @for line in &lines {
                li {
                    b { (line.who) } " " (line.did) " "
                    @if is_build(&line.what) { a href={ "/builds/" (line.what) } { (line.what) } " (" a href={ "/ledger?what=" (line.what) } { "who else" } ")" }
                    @else { (line.what) }
                    span.quiet { ", " (words::moment(line.at_ms)) }
                }
            }
        }
    };
    Ok(page(&Page { title: "Who looked", main }))
}
