//! Signing out: this browser is forgotten here, and forgets.

use crate::app::App;
use crate::refusal::Refusal;
use crate::sign_in::{Who, cookie};
use crate::words;
use axum::extract::State;
use axum::http::header::SET_COOKIE;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, post};
use witnessmark_store::Noted;

pub(super) fn methods() -> MethodRouter<App> {
    post(sign_out)
}

async fn sign_out(State(app): State<App>, who: Who) -> Result<Response, Refusal> {
    if let Some(session) = who.session() {
        app.gate().end_session(&session.id).await?;
        let name = session.person.as_deref().unwrap_or("a bench tablet");
        let noted = Noted { who: name, did: "signed out", what: &session.about, at_ms: words::now_ms() };
        app.gate().note(noted).await?;
    }
    Ok(([(SET_COOKIE, cookie::forget(app.names().secure))], Redirect::to("/sign-in")).into_response())
}
