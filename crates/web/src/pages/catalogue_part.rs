//! One part of the catalogue: all its facts with where they come from, every version, and the builds that use it.

use super::build::capital;
use super::catalogue::found;
use crate::app::App;
use crate::refusal::Refusal;
use crate::register::NO_TITLE;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::{Path, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use witnessmark_core::catalogue::{Column, Entry, columns};
use witnessmark_core::field::Choice;
use witnessmark_core::part::COMMON_FACTS;
use witnessmark_store::{BuildId, CatalogueVersion, StoreError};

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

async fn show(State(app): State<App>, Path((kind, id)): Path<(String, String)>) -> Result<Markup, Refusal> {
    let catalogue = app.catalogue().await?;
    let entry = catalogue.part(&kind, &id).ok_or_else(|| Refusal::NothingSoNamed {
        name: format!("{kind} {id}"),
        why: "the catalogue has no such part".into(),
    })?;
    let versions = app.store().catalogue_versions(&kind, &id).await?;
    let (users, all) = users(&app, entry).await?;
    let title = entry.name().to_owned();
    let main = html! {
        p.back { a href={ "/catalogue?kind=" (entry.kind.key) "#kind" } { (capital(&words::of_key(entry.kind.key))) ", all of them" } }
        h1 { (title) }
        p.lead { (found::figures(entry)) }
        p.quiet { "Id " code { (entry.id) } ", version " (entry.version) ". Its facts come from: " (entry.facts_from().name()) ", unless one says otherwise." }
        (facts(entry))
        section aria-labelledby="builds-title" {
            h2 #builds-title { "Fitted in" }
            @if users.is_empty() { p.quiet { "No build has it." } } @else {
                ul { @for one in &users {
                    li {
                        a href={ "/builds/" (one.build) } { (one.title) }
                        @if !one.place.is_empty() { ", " (words::of_key(&one.place)) }
                        @if let Some(version) = &one.version { ", with the facts of version " (version) }
                    }
                } }
                @if users.len() < all { p.quiet { "And in " (words::count(all - users.len(), "more place")) "." } }
            }
        }
        section aria-labelledby="versions-title" {
            h2 #versions-title { "Versions" }
            ol.history reversed { @for at in (0..versions.len()).rev() { (version(entry, &versions, at)) } }
        }
    };
    Ok(page(&Page { title: &title, main }))
}

/// How many places are named in which a part is fitted; all are counted.
const USERS_SHOWN: usize = 50;

/// A place on a build at which a part of the catalogue is fitted.
struct User {
    build: BuildId,
    title: String,
    place: String,
    version: Option<String>,
}

/// Where a part is fitted, and at how many places in all. The builds are asked for this one field, and none is worked out.
async fn users(app: &App, entry: &Entry) -> Result<(Vec<User>, usize), StoreError> {
    let (start, end) = (format!("parts.{}.", entry.kind.key), "catalogue_id");
    let mut places = app.store().saying(&entry.id, &format!("{start}%{end}")).await?;
    // What the store takes for any sign may be a word of a longer kind's name only where it is none of ours.
    places.retain(|(_, path)| path.starts_with(&start));
    let all = places.len();
    let mut users = Vec::new();
    for (build, path) in places.into_iter().take(USERS_SHOWN) {
        let Some(record) = app.store().leaves(&build).await? else { continue };
        let part = path.strip_suffix(end).unwrap_or_default();
        users.push(User {
            title: record.leaves.get("job.title").map_or(NO_TITLE, String::as_str).to_owned(),
            place: part.strip_prefix(&start).unwrap_or_default().trim_end_matches('.').to_owned(),
            version: record.leaves.get(&format!("{part}catalogue_version")).cloned(),
            build,
        });
    }
    Ok((users, all))
}

fn facts(entry: &Entry) -> Markup {
    let of = |deciding: bool| {
        columns(entry.kind).filter_map(move |column| match column {
            Column::Fact(index) if (index >= COMMON_FACTS) == deciding => Some(index),
            _ => None,
        })
    };
    let row = |index: usize| {
        let field = &entry.kind.fields[index];
        let leaf = entry.fact(index);
        html! {
            tr {
                th scope="row" { (field.words()) br; small { (field.says) } }
                td.figure data-label="value" {
                    @match leaf {
                        Some(leaf) => { (words::value(field.kind, &leaf.value)) },
                        None => span.lacks { "not known" },
                    }
                }
                td data-label="from" { @if leaf.is_some() && index >= COMMON_FACTS { (entry.origin(index).name()) } }
            }
        }
    };
    html! {
        section aria-labelledby="facts-title" {
            h2 #facts-title { "Facts" }
            table.becomes.facts {
                thead { tr { th scope="col" { "fact" } th scope="col" { "value" } th scope="col" { "from" } } }
                tbody {
                    @for index in of(true) { (row(index)) }
                    @for index in of(false) { (row(index)) }
                }
            }
        }
    }
}

/// A version and what is different in it from the one before.
fn version(entry: &Entry, versions: &[CatalogueVersion], at: usize) -> Markup {
    let Some(version) = versions.get(at) else { return html! {} };
    let before = at.checked_sub(1).and_then(|before| versions.get(before));
    let text = |leaves: &[(String, String)], key: &str| {
        leaves.iter().find(|(other, _)| other == key).map(|(_, text)| text.clone())
    };
    let mut keys: Vec<&String> =
        version.leaves.iter().chain(before.into_iter().flat_map(|before| &before.leaves)).map(|(key, _)| key).collect();
    keys.sort();
    keys.dedup();
    let moved = keys.into_iter().filter_map(|key| {
        let was = before.and_then(|before| text(&before.leaves, key));
        let is = text(&version.leaves, key);
        (was != is).then(|| (words_of(entry, key), was, is))
    });
    let moved: Vec<_> = moved.collect();
    html! {
        li value=(version.version) {
            p.by { b { "version " (version.version) } ", " (version.who) ", " (words::moment(version.at_ms)) ", from " (version.source) }
            @if before.is_some() {
                ul { @for (key, was, is) in &moved {
                    li { (key) ": " b { (was.as_deref().unwrap_or("not known")) } " became " b { (is.as_deref().unwrap_or("not known")) } }
                } }
            } @else {
                p.quiet { "The first: " (words::count(moved.len(), "fact")) "." }
            }
        }
    }
}

fn words_of(entry: &Entry, key: &str) -> String {
    let (fact, of_origin) = key.strip_suffix(".from").map_or((key, false), |fact| (fact, true));
    let field = entry.kind.fields.iter().find(|field| field.key() == fact);
    let words = field.map_or_else(|| fact.to_owned(), witnessmark_core::field::Field::words);
    if of_origin { format!("where the {words} comes from") } else { words }
}
