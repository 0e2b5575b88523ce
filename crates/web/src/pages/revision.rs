//! The number of a build's last change, by which a page notices that another tablet has written. Every open page asks for
//! it now and then, so nothing is worked out for it.

use crate::app::App;
use crate::refusal::Refusal;
use axum::extract::{Path, State};
use axum::routing::{MethodRouter, get};

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

async fn show(State(app): State<App>, Path(id): Path<String>) -> Result<String, Refusal> {
    let revision = app.store().revision(&id.parse()?).await?;
    Ok(revision.ok_or(Refusal::NoSuchBuild(id))?.to_string())
}
