//! Letting a tablet in: it sends the code that an owner's desk shows, once, and is a bench tablet from then on.

use crate::app::App;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::sign_in::tries::from_address;
use crate::sign_in::{Who, about, address, cookie};
use crate::words;
use axum::extract::{Form, State};
use axum::http::header::SET_COOKIE;
use axum::http::{Extensions, HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_store::Noted;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(enter)
}

async fn show() -> Markup {
    form(None)
}

fn form(refused: Option<&str>) -> Markup {
    let main = html! {
        h1 { "A tablet for the bench" }
        p.lead { "An owner opens “people” at the desk and lets a tablet in: the code that is shown there goes here." }
        form.way-in method="post" action="/bench" {
            @if let Some(refused) = refused { div.note #refused role="alert" { p { (refused) } } }
            div.field {
                label for="code" { "Code" }
                input.figure #code name="code" required inputmode="numeric" autocomplete="one-time-code" maxlength="12"
                    aria-describedby=(if refused.is_some() { "refused code-says" } else { "code-says" });
                p.says #code-says { "Six digits, good for five minutes and one tablet." }
            }
            p.go { button { "Let this tablet in" } }
        }
        p { a href="/sign-in" { "Sign in with a password instead" } }
    };
    page(&Page { title: "A tablet for the bench", main })
}

#[derive(Deserialize)]
struct Typed {
    code: String,
}

async fn enter(
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
    if let Err(wait_ms) = app.tries().begin(&[from_address(from)], now_ms) {
        let says = Refusal::wait(wait_ms).sentence();
        return Ok((StatusCode::TOO_MANY_REQUESTS, form(Some(&says))).into_response());
    }
    let code: String = typed.code.chars().filter(char::is_ascii_digit).take(12).collect();
    let at = about(&headers, from);
    let Some(token) = app.gate().redeem(&code, &at, now_ms).await? else {
        app.gate()
            .note(Noted { who: "somebody", did: "gave a tablet’s code that is none", what: &at, at_ms: now_ms })
            .await?;
        let says = "This code lets nobody in. It may be over or used: let the desk show a new one.";
        return Ok((StatusCode::UNAUTHORIZED, form(Some(says))).into_response());
    };
    if let Some(before) = who.session() {
        app.gate().end_session(&before.id).await?;
    }
    app.gate().note(Noted { who: "a bench tablet", did: "was let in", what: &at, at_ms: now_ms }).await?;
    let cookie = cookie::keep(&token, app.names().secure);
    Ok(([(SET_COOKIE, cookie)], Redirect::to("/bench/turn")).into_response())
}
