//! Adding a part: which kinds have a place left on this bike, and a name for those of which there are many.

use super::build::fragment::{AREAS, Answer};
use super::build::parts::PartAt;
use super::build::{capital, loaded, walk};
use super::catalogue::found;
use crate::app::App;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::{Path, Query, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_core::field::Choice;
use witnessmark_core::number::Area;
use witnessmark_core::part::{KINDS, PartKind, Places};

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

/// The answer to the small form: a part of this kind under this name.
#[derive(Debug, Default, Deserialize)]
struct Chosen {
    section: Option<String>,
    kind: Option<String>,
    name: Option<String>,
    /// Words to search the catalogue for.
    q: Option<String>,
}

async fn show(
    State(app): State<App>,
    Path(id): Path<String>,
    Query(chosen): Query<Chosen>,
    headers: HeaderMap,
) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    if let (Some(kind), Some(name)) = (chosen.kind, chosen.name) {
        let section = chosen.section.unwrap_or_else(|| "parts".into());
        let path = format!("{section}.{kind}.{}", as_name(&name));
        return match PartAt::from_path(&path) {
            Some(part) => Ok(Redirect::to(&format!("/builds/{}/part/{}", loaded.id, part.path())).into_response()),
            None => Err(Refusal::Incomplete(format!(
                "“{name}” cannot be a part’s name: use letters and figures, such as “ten mm”."
            ))),
        };
    }
    let typed = found::query(chosen.q.as_deref().unwrap_or_default());
    let hits = found::list(&loaded.catalogue, &typed, |entry| found::ways(&loaded, entry));
    if headers.contains_key("x-pieces") {
        return Ok(Answer { status: StatusCode::OK, pieces: vec![hits], stale: false }.into_response());
    }
    let title = format!("Add a part to {}", loaded.title());
    let main = html! {
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { "Add a part" }
        @if loaded.catalogue.parts().is_empty() {
            p.lead { "The shop’s catalogue is empty: " a href="/catalogue/import" { "bring parts in" } ", or type a part by hand." }
        } @else {
            (found::form(&format!("/builds/{}/add", loaded.id), &typed, "Find a part in the shop’s catalogue"))
            (hits.html)
        }
        h2.by-hand { "Or by hand" }
        p.quiet { "Choose what is to be fitted and type its facts. What has its place taken already is not listed." }
        @for area in AREAS { (of_area(&loaded, area)) }
        section.area #shelf {
            h3 { "On the shelf" }
            p.quiet { "A part that could be fitted instead, under a name of its own." }
            (form(&loaded, "shelf", KINDS))
        }
    };
    Ok(page(&Page { title: &title, main }).into_response())
}

fn of_area(loaded: &Loaded, area: Area) -> Markup {
    let here: Vec<PartKind> = KINDS.iter().filter(|kind| kind.area == area).copied().collect();
    let free: Vec<PartAt> = here.iter().flat_map(|kind| free_places(loaded, kind)).collect();
    let many: Vec<PartKind> = here.into_iter().filter(|kind| kind.places == Places::Many).collect();
    html! {
        section.area id=(walk::id_of(area)) {
            h3 { (capital(area.name())) }
            ul.choices {
                @for part in &free { li { a href={ "/builds/" (loaded.id) "/part/" (part.path()) } { (part.words()) } } }
            }
            @if !many.is_empty() { (form(loaded, "parts", &many)) }
            @if free.is_empty() && many.is_empty() { p.quiet { "Every place is taken." } }
        }
    }
}

/// The places of a kind that are still free.
fn free_places(loaded: &Loaded, kind: &PartKind) -> Vec<PartAt> {
    let names: &[&str] = match kind.places {
        Places::One => &[""],
        Places::Many => &[],
        Places::FrontRear | Places::LeftRight => kind.places.names(),
    };
    let free = names.iter().filter(|place| loaded.build.parts.record(kind.key, place).is_none());
    free.map(|place| PartAt { section: "parts", kind: kind.key, place: (*place).to_owned() }).collect()
}

/// The small form for a part with a name of its own.
fn form(loaded: &Loaded, section: &str, kinds: &[PartKind]) -> Markup {
    let id = format!("{section}-{}", kinds.first().map_or("", |kind| kind.key));
    html! {
        form.add-named method="get" action={ "/builds/" (loaded.id) "/add" } {
            input type="hidden" name="section" value=(section);
            label for={ "kind-" (id) } { "kind" }
            select id={ "kind-" (id) } name="kind" {
                @for kind in kinds { option value=(kind.key) { (words::of_key(kind.key)) } }
            }
            label for={ "name-" (id) } { "its name" }
            input id={ "name-" (id) } name="name" required maxlength="40" placeholder="ten mm" autocomplete="off";
            button { "Go on" }
        }
    }
}

/// A typed name as the document takes it: small letters, figures and hyphens.
fn as_name(typed: &str) -> String {
    let words: Vec<String> = typed
        .to_lowercase()
        .split(|letter: char| !letter.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect();
    words.join("-")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_typed_name_becomes_one_that_the_document_takes() {
        assert_eq!(as_name("Ten mm"), "ten-mm");
        assert_eq!(as_name("  5 / carbon "), "5-carbon");
        assert_eq!(as_name("…"), "");
    }
}
