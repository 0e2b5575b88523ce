//! The position of this bike put onto another: what is kept, what is not and by how much, what was taken into account, and
//! what to set by hand; and a button that takes it into the other build.

mod by_hand;
mod kept;
mod take;

#[cfg(test)]
mod tests;

use super::build::address::anchor;
use super::build::{loaded, told_nothing};
use super::choices::Choices;
use super::compare::drawing;
use super::survey::findings::sentences;
use crate::app::App;
use crate::key;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Path, Query, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use std::sync::Arc;
use witnessmark_core::carry::{Carried, carry};
use witnessmark_core::compare::compare;
use witnessmark_core::finding::{About, Finding};
use witnessmark_core::model::in_words;
use witnessmark_core::number;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(take::take)
}

/// What the address asks for: onto which build.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Asked {
    onto: String,
    /// Words to narrow the list of builds by.
    find: String,
}

async fn show(State(app): State<App>, Path(id): Path<String>, Query(asked): Query<Asked>) -> Result<Markup, Refusal> {
    let from = loaded(&app, &id).await?;
    let choices = Choices::new(&app, &asked.find).await?.without(&from.id);
    let onto = if asked.onto.is_empty() { None } else { Some(loaded(&app, &asked.onto).await?) };
    Ok(app.compute(move || whole(&from, onto.as_ref(), &choices)).await)
}

fn whole(from: &Loaded, onto: Option<&Arc<Loaded>>, choices: &Choices) -> Markup {
    let main = html! {
        p.back { a href={ "/builds/" (from.id) } { (from.title()) } }
        h1 { "Carry the position over" }
        p.links {
            a href={ "/builds/" (from.id) "/survey" } { "survey" }
            @if let Some(onto) = onto { a href={ "/compare?a=" (from.id) "&b=" (onto.id) } { "compare the two as they are" } }
        }
        (told_nothing())
        (which(choices, onto.map(|onto| &**onto)))
        @if let Some(onto) = onto { (both(from, onto)) }
    };
    page(&Page { title: &format!("Carry over from {}", from.title()), main })
}

fn which(choices: &Choices, chosen: Option<&Loaded>) -> Markup {
    html! {
        @if choices.are_none() {
            p { "There is no other build to carry it onto. Begin one in " a href="/builds" { "the list of builds" } ", with the other frame in it." }
        } @else {
            form.which method="get" {
                (choices.narrow())
                div {
                    label for="onto" { "onto the frame and the parts of" }
                    select #onto name="onto" required { (choices.options(chosen)) }
                }
                div.press { button { "Carry over" } }
            }
        }
    }
}

fn both(from: &Loaded, onto: &Arc<Loaded>) -> Markup {
    let carried = carry(&from.build, &onto.build);
    let bikes = compare(&[("A".to_owned(), &from.build), ("B".to_owned(), &carried.build)]);
    html! {
        p.which-is-which {
            span { (drawing::key("a")) b { "A" } " " a href={ "/builds/" (from.id) } { (from.title()) } small { "as it is" } }
            span { (drawing::key("b")) b { "B" } " " a href={ "/builds/" (onto.id) } { (onto.title()) } small { "set as below" } }
        }
        (drawing::figure(&bikes.overlay))
        (findings(&carried, onto))
        (kept::tables(&carried))
        (accounted(&carried))
        (by_hand::tables(&carried, onto))
        (button(from, onto, &carried))
    }
}

fn findings(carried: &Carried, onto: &Loaded) -> Markup {
    html! {
        section.area #carry-findings aria-labelledby="carry-findings-title" {
            h2 #carry-findings-title { "What cannot be kept, and what is not known" }
            @if carried.findings.is_empty() { p.quiet { "Everything that the rider touches is kept, and everything that is needed for it is known." } }
            ol.findings { @for finding in &carried.findings { (one(finding, onto)) } }
        }
    }
}

/// A finding, with links to its places on the other build's page.
fn one(finding: &Finding, onto: &Loaded) -> Markup {
    html! {
        li class={ "finding " (finding.severity_word()) } {
            (sentences(finding))
            @if !finding.about.is_empty() {
                p.about { @for about in &finding.about {
                    @let address = about.address();
                    a href={ "/builds/" (onto.id) (anchor(&address)) } { (named(about)) } " "
                } }
            }
        }
    }
}

fn named(about: &About) -> String {
    match about {
        About::Number(id, side) => {
            let name = number::by_id(id).map_or(*id, |number| number.name);
            if side.word().is_empty() { name.to_owned() } else { format!("{name}, {}", side.word()) }
        }
        About::Part(path) | About::Field(path) => in_words(path),
    }
}

fn accounted(carried: &Carried) -> Markup {
    html! {
        section.area aria-labelledby="accounted-title" {
            h2 #accounted-title { "Taken into account" }
            @if carried.accounted.is_empty() {
                p.quiet { "As far as is known, cranks, pedals, saddle, levers and bar are alike on both bikes." }
            } @else {
                ul { @for sentence in &carried.accounted { li { (sentence) } } }
            }
        }
    }
}

/// The button that asks the other build to have this position and sets it so.
fn button(from: &Loaded, onto: &Loaded, carried: &Carried) -> Markup {
    let wanted = take::wanted(onto, carried);
    html! {
        section.area aria-labelledby="take-title" {
            h2 #take-title { "Take it into the other build" }
            @if wanted.is_empty() { p.quiet { "It asks for this position and is set so already." } } @else {
                form method="post" {
                    p { "The position becomes what is asked of " b { (onto.title()) } ", and its settings become those above: "
                        (crate::words::count(wanted.len(), "field")) " in one change, which can be taken back there. Readings stay as they are." }
                    input type="hidden" name="onto" value=(onto.id);
                    input type="hidden" name="seen" value=(from.revision);
                    input type="hidden" name="seen_onto" value=(onto.revision);
                    input type="hidden" name="key" value=(key::draw());
                    input type="hidden" name="who" value="";
                    button { "Take it into " (onto.title()) }
                }
            }
        }
    }
}
