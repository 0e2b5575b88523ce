//! The service plan as a calendar file to take away.

use super::build::loaded;
use super::sheet_file::attachment;
use crate::app::App;
use crate::refusal::Refusal;
use crate::words;
use axum::extract::{Path, State};
use axum::response::Response;
use axum::routing::{MethodRouter, get};
use witnessmark_core::service::service;
use witnessmark_sheets::calendar::{About, calendar};
use witnessmark_sheets::paper::safe_name;

pub(super) fn methods() -> MethodRouter<App> {
    get(give)
}

async fn give(State(app): State<App>, Path((id, file)): Path<(String, String)>) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    if file != "calendar.ics" {
        return Err(Refusal::NothingSoNamed { name: file, why: "calendar.ics is the file of a service plan".into() });
    }
    let plan = service(&loaded.build);
    if plan.list.iter().all(|one| one.due_on.is_err()) {
        return Err(Refusal::Incomplete(
            "No service of this bike has a day yet, so a calendar would say that nothing is due. Fill in the day of hand-over first."
                .into(),
        ));
    }
    let day = words::today().parse().unwrap_or_default();
    let text = calendar(&plan, About { key: loaded.id.as_str(), title: loaded.title(), day });
    let name = format!("{}-service.ics", safe_name(loaded.title()));
    Ok(attachment("text/calendar; charset=utf-8", &name, text.into_bytes()))
}
