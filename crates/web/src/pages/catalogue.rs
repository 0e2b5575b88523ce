//! The shop's catalogue: searched as one types, kind by kind, and the ways in and out of it.

use super::build::capital;
use super::build::fragment::Answer;
use crate::app::App;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::{Query, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_core::catalogue::Entry;
use witnessmark_core::part::{KINDS, PartKind};

pub(crate) mod found;
#[cfg(test)]
mod tests;

/// How many parts of a kind are listed on one page.
const LISTED: usize = 200;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

/// The address of a part's own page.
pub(crate) fn address(entry: &Entry) -> String {
    format!("/catalogue/part/{}/{}", entry.kind.key, entry.id)
}

#[derive(Debug, Default, Deserialize)]
struct Asked {
    /// Words to search for.
    #[serde(default)]
    q: String,
    /// A kind to be listed whole.
    kind: Option<String>,
    /// How many of it are passed over.
    #[serde(default)]
    from: usize,
}

async fn show(State(app): State<App>, Query(asked): Query<Asked>, headers: HeaderMap) -> Result<Response, Refusal> {
    let catalogue = app.catalogue().await?;
    let typed = found::query(&asked.q);
    let link = |entry: &Entry| html! { span.ways-in { a href=(address(entry)) aria-label={ (entry.name()) ": all facts" } { "all facts" } } };
    let hits = found::list(&catalogue, &typed, link);
    if headers.contains_key("x-pieces") {
        return Ok(Answer { status: StatusCode::OK, pieces: vec![hits], stale: false }.into_response());
    }
    let kind = match &asked.kind {
        None => None,
        Some(key) => Some(
            witnessmark_core::part::kind(key)
                .ok_or_else(|| Refusal::NothingSoNamed { name: key.clone(), why: "it is no kind of part".into() })?,
        ),
    };
    let many = catalogue.parts().len();
    let main = html! {
        h1 { "The shop’s catalogue" }
        @if many == 0 {
            p.lead { "It is empty. Parts come in as tables, one kind a file, or as TOML; a part that is kept here is used in as many builds as you like." }
        } @else {
            p.lead { (words::count(many, "part")) ", kept once and used in any build." }
            (found::form("/catalogue", &typed, "Find a part"))
            (hits.html)
        }
        p.links {
            a href="/catalogue/import" { "bring parts in" }
            @if many > 0 { a href="/catalogue/export/parts.toml" { "all of it as TOML" } }
        }
        @if let Some(kind) = kind { (one_kind(kind, catalogue.of_kind(kind.key), asked.from)) }
        @if many > 0 { (kinds(&catalogue)) }
        @if !catalogue.unread.is_empty() {
            section.unread {
                h2 { "Kept, and not understood" }
                ul { @for problem in catalogue.unread.iter().take(100) { li { (problem) "." } } }
            }
        }
    };
    Ok(page(&Page { title: "The shop’s catalogue", main }).into_response())
}

fn kinds(catalogue: &crate::catalogue::Catalogue) -> Markup {
    html! {
        section aria-labelledby="kinds-title" {
            h2 #kinds-title { "By kind" }
            table.becomes.kinds {
                thead { tr { th scope="col" { "kind" } th scope="col" { "parts" } th scope="col" { "as a table" } } }
                tbody {
                    @for kind in KINDS {
                        @let count = catalogue.of_kind(kind.key).len();
                        @if count > 0 {
                            tr {
                                th scope="row" { a href={ "/catalogue?kind=" (kind.key) "#kind" } { (words::of_key(kind.key)) } }
                                td data-label="parts" { (count) }
                                td data-label="as a table" {
                                    a href={ "/catalogue/export/" (kind.key) ".csv" } { "with commas" } " · "
                                    a href={ "/catalogue/export/" (kind.key) ".csv?semicolons=yes" } { "with semicolons" }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn one_kind(kind: &PartKind, parts: &[Entry], from: usize) -> Markup {
    let here: Vec<&Entry> = parts.iter().skip(from).take(LISTED).collect();
    html! {
        section #kind aria-labelledby="kind-title" {
            h2 #kind-title { (capital(&words::of_key(kind.key))) " " small { (parts.len()) } }
            @if here.is_empty() { p.quiet { "None here." } }
            ol.hits {
                @for entry in &here {
                    li { span.hit { a href=(address(entry)) { (entry.name()) } " " (found::figures(entry)) } }
                }
            }
            p.links {
                @if from > 0 { a href={ "/catalogue?kind=" (kind.key) "&from=" (from.saturating_sub(LISTED)) "#kind" } { "those before" } }
                @if from + LISTED < parts.len() { a href={ "/catalogue?kind=" (kind.key) "&from=" (from + LISTED) "#kind" } { "those after" } }
            }
        }
    }
}
