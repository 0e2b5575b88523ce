//! What the rider agreed to show of the finished bike, and the page that comes of it.

use super::build::{capital, fragment, loaded, told_nothing};
use crate::app::{App, Mechanic};
use crate::loaded::Loaded;
use crate::pages::build::field::{self, Note};
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::{key, words};
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use std::collections::BTreeSet;
use witnessmark_core::build::Show;
use witnessmark_core::compute::PlannedNumber;
use witnessmark_core::field::{Choice, Field};
use witnessmark_core::number::{self, Area, Number};
use witnessmark_sheets::show::is_shown;
use witnessmark_store::{Change, EditError};

#[cfg(test)]
mod tests;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(choose)
}

async fn show(State(app): State<App>, Path(id): Path<String>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    Ok(app.compute(move || whole(&loaded, None)).await)
}

/// What a form sends: `show.hood-gap=yes` for each tick, `was` with what was ticked when the page was made, who and key.
type Sent = Vec<(String, String)>;

async fn choose(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    Form(sent): Form<Sent>,
) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let field = |name: &str| sent.iter().find(|(key, _)| key == name).map_or("", |(_, value)| value.as_str());
    let ticked: BTreeSet<&str> = sent.iter().filter_map(|(key, _)| key.strip_prefix("show.")).collect();
    let was: BTreeSet<&str> = field("was").split(' ').collect();
    let changes: Vec<Change> = number::all()
        .filter(|number| was.contains(number.id) != ticked.contains(number.id))
        .map(|number| {
            let path = format!("shown.{}", number.id);
            // What the page showed: a tick whatever word was typed for it, or none.
            let kept = loaded.text(&path).map(str::to_owned);
            let before = match (was.contains(number.id), is_shown(&loaded.build, number.id)) {
                (true, false) => Some("yes".to_owned()),
                (false, true) => None,
                _ => kept,
            };
            Change { path, before, after: ticked.contains(number.id).then(|| "yes".to_owned()) }
        })
        .collect();
    if !changes.is_empty() {
        let by = super::edit::by(field("who"), field("key"));
        match mechanic.edit(&loaded.id, &changes, &by).await {
            Ok(_) => {}
            Err(EditError::Clash(_)) => {
                let now = super::build::loaded(&app, &id).await?;
                return Ok((StatusCode::CONFLICT, whole(&now, Some(&ticked))).into_response());
            }
            Err(other) => return Err(other.into()),
        }
    }
    Ok(Redirect::to(&format!("/builds/{}/show#numbers", loaded.id)).into_response())
}

/// The page; with what was ticked, where somebody else was faster.
fn whole(loaded: &Loaded, clash: Option<&BTreeSet<&str>>) -> Markup {
    let agreed = loaded.build.show.agreed_on.is_some();
    let main = html! {
        (fragment::revision(loaded))
        p.back { a href={ "/builds/" (loaded.id) "/sheets" } { "sheets of " (loaded.title()) } }
        h1 { "To show" }
        p.lead { "One file for the rider or the workshop’s own site: a walk-round from the cockpit down. It shows what is agreed here, and nothing else." }
        (told_nothing())
        section.area aria-labelledby="agreed" {
            h2 #agreed { "What was agreed" }
            div.fields { @for field in Show::FIELDS { (one(loaded, field)) } }
        }
        section.area #numbers aria-labelledby="numbers-title" {
            h2 #numbers-title { "Numbers" }
            @if clash.is_some() {
                p.note role="alert" { "Somebody else changed the choice in the meantime. Nothing was written; your ticks stand below. Look them over and keep them again." }
            }
            (form(loaded, clash))
        }
        section.area aria-labelledby="file" {
            h2 #file { "The page" }
            @if agreed {
                p.links { a href={ "/builds/" (loaded.id) "/show/page.html" } { "take the page, one HTML file" } }
            } @else {
                p { "There is no page until the day is filled in on which the rider agreed." }
            }
        }
    };
    page(&Page { title: &format!("To show of {}", loaded.title()), main })
}

fn form(loaded: &Loaded, clash: Option<&BTreeSet<&str>>) -> Markup {
    let is_ticked =
        |number: &Number| clash.map_or_else(|| is_shown(&loaded.build, number.id), |ticked| ticked.contains(number.id));
    let was: Vec<&str> =
        number::all().filter(|number| is_shown(&loaded.build, number.id)).map(|number| number.id).collect();
    html! {
        form.shown method="post" action={ "/builds/" (loaded.id) "/show#numbers" } {
            @for area in Area::NAMES.iter().filter_map(|name| Area::from_name(name)) {
                fieldset {
                    legend { (capital(area.name())) }
                    div.ticks {
                        @for number in number::all().filter(|number| number.area == area) {
                            label.tick {
                                input type="checkbox" name={ "show." (number.id) } value="yes" checked[is_ticked(number)];
                                span { (number.name) @if let Some(value) = value(loaded, number) { " " b { (value) } } }
                            }
                        }
                    }
                }
            }
            input type="hidden" name="was" value=(was.join(" "));
            input type="hidden" name="key" value=(key::draw());
            div.press { button { "Keep the choice" } }
        }
    }
}

/// The values of a number as they would be shown.
fn value(loaded: &Loaded, number: &Number) -> Option<String> {
    let said = |one: &PlannedNumber| {
        let value = one.measured.as_ref().map(|read| read.value).or(one.planned.as_ref().ok().copied());
        value.map(|value| words::with_unit(number.kind, value))
    };
    let of_it = loaded.plan.numbers.each().iter().filter(|one| one.number.id == number.id);
    let values: Vec<String> = of_it.filter_map(said).collect();
    (!values.is_empty()).then(|| values.join(" · "))
}

fn one(loaded: &Loaded, field: &Field) -> Markup {
    field::shown(loaded, &format!("show.{}", field.key()), Note::None).unwrap_or_default()
}
