//! One's own: a new password, a PIN for the bench.

use crate::app::App;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::sign_in::tries::{at_name, from_address};
use crate::sign_in::{Who, about, address, cookie};
use crate::words;
use axum::extract::{Form, State};
use axum::http::header::SET_COOKIE;
use axum::http::{Extensions, HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_store::{Noted, PeopleError, SHORTEST_PASSWORD, SessionKind};

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(change)
}

/// The name of the one who asks, in a browser of their own.
fn own(who: &Who) -> Result<&str, Refusal> {
    let session = who.session().filter(|session| session.kind == SessionKind::Person);
    session
        .and_then(|session| session.person.as_deref())
        .ok_or_else(|| Refusal::NotYours("This is for a person who is signed in by password.".into()))
}

async fn show(who: Who) -> Result<Markup, Refusal> {
    Ok(form(own(&who)?, None, None))
}

fn form(name: &str, done: Option<&str>, refused: Option<&str>) -> Markup {
    let main = html! {
        h1 { (name) }
        @if let Some(done) = done { p.lead role="status" { (done) } }
        form.way-in method="post" action="/me" {
            @if let Some(refused) = refused { div.note #refused role="alert" { p { (refused) } } }
            div.field {
                label for="password" { "Your password as it is" }
                input #password type="password" name="password" required maxlength="256"
                    autocomplete="current-password" aria-describedby=[refused.map(|_| "refused")];
            }
            div.field {
                label for="pin" { "A new PIN for the bench" }
                input #pin type="password" name="pin" inputmode="numeric" maxlength="8" autocomplete="off" aria-describedby="pin-says";
                p.says #pin-says { "4 to 8 digits. It lets you write at a tablet that an owner has let in, and nothing else." }
            }
            div.field {
                label for="new" { "A new password" }
                input #new type="password" name="new" maxlength="256" autocomplete="new-password" aria-describedby="new-says";
                p.says #new-says { "At least " (SHORTEST_PASSWORD) " letters; a few words in a row do well. Leave what stays as it is empty." }
            }
            p.go { button { "Change" } }
        }
    };
    page(&Page { title: name, main })
}

#[derive(Deserialize)]
struct Typed {
    password: String,
    #[serde(default)]
    pin: String,
    #[serde(default)]
    new: String,
}

async fn change(
    State(app): State<App>,
    who: Who,
    extensions: Extensions,
    headers: HeaderMap,
    Form(typed): Form<Typed>,
) -> Result<Response, Refusal> {
    let own = own(&who)?;
    let refused = |status: StatusCode, says: &str| Ok((status, form(own, None, Some(says))).into_response());
    let now_ms = words::now_ms();
    let from = address(&extensions);
    let (name, place) = (at_name("password", own), from_address(from));
    if let Err(wait_ms) = app.tries().begin(&[name.clone(), place.clone()], now_ms) {
        let says = Refusal::wait(wait_ms).sentence();
        return refused(StatusCode::TOO_MANY_REQUESTS, &says);
    }
    let Some(person) = app.gate().by_password(own, &typed.password).await? else {
        return refused(StatusCode::UNAUTHORIZED, "This is not your password.");
    };
    app.tries().was_right(&name, &place);
    if typed.pin.is_empty() && typed.new.is_empty() {
        return refused(StatusCode::UNPROCESSABLE_ENTITY, "Nothing was to be changed.");
    }
    let mut done = Vec::new();
    let mut changed = Ok(());
    if !typed.pin.is_empty() {
        changed = app.gate().set_pin(&person, Some(&typed.pin)).await;
        done.push("Your new PIN is set.");
    }
    if changed.is_ok() && !typed.new.is_empty() {
        changed = app.gate().reset_password(&person, &typed.new).await;
        done.push("Your new password is set; every other browser of yours is signed out.");
    }
    let answer = match changed {
        Ok(()) => form(own, Some(&done.join(" ")), None).into_response(),
        Err(PeopleError::Store(error)) => return Err(error.into()),
        Err(error) => (StatusCode::UNPROCESSABLE_ENTITY, form(own, None, Some(&error.to_string()))).into_response(),
    };
    app.gate().note(Noted { who: own, did: "changed a password or PIN of", what: own, at_ms: now_ms }).await?;
    // A new password has signed everybody of this name out, this browser too; a new PIN has not.
    if let Some(before) = who.session() {
        app.gate().end_session(&before.id).await?;
    }
    let token = app.gate().begin_session(own, &about(&headers, from), now_ms).await?;
    Ok(([(SET_COOKIE, cookie::keep(&token, app.names().secure))], answer).into_response())
}
