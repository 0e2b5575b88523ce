//! Which photos stand on which sheets: the ticks beside the pictures, kept.

use super::photos::choose;
use crate::app::{App, Mechanic};
use crate::refusal::Refusal;
use axum::extract::{Form, Path, State};
use axum::response::Response;
use axum::routing::{MethodRouter, post};

pub(super) fn methods() -> MethodRouter<App> {
    post(keep)
}

async fn keep(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    Form(sent): Form<Vec<(String, String)>>,
) -> Result<Response, Refusal> {
    choose(&app, &mechanic, &id, &sent).await
}
