//! What happened to a build, or to one field or part of it: who, when, from what to what, and the way back.

use super::build::loaded;
use crate::app::App;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::{key, words};
use axum::extract::{Path, Query, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_core::Build;
use witnessmark_core::model::in_words;
use witnessmark_store::EditRow;

#[cfg(test)]
mod tests;

/// How many changed fields are looked back on.
const LOOKED_BACK: i64 = 2_000;
/// How many fields of one change are shown before the rest is counted.
const SHOWN: usize = 12;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

#[derive(Debug, Deserialize)]
struct Asked {
    /// A field, or the beginning of the paths of several: `parts.stem`.
    #[serde(default)]
    path: String,
}

async fn show(State(app): State<App>, Path(id): Path<String>, Query(asked): Query<Asked>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let path = asked.path.as_str();
    let rows = if Build::field(path).is_ok() {
        let mut rows = app.store().history(&loaded.id, path).await?;
        rows.reverse();
        rows
    } else {
        let mut rows = app.store().recent(&loaded.id, LOOKED_BACK).await?;
        rows.retain(|row| path.is_empty() || row.path.strip_prefix(path).is_some_and(|rest| rest.starts_with('.')));
        rows
    };
    let title = if path.is_empty() {
        format!("Changes of {}", loaded.title())
    } else {
        format!("History of {}", in_words(path))
    };
    let main = html! {
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { (title) }
        @if rows.is_empty() { p.quiet { "Nothing was ever written here." } }
        ol.history { @for change in rows.chunk_by(|a, b| a.revision == b.revision) { (one(&loaded, change, path)) } }
    };
    Ok(page(&Page { title: &title, main }))
}

/// One change with its fields.
fn one(loaded: &Loaded, rows: &[EditRow], path: &str) -> Markup {
    let Some(first) = rows.first() else { return html! {} };
    let said = |text: &Option<String>| html! { @match text { Some(text) => b { (text) }, None => i { "not known" } } };
    html! {
        li {
            p.by {
                b { (first.who) } ", " (words::moment(first.at_ms)) ", change " (first.revision)
                @if let Some(undone) = first.undoes { ", takes back change " (undone) }
                @if first.revision == 1 { ", made the build" }
            }
            ul {
                @for row in rows.iter().take(SHOWN) {
                    li {
                        a href={ "/builds/" (loaded.id) "/history?path=" (row.path) } { (in_words(&row.path)) }
                        ": " (said(&row.before)) " became " (said(&row.after))
                    }
                }
                @if rows.len() > SHOWN { li.quiet { "and " (rows.len() - SHOWN) " more" } }
            }
            @if first.revision > 1 {
                form method="post" action={ "/builds/" (loaded.id) "/undo" } {
                    input type="hidden" name="revision" value=(first.revision);
                    input type="hidden" name="key" value=(key::draw());
                    input type="hidden" name="path" value=(path);
                    input type="hidden" name="who" value="";
                    button { "undo change " (first.revision) }
                }
            }
        }
    }
}
