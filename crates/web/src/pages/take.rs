//! Taking parts into a build: what it would change is shown before it is done, and then it is one change.
//!
//! One page for all ways to it: a part found in the catalogue, one of those that would fit, the list that completes a
//! build, and the new facts of a part that is fitted already. It needs no script.

use super::build::{capital, findings, loaded};
use super::edit::by;
use crate::app::{App, Mechanic};
use crate::catalogue::Catalogue;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::{key, words};
use axum::extract::{Form, Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use proposal::{Becomes, NoSuchPart, Proposal, Said, moved, propose};
use std::sync::Arc;
use witnessmark_core::compute::PlannedNumber;
use witnessmark_core::field::Choice;
use witnessmark_core::finding::Finding;
use witnessmark_core::part::{Condition, Supplier};
use witnessmark_store::{Change, EditError};

pub(crate) use proposal::{Pick, Source};

mod proposal;
#[cfg(test)]
mod tests;

/// The most parts that are taken at once: more than a bike has.
const MOST: usize = 200;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(take)
}

/// The address of the page for these picks.
pub(crate) fn address(loaded: &Loaded, picks: &[Pick]) -> String {
    let picks: Vec<String> = picks.iter().map(|pick| format!("pick={}", pick.text())).collect();
    format!("/builds/{}/take?{}", loaded.id, picks.join("&"))
}

/// What a form or an address says.
#[derive(Debug, Default)]
struct Asked {
    picks: Vec<Pick>,
    said: Said,
    /// The part whose newer facts are seen and not taken.
    keep: Option<String>,
    stands: String,
    key: String,
    who: String,
    /// Whether anything was said about who brings the part; until then it is the shop, and new.
    says_supplier: bool,
}

impl Asked {
    fn new(fields: Vec<(String, String)>) -> Result<Self, Refusal> {
        let mut asked = Asked::default();
        for (name, text) in fields {
            match name.as_str() {
                "pick" => match Pick::from_text(&text) {
                    Some(pick) if asked.picks.iter().any(|other| other.at == pick.at) => {
                        return Err(Refusal::Incomplete(format!(
                            "Two parts are to go to one place: {}.",
                            pick.at.words()
                        )));
                    }
                    Some(pick) => asked.picks.push(pick),
                    None => {
                        let why = "a place and a part were expected, such as parts.stem:plain-100".into();
                        return Err(Refusal::NothingSoNamed { name: text, why });
                    }
                },
                "same" => asked.said.same = !text.is_empty(),
                "supplied_by" => {
                    asked.said.supplied_by = text;
                    asked.says_supplier = true;
                }
                "condition" => asked.said.condition = text,
                "keep" => asked.keep = Some(text),
                "stands" => asked.stands = text,
                "key" => asked.key = text,
                "who" => asked.who = text,
                _ => {}
            }
        }
        if asked.picks.len() > MOST {
            return Err(Refusal::Incomplete(format!("At most {MOST} parts are taken at once.")));
        }
        if !asked.says_supplier {
            Supplier::Shop.name().clone_into(&mut asked.said.supplied_by);
            Condition::New.name().clone_into(&mut asked.said.condition);
        }
        Ok(asked)
    }
}

async fn show(
    State(app): State<App>,
    Path(id): Path<String>,
    Query(fields): Query<Vec<(String, String)>>,
) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let asked = Asked::new(fields)?;
    if asked.picks.is_empty() {
        return Err(Refusal::Incomplete("No part was chosen.".into()));
    }
    app.compute(move || {
        let proposal = propose(&loaded, &loaded.catalogue, &asked.picks, &asked.said)?;
        Ok(shown(&loaded, &loaded.catalogue, &asked, &proposal, None))
    })
    .await
}

impl From<NoSuchPart> for Refusal {
    fn from(error: NoSuchPart) -> Self {
        Refusal::Incomplete(error.0)
    }
}

async fn take(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let asked = Asked::new(fields)?;
    if let Some(path) = &asked.keep {
        return keep(&mechanic, &loaded, path, &asked).await;
    }
    if asked.picks.is_empty() {
        return Err(Refusal::Incomplete("No part was chosen.".into()));
    }
    let asked = Arc::new(asked);
    let proposal = proposed(&app, &loaded, &asked).await?;
    // A second tap, after the first was written: it is as it was to be.
    if proposal.changes.is_empty() {
        return Ok(back(&loaded, &asked));
    }
    if proposal.stands != asked.stands {
        let says = "The part or the catalogue was changed by somebody else after this was shown. Nothing was written; \
                    this is what it would change now.";
        let page = shown(&loaded, &loaded.catalogue, &asked, &proposal, Some(says));
        return Ok((StatusCode::CONFLICT, page).into_response());
    }
    match mechanic.edit(&loaded.id, &proposal.changes, &by(&asked.who, &asked.key)).await {
        Ok(_) => Ok(back(&loaded, &asked)),
        Err(EditError::Clash(_)) => {
            let now = super::build::loaded(&app, &id).await?;
            let proposal = proposed(&app, &now, &asked).await?;
            let says = "Somebody else changed this part at the same moment. Nothing was written; this is what it would \
                        change now.";
            Ok((StatusCode::CONFLICT, shown(&now, &now.catalogue, &asked, &proposal, Some(says))).into_response())
        }
        Err(other) => Err(other.into()),
    }
}

async fn proposed(app: &App, loaded: &Arc<Loaded>, asked: &Arc<Asked>) -> Result<Proposal, NoSuchPart> {
    let (loaded, asked) = (Arc::clone(loaded), Arc::clone(asked));
    app.compute(move || propose(&loaded, &loaded.catalogue, &asked.picks, &asked.said)).await
}

/// Says that the newer version was seen and the facts stay: the build is told again when there is a newer one still.
async fn keep(mechanic: &Mechanic, loaded: &Loaded, path: &str, asked: &Asked) -> Result<Response, Refusal> {
    let at = super::build::parts::PartAt::from_path(path);
    let newer = at.as_ref().and_then(|at| loaded.newer(at.kind, &at.place));
    let Some((at, newer)) = at.as_ref().zip(newer) else {
        return Ok(Redirect::to(&format!("/builds/{}", loaded.id)).into_response());
    };
    let path = format!("{}.catalogue_version", at.path());
    let before = loaded.text(&path).map(str::to_owned);
    let change = Change { path, before, after: Some(newer.latest.to_string()) };
    mechanic.edit(&loaded.id, &[change], &by(&asked.who, &asked.key)).await?;
    Ok(Redirect::to(&format!("/builds/{}#part.{}", loaded.id, at.path())).into_response())
}

/// Back to the part on the build's page.
fn back(loaded: &Loaded, asked: &Asked) -> Response {
    let place = match asked.picks.as_slice() {
        [pick] => format!("#part.{}", pick.at.path()),
        _ => String::new(),
    };
    Redirect::to(&format!("/builds/{}{place}", loaded.id)).into_response()
}

fn shown(loaded: &Loaded, catalogue: &Catalogue, asked: &Asked, proposal: &Proposal, says: Option<&str>) -> Markup {
    let title = match proposal.places.as_slice() {
        [one] if one.was_same => format!("New facts of the {}", one.pick.at.words()),
        [one] if one.was.is_some() => format!("Replace the {}", one.pick.at.words()),
        [one] if one.pick.at.section == "shelf" => format!("{} on the shelf", capital(&one.pick.at.words())),
        [one] => format!("Fit a {}", one.pick.at.words()),
        many => format!("Take {} parts", many.len()),
    };
    let moved = moved(&loaded.plan.findings, &proposal.plan.findings);
    let main = html! {
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { (title) }
        @if let Some(says) = says { p.note role="alert" { (says) } }
        p.lead {
            @if proposal.changes.is_empty() { "This is so already; there is nothing to write." }
            @else { "Nothing is written yet. This is what it would change." }
        }
        section aria-labelledby="findings-title" {
            h2 #findings-title { "Findings" }
            @if moved.go.is_empty() && moved.come.is_empty() && moved.other.is_empty() {
                p.quiet { "No finding comes and none goes." }
            }
            (found("These go", "goes", &moved.go))
            (found("These come", "comes", &moved.come))
            @if !moved.other.is_empty() {
                details.fold {
                    summary { (words::count(moved.other.len(), "finding")) " that stay" @if moved.other.len() == 1 { "s" } ", and say something else" }
                    ol.findings { @for finding in &moved.other { (findings::told(finding)) } }
                }
            }
        }
        @for place in &proposal.places { (one_place(place, catalogue)) }
        (form(loaded, asked, proposal))
        (numbers(loaded, proposal))
    };
    page(&Page { title: &title, main })
}

/// Findings of one fate, which is told by a word at each.
fn found(title: &str, fate: &str, all: &[&Finding]) -> Markup {
    html! {
        @if !all.is_empty() {
            h3 { (title) " (" (all.len()) ")" }
            ol class={ "findings " (fate) } { @for finding in all { (findings::told(finding)) } }
        }
    }
}

/// How many numbers are named before the rest is folded.
const NUMBERS_SHOWN: usize = 8;

fn numbers(loaded: &Loaded, proposal: &Proposal) -> Markup {
    let pairs = loaded.plan.numbers.each().iter().zip(proposal.plan.numbers.each());
    let value = |one: &PlannedNumber| {
        one.planned.as_ref().map_or_else(|_| "not known".to_owned(), |value| words::with_unit(one.number.kind, *value))
    };
    // What moves by less than is shown does not move.
    let moved: Vec<(&PlannedNumber, &PlannedNumber)> = pairs.filter(|(was, is)| value(was) != value(is)).collect();
    let row = |was: &PlannedNumber, is: &PlannedNumber| {
        html! {
            tr {
                th scope="row" { (is.number.name) @if !is.side.word().is_empty() { ", " (is.side.word()) } }
                td data-label="now" { (value(was)) }
                td.figure data-label="then" { (value(is)) }
            }
        }
    };
    let table = |all: &[(&PlannedNumber, &PlannedNumber)]| {
        html! {
            table.becomes {
                thead { tr { th scope="col" { "number" } th scope="col" { "now" } th scope="col" { "then" } } }
                tbody { @for (was, is) in all { (row(was, is)) } }
            }
        }
    };
    let (first, rest) = moved.split_at(moved.len().min(NUMBERS_SHOWN));
    html! {
        section aria-labelledby="numbers-title" {
            h2 #numbers-title { "Planned numbers" }
            @if moved.is_empty() { p.quiet { "None changes." } } @else { (table(first)) }
            @if !rest.is_empty() {
                details.fold { summary { "and " (words::count(rest.len(), "more number")) } (table(rest)) }
            }
        }
    }
}

fn one_place(place: &Becomes, catalogue: &Catalogue) -> Markup {
    let Becomes { pick, name, was, facts, unchanged, was_same } = place;
    let stock = match &pick.from {
        Source::Catalogue(id) => catalogue.part(pick.at.kind, id).and_then(|entry| entry.stock.as_ref()),
        Source::Shelf(_) => None,
    };
    html! {
        section aria-label=(pick.at.words()) {
            h2 { (capital(&pick.at.words())) ": " (name) }
            p {
                @match was {
                    Some(was) if *was_same => { "The same part as is fitted, as the catalogue has it now." }
                    Some(was) => { "It takes the place of " b { (was) } "." }
                    None => { "The place is free." }
                }
                @if let Some(stock) = stock {
                    " " @if stock.value == 0 { b { "None lies on the shop’s shelf." } } @else { (stock.value) " on the shop’s shelf." }
                }
            }
            @if facts.is_empty() { p.quiet { "No fact differs." } } @else {
                details.fold open[facts.len() <= 14] {
                    summary { (words::count(facts.len(), "fact")) " change" @if facts.len() == 1 { "s" } ", " (unchanged) " stay as they are" }
                    table.becomes {
                        thead { tr { th scope="col" { "fact" } th scope="col" { "now" } th scope="col" { "then" } } }
                        tbody {
                            @for fact in facts {
                                tr {
                                    th scope="row" { (fact.words) }
                                    td data-label="now" { (fact.before.as_deref().unwrap_or("not known")) }
                                    td.figure data-label="then" { (fact.after.as_deref().unwrap_or("not known")) }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn form(loaded: &Loaded, asked: &Asked, proposal: &Proposal) -> Markup {
    let others =
        || proposal.places.iter().filter(|place| !place.was_same && matches!(place.pick.from, Source::Catalogue(_)));
    let may_be_same = proposal.places.len() == 1
        && others().any(|place| {
            place.was.is_some() && loaded.text(&format!("{}.catalogue_id", place.pick.at.path())).is_none()
        });
    let one = proposal.places.len() == 1;
    let is_news = one && proposal.places.iter().all(|place| place.was_same);
    let choice = |name: &str, label: &str, all: &[&str], now: &str| {
        html! {
            div.field {
                label for=(name) { (label) }
                select id=(name) name=(name) {
                    option value="" selected[now.is_empty()] { "not known" }
                    @for word in all { option selected[*word == now] { (word) } }
                }
            }
        }
    };
    html! {
        form.take method="post" action={ "/builds/" (loaded.id) "/take" } {
            @for pick in &asked.picks { input type="hidden" name="pick" value=(pick.text()); }
            input type="hidden" name="stands" value=(proposal.stands);
            input type="hidden" name="key" value=(key::draw());
            input type="hidden" name="who" value="";
            @if others().next().is_some() {
                div.fields {
                    (choice("supplied_by", "who brings it", Supplier::NAMES, &asked.said.supplied_by))
                    (choice("condition", "condition", Condition::NAMES, &asked.said.condition))
                }
                @if may_be_same {
                    label.tick {
                        input type="checkbox" name="same" value="yes" checked[asked.said.same];
                        span { "What is fitted is this very part: what was measured or read on it stays, the catalogue fills in the rest" }
                    }
                }
            }
            p.press {
                @if !proposal.changes.is_empty() {
                    button #do { @if is_news { "Take the new facts" } @else if one { "Do it" } @else { "Take them all" } }
                }
                " " a href={ "/builds/" (loaded.id) } { "Leave it as it is" }
            }
        }
        @if is_news {
            @for place in &proposal.places {
                @if loaded.newer(place.pick.at.kind, &place.pick.at.place).is_some() {
                    form.take.quietly method="post" action={ "/builds/" (loaded.id) "/take" } {
                        input type="hidden" name="keep" value=(place.pick.at.path());
                        input type="hidden" name="key" value=(key::draw());
                        input type="hidden" name="who" value="";
                        button { "Keep the old facts" }
                        span.quiet { " and say no more about it until there is a newer version" }
                    }
                }
            }
        }
    }
}
