//! One part of the catalogue: all its facts with where they come from, every version, and the builds that use it.

use super::build::capital;
use super::catalogue::found;
use crate::app::App;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::{Path, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use witnessmark_core::catalogue::{Column, Entry, columns};
use witnessmark_core::field::Choice;
use witnessmark_core::part::COMMON_FACTS;
use witnessmark_store::CatalogueVersion;

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
    let mut users = Vec::new();
    for summary in app.store().builds().await? {
        if let Some(build) = app.load(&summary.id).await? {
            let places = build.build.parts.each().into_iter().filter_map(|(kind, place, record)| {
                let fitted = Entry::of(kind, record);
                let is_it = kind.key == entry.kind.key && fitted.text("catalogue_id") == Some(&entry.id);
                is_it.then(|| (place.to_owned(), fitted.number("catalogue_version")))
            });
            let places: Vec<_> = places.collect();
            users.extend(places.into_iter().map(|(place, version)| (build.clone(), place, version)));
        }
    }
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
                ul { @for (build, place, version) in &users {
                    li {
                        a href={ "/builds/" (build.id) } { (build.title()) }
                        @if !place.is_empty() { ", " (words::of_key(place)) }
                        @if let Some(version) = version { ", with the facts of version " (version) }
                    }
                } }
            }
        }
        section aria-labelledby="versions-title" {
            h2 #versions-title { "Versions" }
            ol.history reversed { @for at in (0..versions.len()).rev() { (version(entry, &versions, at)) } }
        }
    };
    Ok(page(&Page { title: &title, main }))
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
