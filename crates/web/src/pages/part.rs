//! One part of a build with all its facts, fitted or about to be: the first fact that is filled in adds it.

use super::build::{capital, fragment, loaded, parts, told_nothing, walk};
use crate::app::App;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Path, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use witnessmark_core::part;

#[cfg(test)]
mod tests;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

async fn show(State(app): State<App>, Path((id, path)): Path<(String, String)>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let Some(part) = parts::PartAt::from_path(&path) else {
        return Err(Refusal::NothingSoNamed { name: path, why: "no part has its place there".into() });
    };
    let is_there = loaded.leaves.keys().any(|leaf| leaf.strip_prefix(&path).is_some_and(|rest| rest.starts_with('.')));
    let area = part::kind(part.kind).map(|kind| walk::id_of(kind.area)).unwrap_or_default();
    let (anchor, lies) = if part.section == "shelf" { ("shelf", "on the shelf") } else { (area.as_str(), "fitted") };
    let words = part.words();
    let main = html! {
        (fragment::revision(&loaded))
        p.back { a href={ "/builds/" (loaded.id) "#" (anchor) } { (loaded.title()) } }
        h1 { (capital(&words)) }
        @if !is_there { p.lead { "Not " (lies) " yet. The first fact you fill in puts it there." } }
        (told_nothing())
        (parts::facts(&loaded, &part))
    };
    Ok(page(&Page { title: &words, main }))
}
