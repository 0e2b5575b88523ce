//! The number of a build's last change, by which a page notices that another tablet has written.

use super::build::loaded;
use crate::app::App;
use crate::refusal::Refusal;
use axum::extract::{Path, State};
use axum::routing::{MethodRouter, get};

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

async fn show(State(app): State<App>, Path(id): Path<String>) -> Result<String, Refusal> {
    Ok(loaded(&app, &id).await?.revision.to_string())
}
