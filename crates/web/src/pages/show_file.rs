//! The page of the finished bike as one file to take away.

use super::build::loaded;
use super::sheet_file::attachment;
use crate::app::App;
use crate::refusal::Refusal;
use axum::extract::{Path, State};
use axum::response::Response;
use axum::routing::{MethodRouter, get};
use std::sync::Arc;
use witnessmark_sheets::paper::safe_name;

pub(super) fn methods() -> MethodRouter<App> {
    get(give)
}

async fn give(State(app): State<App>, Path(id): Path<String>) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let shown = Arc::clone(&loaded);
    let page = app.compute(move || witnessmark_sheets::show::page(&shown.build, &shown.plan)).await;
    let page = page.map_err(|why| Refusal::Incomplete(super::build::capital(&format!("{why}."))))?;
    // The name says nothing of a person who does not want to be named.
    let shown = loaded.build.show.rider.as_ref().is_some_and(|given| given.value);
    let name = if shown { safe_name(loaded.title()) } else { "race-bike".to_owned() };
    Ok(attachment("text/html; charset=utf-8", &format!("{name}.html"), page.into_bytes()))
}
