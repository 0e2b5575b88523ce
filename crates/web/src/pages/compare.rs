//! Two builds side by side, or one build at two of its changes: number by number with a verdict, the parts that differ, left
//! against right, and both bikes on one drawing.

pub(super) mod drawing;
mod parts;
mod values;

#[cfg(test)]
mod tests;

use super::build::loaded;
use super::choices::Choices;
use crate::app::App;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Query, State};
use axum::routing::{MethodRouter, get};
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::Offset;
use maud::{Markup, html};
use serde::Deserialize;
use std::sync::Arc;
use witnessmark_core::compare::compare;
use witnessmark_store::BuildRecord;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

/// What the address asks for: two builds, each as it is now or as it was after one of its changes.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Asked {
    a: String,
    b: String,
    a_at: String,
    b_at: String,
    /// Words to narrow the list of builds by.
    find: String,
}

/// One of the two, with what it is called on the page.
struct One {
    letter: &'static str,
    name: String,
    loaded: Arc<Loaded>,
}

async fn show(State(app): State<App>, Query(asked): Query<Asked>) -> Result<Markup, Refusal> {
    let (a, b) = (one(&app, "A", &asked.a, &asked.a_at).await?, one(&app, "B", &asked.b, &asked.b_at).await?);
    let choices = Choices::new(&app, &asked.find).await?;
    Ok(app.compute(move || whole(&choices, &asked, a.as_ref(), b.as_ref())).await)
}

fn whole(choices: &Choices, asked: &Asked, a: Option<&One>, b: Option<&One>) -> Markup {
    let main = html! {
        p.back { a href="/builds" { "builds" } }
        h1 { "Compare" }
        (form(choices, asked, a, b))
        @if let (Some(a), Some(b)) = (a, b) { (both(a, b)) }
    };
    page(&Page { title: "Compare", main })
}

/// A build as it is asked for, with what it is called; `None` where none is asked for.
async fn one(app: &App, letter: &'static str, id: &str, at: &str) -> Result<Option<One>, Refusal> {
    if id.is_empty() {
        return Ok(None);
    }
    let loaded = as_asked(app, id, at).await?;
    let after = if at.trim().is_empty() { String::new() } else { format!(", after change {}", loaded.revision) };
    Ok(Some(One { letter, name: format!("{}{after}", loaded.title()), loaded }))
}

/// A build as it is now, as it was after one of its changes, or as it was at the end of a day.
pub(crate) async fn as_asked(app: &App, id: &str, at: &str) -> Result<Arc<Loaded>, Refusal> {
    let now = loaded(app, id).await?;
    let at = at.trim();
    if at.is_empty() {
        return Ok(now);
    }
    let revision = match at.parse::<Date>() {
        Ok(day) => last_of_day(app, &now, day).await?,
        Err(_) => at.parse().ok().filter(|revision| (1..=now.revision).contains(revision)).ok_or_else(|| {
            let (title, last) = (now.title(), now.revision);
            Refusal::Incomplete(format!(
                "“{at}” is no day like 2026-03-14 and no change of {title}: its changes go from 1 to {last}."
            ))
        })?,
    };
    Ok(Arc::new(as_it_was(app, &now, revision).await?))
}

/// The last change of a day and those before it, in universal time as the history says it.
async fn last_of_day(app: &App, now: &Loaded, day: Date) -> Result<i64, Refusal> {
    let is_later =
        |at_ms: i64| Timestamp::from_millisecond(at_ms).is_ok_and(|at| Offset::UTC.to_datetime(at).date() > day);
    let rows = app.store().recent(&now.id, i64::MAX).await?;
    let first_later = rows.iter().filter(|row| is_later(row.at_ms)).map(|row| row.revision).min();
    match first_later {
        Some(1) => Err(Refusal::Incomplete(format!("{} was not begun yet on {day}.", now.title()))),
        Some(revision) => Ok(revision - 1),
        None => Ok(now.revision),
    }
}

/// The build as it was after a change: what is there now, with every later change taken back, the latest first.
async fn as_it_was(app: &App, now: &Loaded, revision: i64) -> Result<Loaded, Refusal> {
    let mut leaves = now.leaves.clone();
    // A change that somebody writes between the two looks is later than what is there now.
    let later = |row: &witnessmark_store::EditRow| revision < row.revision && row.revision <= now.revision;
    for row in app.store().recent(&now.id, i64::MAX).await?.into_iter().filter(later) {
        match row.before {
            Some(text) => leaves.insert(row.path, text),
            None => leaves.remove(&row.path),
        };
    }
    let (id, catalogue) = (now.id.clone(), Arc::clone(&now.catalogue));
    Ok(app.compute(move || Loaded::new(id, BuildRecord { revision, leaves }, catalogue)).await)
}

/// Which two.
fn form(choices: &Choices, asked: &Asked, a: Option<&One>, b: Option<&One>) -> Markup {
    let side = |letter: &str, name: &str, chosen: Option<&One>, at: &str| {
        html! {
            fieldset {
                legend { (letter) }
                label for=(name) { "build" }
                select id=(name) name=(name) required { (choices.options(chosen.map(|one| &*one.loaded))) }
                label for={ (name) "_at" } { "as it was, on a day or after a change" }
                input.figure id={ (name) "_at" } name={ (name) "_at" } value=(at) autocomplete="off" placeholder="as it is now" aria-describedby={ (name) "_at_how" };
                p.quiet id={ (name) "_at_how" } { "2026-03-14, or the number of a change as the history counts them" }
            }
        }
    };
    html! {
        form.which method="get" action="/compare" {
            (choices.narrow())
            (side("A", "a", a, &asked.a_at))
            (side("B", "b", b, &asked.b_at))
            div.press { button { "Compare" } }
        }
    }
}

fn both(a: &One, b: &One) -> Markup {
    let comparison = compare(&[(a.letter.to_owned(), &a.loaded.build), (b.letter.to_owned(), &b.loaded.build)]);
    html! {
        p.which-is-which {
            span { (drawing::key("a")) b { "A" } " " a href={ "/builds/" (a.loaded.id) } { (a.name) } }
            span { (drawing::key("b")) b { "B" } " " a href={ "/builds/" (b.loaded.id) } { (b.name) } }
        }
        (drawing::figure(&comparison.overlay))
        (values::tables(&comparison))
        (values::sides(&comparison))
        (parts::differing(&a.loaded, &b.loaded))
    }
}
