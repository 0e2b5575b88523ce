//! Signing in, by name and password. A wrong name and a wrong password get the same answer after the same time.

use crate::app::App;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::sign_in::tries::{at_name, from_address};
use crate::sign_in::{Who, about, address, cookie, within};
use crate::words;
use axum::extract::{Form, Query, State};
use axum::http::header::SET_COOKIE;
use axum::http::{Extensions, HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_store::Noted;

#[cfg(test)]
mod tests;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(sign_in)
}

#[derive(Debug, Deserialize)]
struct To {
    /// Where to go afterwards.
    #[serde(default)]
    to: String,
}

async fn show(who: Who, Query(to): Query<To>) -> Markup {
    form(&who, &to.to, "", None)
}

fn form(who: &Who, to: &str, name: &str, refused: Option<&str>) -> Markup {
    let main = html! {
        h1 { "Sign in" }
        @match who {
            Who::Here => { p.lead { "On this machine alone nobody needs to sign in." } }
            Who::Known(session) if session.person.is_some() => {
                p.lead { "Signed in as " b { (session.person.as_deref().unwrap_or_default()) } ". Whoever signs in here takes over this browser." }
            }
            _ => {}
        }
        @if !matches!(who, Who::Here) {
            form.way-in method="post" action="/sign-in" {
                @if let Some(refused) = refused { div.note #refused role="alert" { p { (refused) } } }
                div.field {
                    label for="name" { "Name" }
                    input #name name="name" value=(name) required maxlength="40" autocomplete="username"
                        autocapitalize="words" spellcheck="false" aria-describedby=[refused.map(|_| "refused")];
                }
                div.field {
                    label for="password" { "Password" }
                    input #password type="password" name="password" required maxlength="256"
                        autocomplete="current-password" aria-describedby=[refused.map(|_| "refused")];
                }
                input type="hidden" name="to" value=(within(to));
                p.go { button { "Sign in" } }
            }
            p { a href="/bench" { "This is a tablet for the bench" } }
            p.quiet { "Who cannot get in any more: an owner sets a new password, or whoever has the machine types witnessmark people reset." }
        }
    };
    page(&Page { title: "Sign in", main })
}

#[derive(Deserialize)]
struct Typed {
    name: String,
    password: String,
    #[serde(default)]
    to: String,
}

async fn sign_in(
    State(app): State<App>,
    who: Who,
    extensions: Extensions,
    headers: HeaderMap,
    Form(typed): Form<Typed>,
) -> Result<Response, Refusal> {
    if matches!(who, Who::Here) {
        return Ok(Redirect::to("/builds").into_response());
    }
    let now_ms = words::now_ms();
    let from = address(&extensions);
    let (name, place) = (at_name("password", &typed.name), from_address(from));
    if let Err(wait_ms) = app.tries().begin(&[name.clone(), place.clone()], now_ms) {
        let says = Refusal::wait(wait_ms).sentence();
        let shown = form(&Who::Stranger, &typed.to, &typed.name, Some(&says));
        return Ok((StatusCode::TOO_MANY_REQUESTS, shown).into_response());
    }
    let at = about(&headers, from);
    let Some(person) = app.gate().by_password(&typed.name, &typed.password).await? else {
        // The name is not written down: people type their password there.
        let noted =
            Noted { who: "somebody", did: "gave a name and password that do not fit", what: &at, at_ms: now_ms };
        app.gate().note(noted).await?;
        let says = "This name and this password do not go together.";
        let shown = form(&Who::Stranger, &typed.to, &typed.name, Some(says));
        return Ok((StatusCode::UNAUTHORIZED, shown).into_response());
    };
    app.tries().was_right(&name, &place);
    if let Some(before) = who.session() {
        app.gate().end_session(&before.id).await?;
    }
    app.gate().note(Noted { who: &person.name, did: "signed in", what: &at, at_ms: now_ms }).await?;
    let token = app.gate().begin_session(&person.name, &at, now_ms).await?;
    let cookie = cookie::keep(&token, app.names().secure);
    Ok(([(SET_COOKIE, cookie)], Redirect::to(within(&typed.to))).into_response())
}
