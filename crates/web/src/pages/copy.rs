//! Another build like this one: the rider's second bike, or the same bike with another frame.
//!
//! What was read off a bike belongs to that bike, so readings stay behind, and the copy begins as planned.

use super::build::loaded;
use super::edit::by;
use crate::app::{App, Mechanic};
use crate::refusal::Refusal;
use axum::extract::{Form, Path, State};
use axum::response::Redirect;
use axum::routing::{MethodRouter, post};
use serde::Deserialize;
use witnessmark_core::build::Stage;
use witnessmark_core::field::Choice;
use witnessmark_store::NewBuild;

pub(super) fn methods() -> MethodRouter<App> {
    post(copy)
}

#[derive(Debug, Deserialize)]
struct Copy {
    key: String,
    #[serde(default)]
    who: String,
}

async fn copy(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    Form(copy): Form<Copy>,
) -> Result<Redirect, Refusal> {
    let original = loaded(&app, &id).await?;
    let mut leaves = original.leaves.clone();
    leaves.retain(|path, _| !path.starts_with("measured.") && !path.starts_with("survey."));
    leaves.insert("job.title".into(), format!("{}, copy", original.title()));
    let begun = [Stage::OnTheStand.name(), Stage::Finished.name()];
    if let Some(stage) = leaves.get_mut("job.stage").filter(|stage| begun.contains(&stage.as_str())) {
        Stage::Planned.name().clone_into(stage);
    }
    let leaves: Vec<(String, String)> = leaves.into_iter().collect();
    let new = NewBuild { leaves: &leaves, copied_from: Some(&original.id) };
    let id = mechanic.create_build(new, &by(&copy.who, &copy.key)).await?;
    Ok(Redirect::to(&format!("/builds/{id}")))
}
