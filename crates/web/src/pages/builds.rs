//! The builds of the workshop: how each stands, a new one, and one like another.

use super::build::head;
use super::edit::by;
use crate::app::{App, Mechanic};
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::{key, sign, words};
use axum::extract::{Form, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use std::sync::Arc;
use witnessmark_core::field::Choice;
use witnessmark_core::finding::Severity;
use witnessmark_store::{BuildSummary, NewBuild};

#[cfg(test)]
mod tests;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(new)
}

async fn show(State(app): State<App>) -> Result<Markup, Refusal> {
    list(&app, &Typed::default()).await
}

/// What stands in the form for a new build: what was typed when it was refused, and why.
#[derive(Default)]
struct Typed<'a> {
    title: &'a str,
    refused: Option<String>,
}

async fn list(app: &App, typed: &Typed<'_>) -> Result<Markup, Refusal> {
    let mut builds = Vec::new();
    for summary in app.store().builds().await? {
        if let Some(loaded) = app.load(&summary.id).await? {
            builds.push((summary, loaded));
        }
    }
    let main = html! {
        h1 { "Builds" }
        (new_form(typed))
        @if builds.is_empty() {
            p.lead { "No build yet. Give the first one a title: a name for the bike and whom it is for." }
        } @else {
            p.links {
                a href="/due" { "service due today" }
                @if builds.len() > 1 { a href="/compare" { "compare two builds" } }
            }
            ol.builds { @for (summary, loaded) in &builds { (one(summary, loaded)) } }
        }
    };
    Ok(page(&Page { title: "Builds", main }))
}

fn new_form(typed: &Typed<'_>) -> Markup {
    html! {
        form.new method="post" action="/builds" {
            label for="title" { "New build" }
            input #title name="title" value=(typed.title) required maxlength="200" autocomplete="off"
                placeholder="what the workshop calls it"
                aria-describedby=[typed.refused.is_some().then_some("title-note")]
                aria-invalid=[typed.refused.is_some().then_some("true")];
            input type="hidden" name="key" value=(key::draw());
            input type="hidden" name="who" value="";
            button { "Begin" }
            @if let Some(refused) = &typed.refused { p.note #title-note role="alert" { (refused) } }
        }
    }
}

fn one(summary: &BuildSummary, loaded: &Arc<Loaded>) -> Markup {
    let (in_line, total) = loaded.plan.numbers.in_line();
    let job = &loaded.build.job;
    html! {
        li.build {
            div.whose {
                h2 { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
                p {
                    @if let Some(rider) = loaded.rider() { span { (rider) } }
                    @if let Some(event) = &job.event { span { (event.value) } }
                    @if let Some(day) = &job.day { span { (day.value) } }
                    @if let Some(stage) = &job.stage { span.stage { (stage.value.name()) } }
                }
                p.quiet { "changed by " (summary.changed_by) ", " (words::moment(summary.changed_at_ms)) }
            }
            div.stands {
                (sign::share(loaded.plan.numbers.each().iter().map(|number| number.verdict)))
                p.counts {
                    span { b { (in_line) } " of " (total) " in line" }
                    (head::counted(loaded, Severity::Stop))
                    (head::counted(loaded, Severity::Caution))
                }
            }
            form.copy method="post" action={ "/builds/" (loaded.id) "/copy" } {
                input type="hidden" name="key" value=(key::draw());
                input type="hidden" name="who" value="";
                button aria-label={ "Copy " (loaded.title()) }
                    title="Everything but the readings, which belong to this bike" { "copy" }
            }
        }
    }
}

#[derive(Debug, Deserialize)]
struct New {
    title: String,
    key: String,
    #[serde(default)]
    who: String,
}

async fn new(State(app): State<App>, mechanic: Mechanic, Form(new): Form<New>) -> Result<Response, Refusal> {
    let title = new.title.trim();
    if let Err(problem) = witnessmark_intake::leaf("job.title", title) {
        let refused = format!("{}.", super::build::capital(&problem.sentence()));
        let shown = list(&app, &Typed { title: &new.title, refused: Some(refused) }).await?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, shown).into_response());
    }
    let leaves = [("job.title".to_owned(), title.to_owned())];
    let id = mechanic.create_build(NewBuild { leaves: &leaves, copied_from: None }, &by(&new.who, &new.key)).await?;
    Ok(Redirect::to(&format!("/builds/{id}")).into_response())
}
