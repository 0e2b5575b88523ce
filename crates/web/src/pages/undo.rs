//! Taking a change back: the opposite change is written, and nothing is erased.

use super::build::loaded;
use super::edit::{Asker, by, written};
use crate::app::{App, Mechanic};
use crate::refusal::Refusal;
use axum::extract::{Form, Path, State};
use axum::http::HeaderMap;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, post};
use serde::Deserialize;

#[cfg(test)]
mod tests;

pub(super) fn methods() -> MethodRouter<App> {
    post(undo)
}

#[derive(Debug, Deserialize)]
struct Undo {
    /// The number of the change to be taken back.
    revision: i64,
    /// Drawn anew for each button.
    key: String,
    /// Who is at the bench.
    #[serde(default)]
    who: String,
    /// The revision that the page shows.
    #[serde(default)]
    seen: i64,
    /// The page that the button stands on, by its word.
    #[serde(default)]
    page: String,
    /// The path whose history the button stood in.
    #[serde(default)]
    path: String,
}

async fn undo(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    headers: HeaderMap,
    Form(undo): Form<Undo>,
) -> Result<Response, Refusal> {
    let before = loaded(&app, &id).await?;
    // The first change is the making of the build: a build without a field would be no build.
    if undo.revision <= 1 {
        return Err(Refusal::Incomplete("The making of a build cannot be taken back.".into()));
    }
    mechanic.undo(&before.id, undo.revision, &by(&undo.who, &undo.key)).await?;
    if headers.contains_key("x-pieces") {
        return written(&app, before, Asker { seen: undo.seen, page: undo.page }).await;
    }
    let path: String =
        undo.path.chars().filter(|letter| letter.is_ascii_alphanumeric() || "._-".contains(*letter)).collect();
    Ok(Redirect::to(&format!("/builds/{}/history?path={path}", before.id)).into_response())
}
