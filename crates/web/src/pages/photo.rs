//! One picture or document of a build: to be seen, saved or removed.

use super::edit::by;
use crate::app::{App, Mechanic};
use crate::refusal::Refusal;
use axum::extract::{Form, Path, Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use serde::Deserialize;
use witnessmark_store::{BuildId, Size};

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(remove)
}

#[derive(Debug, Deserialize)]
struct Asked {
    #[serde(default)]
    size: String,
}

async fn show(
    State(app): State<App>,
    Path((id, photo)): Path<(String, String)>,
    Query(asked): Query<Asked>,
) -> Result<Response, Refusal> {
    let id: BuildId = id.parse()?;
    let size = if asked.size == "small" { Size::Small } else { Size::Whole };
    let Some((kind, bytes)) = app.store().upload(&id, &photo, size).await? else { return Err(Refusal::NoSuchPage) };
    // What this program did not write itself is saved and never shown: it could be anything.
    let how = if kind == "image/jpeg" { "inline" } else { "attachment" };
    Ok(([(CONTENT_TYPE, kind.as_str()), (CONTENT_DISPOSITION, how)], bytes).into_response())
}

#[derive(Debug, Deserialize)]
struct Remove {
    #[serde(default)]
    who: String,
    key: String,
}

async fn remove(
    mechanic: Mechanic,
    Path((id, photo)): Path<(String, String)>,
    Form(remove): Form<Remove>,
) -> Result<Redirect, Refusal> {
    let id: BuildId = id.parse()?;
    // A second tap finds nothing left to remove, which is as it was to be.
    mechanic.remove_upload(&id, &photo, &by(&remove.who, &remove.key)).await?;
    Ok(Redirect::to(&format!("/builds/{id}/photos")))
}
