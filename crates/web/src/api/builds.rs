//! The builds of the workshop, as plain data: some at a time, found by words.

use super::ask::{Asking, Refused};
use super::{FORM, SummaryJson, summary_json};
use crate::app::App;
use crate::loaded::Loaded;
use crate::pages::{Listed, listed};
use crate::register::Line;
use axum::Json;
use axum::extract::State;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use witnessmark_core::field::{Choice, Given};

/// Some of the builds, the one changed last first.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BuildsJson {
    /// The version of this form.
    pub form: u32,
    /// How many builds have all of the words.
    pub all: usize,
    /// Those of them that are told here.
    pub builds: Vec<ListedBuildJson>,
    /// What to ask as `before` for the next ones; `null` where there are no more.
    pub next: Option<i64>,
}

/// A build of the list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ListedBuildJson {
    /// Its name.
    pub id: String,
    /// The number of its last change.
    pub revision: i64,
    /// What the workshop calls it.
    pub title: Option<String>,
    /// Who rides it.
    pub rider: Option<String>,
    /// What it is built for.
    pub event: Option<String>,
    /// The day on which it must be ready: `2027-03-14`.
    pub day: Option<String>,
    /// How far it has come: `asked`, `planned`, `on the stand` or `finished`.
    pub stage: Option<&'static str>,
    /// Who changed it last.
    pub changed_by: String,
    /// When, in milliseconds since 1970.
    pub changed_at_ms: i64,
    /// How it stands.
    pub summary: SummaryJson,
}

/// Which builds.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default)]
pub(super) struct Asked {
    /// Words or parts of words that a build must all have in title, rider, event, day or stage; empty for all builds.
    q: String,
    /// Only builds changed before this place in the log of edits, as `next` says it.
    before: Option<i64>,
}

pub(super) async fn builds(State(app): State<App>, Asking(asked): Asking<Asked>) -> Result<Json<BuildsJson>, Refused> {
    let listed = listed(&app, &asked.q, asked.before).await?;
    Ok(Json(mirror(&listed)))
}

fn mirror(listed: &Listed) -> BuildsJson {
    BuildsJson {
        form: FORM,
        all: listed.found.all,
        builds: listed.shown.iter().map(|(line, loaded)| one(line, loaded)).collect(),
        next: listed.found.next,
    }
}

fn one(line: &Line, loaded: &Loaded) -> ListedBuildJson {
    let job = &loaded.build.job;
    let text = |given: &Option<Given<String>>| given.as_ref().map(|given| given.value.clone());
    ListedBuildJson {
        id: loaded.id.to_string(),
        revision: loaded.revision,
        title: text(&job.title),
        rider: text(&loaded.build.rider.name),
        event: text(&job.event),
        day: job.day.as_ref().map(|day| day.value.to_string()),
        stage: job.stage.as_ref().map(|stage| stage.value.name()),
        changed_by: line.changed_by.clone(),
        changed_at_ms: line.changed_at_ms,
        summary: summary_json(&loaded.plan),
    }
}
