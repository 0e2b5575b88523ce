//! Taking turns at a bench tablet: a mechanic says who it is by name and PIN, so that every edit has a name.

use crate::app::App;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::sign_in::tries::{at_name, from_address};
use crate::sign_in::{Who, address, within};
use crate::words;
use axum::extract::{Form, Query, State};
use axum::http::{Extensions, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_store::{ACTING_MS, Noted, Session, SessionKind};

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(turn)
}

/// The tablet that asks.
fn tablet(who: &Who) -> Result<&Session, Refusal> {
    who.session()
        .filter(|session| session.kind == SessionKind::Bench)
        .ok_or_else(|| Refusal::NotYours("This browser is no bench tablet: nobody takes turns on it.".into()))
}

/// Where somebody came from and goes back to.
#[derive(Deserialize)]
struct Came {
    #[serde(default)]
    to: String,
}

async fn show(State(app): State<App>, who: Who, Query(came): Query<Came>) -> Result<Markup, Refusal> {
    form(&app, tablet(&who)?, &Typed { to: came.to, ..Typed::default() }, None).await
}

async fn form(app: &App, session: &Session, typed: &Typed, refused: Option<&str>) -> Result<Markup, Refusal> {
    let name = &typed.name;
    let names = app.gate().with_pin().await?;
    let main = html! {
        h1 { "Who is at the bench?" }
        @if let Some(person) = &session.person {
            p.lead { b { (person) } " is." }
            form method="post" action="/bench/turn" {
                input type="hidden" name="name" value="";
                button { (person) " leaves" }
            }
        } @else {
            p.lead { "Nobody: this tablet shows everything and writes nothing." }
        }
        @if names.is_empty() {
            p { "Nobody has a PIN yet. Each sets their own under “my own” after signing in by password, or whoever has the machine types witnessmark people reset NAME --pin." }
        } @else {
            form.way-in method="post" action="/bench/turn" {
                @if !typed.to.is_empty() { input type="hidden" name="to" value=(within(&typed.to)); }
                @if let Some(refused) = refused { div.note #refused role="alert" { p { (refused) } } }
                fieldset.turns {
                    legend { "Who" }
                    @for (at, one) in names.iter().enumerate() {
                        label.turn for={ "who-" (at) } {
                            input id={ "who-" (at) } type="radio" name="name" value=(one) required checked[one == name];
                            span { (one) }
                        }
                    }
                }
                div.field {
                    label for="pin" { "PIN" }
                    input.figure #pin type="password" name="pin" required inputmode="numeric" maxlength="8"
                        autocomplete="off" aria-describedby=[refused.map(|_| "refused")];
                }
                p.go { button { "At the bench" } }
            }
        }
        p.quiet { "Whoever is at the bench rests after " (ACTING_MS / 60_000) " minutes without a touch." }
    };
    Ok(page(&Page { title: "Who is at the bench?", main }))
}

#[derive(Default, Deserialize)]
struct Typed {
    name: String,
    #[serde(default)]
    pin: String,
    #[serde(default)]
    to: String,
}

async fn turn(
    State(app): State<App>,
    who: Who,
    extensions: Extensions,
    Form(typed): Form<Typed>,
) -> Result<Response, Refusal> {
    let session = tablet(&who)?;
    let now_ms = words::now_ms();
    if typed.name.is_empty() {
        app.gate().act(session, None, now_ms).await?;
        return Ok(Redirect::to("/bench/turn").into_response());
    }
    let (name, place) = (at_name("pin", &typed.name), from_address(address(&extensions)));
    if let Err(wait_ms) = app.tries().begin(&[name.clone(), place.clone()], now_ms) {
        let says = Refusal::wait(wait_ms).sentence();
        let shown = form(&app, session, &typed, Some(&says)).await?;
        return Ok((StatusCode::TOO_MANY_REQUESTS, shown).into_response());
    }
    let Some(person) = app.gate().by_pin(&typed.name, &typed.pin).await? else {
        app.gate()
            .note(Noted { who: "somebody", did: "gave a PIN that does not fit", what: &session.about, at_ms: now_ms })
            .await?;
        let shown = form(&app, session, &typed, Some("This name and this PIN do not go together.")).await?;
        return Ok((StatusCode::UNAUTHORIZED, shown).into_response());
    };
    app.tries().was_right(&name, &place);
    app.gate().act(session, Some(&person.name), now_ms).await?;
    app.gate().note(Noted { who: &person.name, did: "came to the bench", what: &session.about, at_ms: now_ms }).await?;
    Ok(Redirect::to(within(&typed.to)).into_response())
}
