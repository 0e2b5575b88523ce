//! The builds of the workshop: found by what they are called, how each that is shown stands, a new one, and one like another.
//!
//! There may be 50 000. They are found in the register, and worked out are only the few that are shown.

use super::build::fragment::{Answer, Fragment};
use super::build::head;
use super::edit::by;
use crate::app::{App, Mechanic};
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::register::{Found, LONGEST, Line, Sought};
use crate::shell::{Page, page};
use crate::{key, sign, words};
use axum::extract::{Form, Query, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use std::sync::Arc;
use witnessmark_core::field::Choice;
use witnessmark_core::finding::Severity;
use witnessmark_store::{NewBuild, StoreError};

#[cfg(test)]
mod tests;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(new)
}

/// How many builds are shown at once.
pub(crate) const SHOWN: usize = 20;

/// Which builds are looked for.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
struct Asked {
    /// Words that a build must all meet.
    q: String,
    /// Those changed before this place in the log of edits.
    before: Option<i64>,
}

async fn show(State(app): State<App>, Query(asked): Query<Asked>, headers: HeaderMap) -> Result<Response, Refusal> {
    let listed = listed(&app, &asked.q, asked.before).await?;
    Ok(app
        .compute(move || {
            let found = found(&listed, &asked);
            if headers.contains_key("x-pieces") {
                return Answer { status: StatusCode::OK, pieces: vec![found], stale: false }.into_response();
            }
            whole(&listed, &asked, &found, &Typed::default()).into_response()
        })
        .await)
}

/// Builds that were looked for, and how those stand that are shown.
pub(crate) struct Listed {
    pub(crate) found: Found,
    pub(crate) shown: Vec<(Arc<Line>, Arc<Loaded>)>,
}

/// The builds that meet the words, from a place in the log on; worked out are only those to be shown.
pub(crate) async fn listed(app: &App, words: &str, before: Option<i64>) -> Result<Listed, StoreError> {
    let found = app.find(Sought { words: words.to_owned(), before, most: SHOWN }).await?;
    let mut shown = Vec::with_capacity(SHOWN);
    for line in &found.lines {
        if let Some(loaded) = app.load_at(&line.id, line.revision).await? {
            shown.push((Arc::clone(line), loaded));
        }
    }
    Ok(Listed { found, shown })
}

/// What stands in the form for a new build: what was typed when it was refused, and why.
#[derive(Default)]
struct Typed<'a> {
    title: &'a str,
    refused: Option<String>,
}

fn whole(listed: &Listed, asked: &Asked, found: &Fragment, typed: &Typed<'_>) -> Markup {
    let none = listed.found.all == 0 && asked.q.trim().is_empty();
    let main = html! {
        h1 { "Builds" }
        (new_form(typed))
        @if none {
            p.lead { "No build yet. Give the first one a title: a name for the bike and whom it is for." }
        } @else {
            p.links {
                a href="/due" { "service due today" }
                a href="/compare" { "compare two builds" }
            }
            (search_form(&asked.q))
            (found.html)
        }
    };
    page(&Page { title: "Builds", main })
}

fn search_form(typed: &str) -> Markup {
    html! {
        form.search role="search" method="get" action="/builds" data-search {
            label for="q" { "Find a build" }
            span.box {
                input #q name="q" type="search" value=(typed) autocomplete="off" spellcheck="false" autocapitalize="off"
                    maxlength=(LONGEST) aria-describedby="q-says";
                button { "Find" }
            }
            p.says #q-says { "Words or parts of words that it must all have: title, rider, event, day, or how far it is, such as “on the stand”." }
        }
    }
}

/// The builds that were found, and the ways to those before and after.
fn found(listed: &Listed, asked: &Asked) -> Fragment {
    let Found { lines, all, next } = &listed.found;
    let typed = asked.q.trim();
    let wanted = !typed.is_empty();
    let address = |before: Option<i64>| {
        let from = before.map(|before| format!("before={before}"));
        let sought = wanted.then(|| format!("q={}", words::in_address(typed)));
        let query: Vec<String> = sought.into_iter().chain(from).collect();
        if query.is_empty() { "/builds".to_owned() } else { format!("/builds?{}", query.join("&")) }
    };
    let says = match all {
        0 => "No build has all of these words.".to_owned(),
        _ if lines.len() == *all && !wanted => String::new(),
        _ if lines.len() == *all => format!("{}.", words::count(*all, "build")),
        _ if asked.before.is_some() => format!("{}, {} of them here.", words::count(*all, "build"), lines.len()),
        _ => format!("{}, the {} changed last here.", words::count(*all, "build"), lines.len()),
    };
    let html = html! {
        div #found data-found {
            p.quiet role="status" { (says) }
            @if !listed.shown.is_empty() { ol.builds { @for (line, loaded) in &listed.shown { (one(line, loaded)) } } }
            p.links {
                @if asked.before.is_some() { a href=(address(None)) { "from the last change on" } }
                @if next.is_some() { a href=(address(*next)) { "those changed before" } }
            }
        }
    };
    Fragment { id: "found".into(), html }
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

fn one(line: &Line, loaded: &Loaded) -> Markup {
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
                p.quiet { "changed by " (line.changed_by) ", " (words::moment(line.changed_at_ms)) }
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
        let (listed, asked) = (listed(&app, "", None).await?, Asked::default());
        let shown = app.compute(move || {
            let typed = Typed { title: &new.title, refused: Some(refused) };
            whole(&listed, &asked, &found(&listed, &asked), &typed)
        });
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, shown.await).into_response());
    }
    let leaves = [("job.title".to_owned(), title.to_owned())];
    let id = mechanic.create_build(NewBuild { leaves: &leaves, copied_from: None }, &by(&new.who, &new.key)).await?;
    Ok(Redirect::to(&format!("/builds/{id}")).into_response())
}
