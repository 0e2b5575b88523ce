//! Another build like this one: the rider's second bike, or the same bike with another frame.
//!
//! What was read off a bike, done to it and agreed about it belongs to that bike and stays behind; the copy begins as planned.

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

/// The sections that belong to this very bike: what was read, done and weighed, what was quoted, and what its rider agreed
/// to show.
const STAYS: &[&str] = &["measured", "survey", "steps", "serviced", "weighing", "quote", "show", "shown", "photos"];
/// What was done to a bolt; its thread and what goes on it are the same on the copy.
const DONE: &[&str] = &["state", "applied", "wrench", "by", "on", "witness", "checked_by"];

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
    leaves.retain(|path, _| !stays_behind(path));
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

fn stays_behind(path: &str) -> bool {
    let section = path.split('.').next().unwrap_or_default();
    let key = path.rsplit('.').next().unwrap_or_default();
    STAYS.contains(&section) || (section == "fasteners" && DONE.contains(&key)) || path == "job.handed_over_on"
}

#[cfg(test)]
mod tests {
    use super::*;
    use witnessmark_core::build::SECTIONS;

    #[test]
    fn what_was_read_done_or_agreed_stays_with_its_bike_and_what_was_planned_goes_along() {
        for path in ["measured.hood-gap.value", "fasteners.stem-face-plate.applied", "shown.hood-gap", "show.rider"] {
            assert!(stays_behind(path), "{path}");
        }
        for path in
            ["asked.hood-gap.value", "fasteners.stem-face-plate.thread", "parts.stem.length", "work.build-up.hours"]
        {
            assert!(!stays_behind(path), "{path}");
        }
        assert!(STAYS.iter().all(|stays| SECTIONS.iter().any(|section| section.key == *stays)));
    }
}
