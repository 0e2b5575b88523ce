//! The desk, for owners: people and their roles, browsers that are signed in, a code for a tablet.

use crate::app::{App, Owner};
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::Form;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_store::{CODE_MS, Noted, PeopleError, Person, SHORTEST_PASSWORD, Session, SessionKind};

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(act)
}

async fn show(owner: Owner) -> Result<Markup, Refusal> {
    list(&owner, &Said::default()).await
}

/// What is said beside the forms, and what was typed.
#[derive(Default)]
struct Said<'a> {
    done: Option<String>,
    code: Option<String>,
    refused: Option<String>,
    name: &'a str,
    role: &'a str,
}

async fn list(owner: &Owner, said: &Said<'_>) -> Result<Markup, Refusal> {
    let people = owner.store().people().await?;
    let sessions = owner.store().sessions(words::now_ms()).await?;
    let main = html! {
        h1 { "People" }
        @if let Some(done) = &said.done { p.lead role="status" { (done) } }
        @if let Some(refused) = &said.refused { div.note #refused role="alert" { p { (refused) } } }
        @if let Some(code) = &said.code { (code_shown(code)) }
        section.area #everybody {
            h2 { "Everybody" }
            @if people.is_empty() { p { "Nobody yet: this machine alone needs no sign-in. Add an owner before others reach it." } }
            ul.people { @for person in &people { (one(person)) } }
            (add(said))
        }
        section.area #browsers {
            h2 { "Signed in" }
            form method="post" action="/people" {
                input type="hidden" name="act" value="code";
                button { "Let a bench tablet in" }
            }
            @if sessions.is_empty() { p.quiet { "Nobody is signed in." } }
            ul.people { @for session in &sessions { (browser(session)) } }
        }
        p.links {
            a href="/ledger" { "who looked" }
            a href="/person" { "what is kept about a rider" }
            a href="/copies" { "copies of the workshop" }
        }
    };
    Ok(page(&Page { title: "People", main }))
}

fn code_shown(code: &str) -> Markup {
    let (front, back) = code.split_at(code.len() / 2);
    html! {
        section.area #code {
            h2 { "Code for one tablet" }
            p.code { (front) " " (back) }
            p { "On the tablet, open this program’s address, choose “This is a tablet for the bench” and type it in. It is good for "
                (CODE_MS / 60_000) " minutes and is shown only here and now." }
        }
    }
}

fn one(person: &Person) -> Markup {
    let name = &person.name;
    html! {
        li {
            p { b { (name) } ", " (person.role) @if person.has_pin { ", has a PIN" } span.quiet { ", since " (words::moment(person.made_ms)) } }
            details.fold {
                summary { "Change " (name) }
                form.way-in method="post" action="/people" {
                    input type="hidden" name="act" value="reset";
                    input type="hidden" name="name" value=(name);
                    div.field {
                        label for={ "new-" (name) } { "A new password for " (name) }
                        input id={ "new-" (name) } type="password" name="password" required maxlength="256" autocomplete="new-password";
                    }
                    p.go { button { "Set it and sign " (name) " out everywhere" } }
                }
                form method="post" action="/people" {
                    input type="hidden" name="act" value="remove";
                    input type="hidden" name="name" value=(name);
                    p.go { button { "Remove " (name) } }
                    p.quiet { "The log of edits keeps the name." }
                }
            }
        }
    }
}

fn add(said: &Said<'_>) -> Markup {
    html! {
        details.fold open[said.refused.is_some() && !said.name.is_empty()] {
            summary { "Add a person" }
            form.way-in method="post" action="/people" {
                input type="hidden" name="act" value="add";
                div.field {
                    label for="name" { "Name" }
                    input #name name="name" value=(said.name) required maxlength="40" autocomplete="off" aria-describedby="name-says";
                    p.says #name-says { "As it is to stand beside every edit." }
                }
                div.field {
                    label for="role" { "May" }
                    select #role name="role" {
                        option value="viewer" selected[said.role == "viewer"] { "look (viewer)" }
                        option value="mechanic" selected[said.role == "mechanic" || said.role.is_empty()] { "look and write (mechanic)" }
                        option value="owner" selected[said.role == "owner"] { "everything, people and ledger too (owner)" }
                    }
                }
                div.field {
                    label for="password" { "Password" }
                    input #password type="password" name="password" required maxlength="256" autocomplete="new-password" aria-describedby="password-says";
                    p.says #password-says { "At least " (SHORTEST_PASSWORD) " letters; a few words in a row do well." }
                }
                p.go { button { "Add" } }
            }
        }
    }
}

fn browser(session: &Session) -> Markup {
    let whose = match (session.kind, &session.person) {
        (SessionKind::Person, Some(name)) => name.clone(),
        (SessionKind::Bench, Some(name)) => format!("Bench tablet, {name} last"),
        (_, None) => "Bench tablet".to_owned(),
    };
    html! {
        li {
            p { b { (whose) } ", used " (words::moment(session.seen_ms)) span.quiet { ", since " (words::moment(session.made_ms)) } }
            p.quiet { (session.about) }
            form method="post" action="/people" {
                input type="hidden" name="act" value="end";
                input type="hidden" name="session" value=(session.id);
                button aria-label={ "Sign out: " (whose) ", " (session.about) } { "sign out" }
            }
        }
    }
}

#[derive(Deserialize)]
struct Typed {
    act: String,
    #[serde(default)]
    name: String,
    #[serde(default)]
    role: String,
    #[serde(default)]
    password: String,
    #[serde(default)]
    session: String,
}

async fn act(owner: Owner, Form(typed): Form<Typed>) -> Result<Response, Refusal> {
    let now_ms = words::now_ms();
    let mut said = Said::default();
    let store = owner.store();
    let name = typed.name.trim();
    let outcome: Result<(&str, &str), PeopleError> = match typed.act.as_str() {
        "add" => match typed.role.parse() {
            Ok(role) => store.add_person(name, role, &typed.password, now_ms).await.map(|()| ("added", name)),
            Err(error) => Err(error),
        },
        "reset" => store.reset_password(name, &typed.password).await.map(|()| ("set a new password for", name)),
        "remove" => store.remove_person(name).await.map(|()| ("removed", name)),
        "end" => {
            store.end_session(&typed.session).await.map(|_| ("signed out", "a browser")).map_err(PeopleError::from)
        }
        "code" => {
            said.code = store.open_bench_code(owner.name(), now_ms).await?;
            if said.code.is_none() {
                said.refused = Some("Four codes are open already. Use one of them, or wait five minutes.".into());
                let shown = list(&owner, &said).await?;
                return Ok((StatusCode::CONFLICT, shown).into_response());
            }
            Ok(("made a code for", "a bench tablet"))
        }
        other => return Err(Refusal::Incomplete(format!("“{other}” is nothing that can be done here."))),
    };
    match outcome {
        Ok((did, what)) => {
            store.note(Noted { who: owner.name(), did, what, at_ms: now_ms }).await?;
            if said.code.is_none() {
                said.done = Some(format!("You {did} {what}."));
            }
            Ok(list(&owner, &said).await?.into_response())
        }
        Err(PeopleError::Store(error)) => Err(error.into()),
        Err(error) => {
            said.refused = Some(error.to_string());
            (said.name, said.role) = (name, &typed.role);
            Ok((StatusCode::UNPROCESSABLE_ENTITY, list(&owner, &said).await?).into_response())
        }
    }
}
