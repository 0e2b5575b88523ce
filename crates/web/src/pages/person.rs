//! A person's rights, for owners: everything that is kept about somebody, to be handed out; and erasing it.

use crate::app::{App, Owner};
use crate::person::{Handed, KEPT_YEARS, Kept, Why, day_of, erase, handed_out, kept_about};
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::{key, words};
use axum::extract::{Form, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get};
use jiff::civil::Date;
use maud::{Markup, html};
use serde::Deserialize;
use std::path::Path;
use witnessmark_core::model::in_words;
use witnessmark_store::{By, Noted};

#[cfg(test)]
mod tests;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(forget)
}

#[derive(Debug, Deserialize)]
struct Asked {
    #[serde(default)]
    name: String,
    /// A file of what is handed out, to be read or saved.
    file: Option<String>,
}

async fn show(owner: Owner, Query(asked): Query<Asked>) -> Result<Response, Refusal> {
    let name = asked.name.trim();
    if let Some(path) = asked.file {
        let files = handed_out(owner.store(), name, KEPT_YEARS).await?;
        let Some(Handed { bytes, .. }) = files.into_iter().find(|file| file.path == path) else {
            return Err(Refusal::NoSuchPage);
        };
        let noted = Noted { who: owner.name(), did: "handed out data of", what: "a person", at_ms: words::now_ms() };
        owner.store().note(noted).await?;
        let kind = if Path::new(&path).extension().is_some_and(|ending| ending == "txt") {
            "text/plain; charset=utf-8"
        } else {
            "application/octet-stream"
        };
        let headers = [("content-type", kind), ("content-disposition", "attachment")];
        return Ok((headers, bytes).into_response());
    }
    Ok(found(&owner, name, None).await?.into_response())
}

async fn found(owner: &Owner, name: &str, said: Option<&str>) -> Result<Markup, Refusal> {
    let kept = kept_about(owner.store(), name).await?;
    let files = if kept.is_empty() { Vec::new() } else { handed_out(owner.store(), name, KEPT_YEARS).await? };
    let main = html! {
        p.back { a href="/people" { "People" } }
        h1 { "What is kept about somebody" }
        form.way-in method="get" action="/person" {
            div.field {
                label for="name" { "The rider’s name" }
                input #name name="name" value=(name) required maxlength="200" autocomplete="off";
            }
            p.go { button { "Look" } }
        }
        @if let Some(said) = said { p.lead role="status" { (said) } }
        @if !name.is_empty() && kept.is_empty() { p { "Nothing is kept about anybody of this name." } }
        @for one in &kept { (of_build(one, name, &files)) }
        @if !kept.is_empty() { (erasing(&kept, name)) }
    };
    Ok(page(&Page { title: "What is kept about somebody", main }))
}

fn of_build(one: &Kept, name: &str, files: &[Handed]) -> Markup {
    let of = |wanted: Why| one.fields.iter().filter(move |(.., why)| *why == wanted);
    html! {
        section.area {
            h2 { a href={ "/builds/" (one.build) } { @if one.title.is_empty() { (one.build) } @else { (one.title) } } }
            details.fold open[of(Why::Personal).count() <= 8] {
                summary { "Of the person: " (words::count(of(Why::Personal).count(), "field")) }
                dl.kept { @for (path, text, _) in of(Why::Personal) { dt { (in_words(path)) } dd { (text) } } }
            }
            @if !one.uploads.is_empty() { p { (words::count(one.uploads.len(), "picture or document")) } }
            h3 { "Kept as a bill is" @if let Some(until) = one.until(KEPT_YEARS) { ", until " (until) } }
            dl.kept { @for (path, text, _) in of(Why::Books) { dt { (in_words(path)) } dd { (text) } } }
            p.quiet { (of(Why::Bike).count()) " fields more are of the bike, and say nothing of a person without a name." }
            ul.choices {
                @for file in files.iter().filter(|file| !file.path.contains('/') || file.path.starts_with(one.build.as_str())) {
                    li { a href={ "/person?name=" (words::in_address(name)) "&file=" (words::in_address(&file.path)) } { (file.path) } }
                }
            }
        }
    }
}

fn erasing(kept: &[Kept], name: &str) -> Markup {
    let until = kept.iter().filter_map(|one| one.until(KEPT_YEARS)).max();
    html! {
        section.area #erase {
            h2 { "Erase" }
            p { "What is of the person goes at once, pictures and documents too, out of the log as well. It cannot be taken back." }
            @if let Some(until) = until {
                p { "Name, quote and work are kept until " (until) " where the law of most countries asks for it; erase again after that day. Copies made before still hold everything: let them run out." }
            }
            form.way-in method="post" action="/person" {
                input type="hidden" name="name" value=(name);
                input type="hidden" name="key" value=(key::draw());
                div.field {
                    label for="again" { "Type the name once more" }
                    input #again name="again" required maxlength="200" autocomplete="off";
                }
                p.go { button { "Erase" } }
            }
        }
    }
}

#[derive(Debug, Deserialize)]
struct Forget {
    name: String,
    again: String,
    key: String,
}

async fn forget(owner: Owner, Form(asked): Form<Forget>) -> Result<Response, Refusal> {
    let same = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    if same(&asked.name) != same(&asked.again) {
        let says = "The two names differ. Nothing was erased.";
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, found(&owner, &asked.name, Some(says)).await?).into_response());
    }
    let now_ms = words::now_ms();
    let by = By { who: owner.name().to_owned(), at_ms: now_ms, request_key: asked.key };
    let today = day_of(now_ms).unwrap_or(Date::MIN);
    let erased = erase(owner.store(), &asked.name, today, KEPT_YEARS, &by).await?;
    let says = format!(
        "{} emptied, {} put out of the log, {} removed.",
        words::count(erased.fields, "field"),
        words::count(usize::try_from(erased.edits).unwrap_or(usize::MAX), "change"),
        words::count(erased.uploads, "picture or document")
    );
    Ok(found(&owner, &asked.name, Some(&says)).await?.into_response())
}
