//! What is due across all bikes that were handed over, as plain data.

use super::ask::{Asking, Refused};
use super::{FORM, OneServiceJson, ServiceJson, mirror_service};
use crate::app::App;
use crate::due::{AHEAD_DAYS, Bikes, bikes_of};
use crate::refusal::Refusal;
use crate::words;
use axum::Json;
use axum::extract::State;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The day for which is asked.
#[derive(Debug, Deserialize, JsonSchema)]
pub(super) struct OnDay {
    /// As `2027-06-01`; without it, the day by the program's clock.
    day: Option<String>,
}

impl OnDay {
    fn day(self) -> Result<Date, Refused> {
        let typed = self.day.filter(|typed| !typed.is_empty()).unwrap_or_else(words::today);
        typed.parse().map_err(|_| Refusal::Incomplete("A day is written year, month, day: 2027-06-01.".into()).into())
    }
}

/// What is due across all bikes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct DueJson {
    /// The version of this form.
    pub form: u32,
    /// The day for which it is said.
    pub day: String,
    /// The day up to which something counts as coming up.
    pub until: String,
    /// Builds without a day of hand-over: what is due on them is not known.
    pub not_counted: usize,
    /// Those of them that are said to be finished.
    pub finished_without_day: Vec<String>,
    /// The bikes on which something is due by then, or of which the kept day of hand-over cannot be read.
    pub bikes: Vec<DueBikeJson>,
}

/// A bike on which something is due.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct DueBikeJson {
    /// The build.
    pub build: String,
    /// What the workshop calls it.
    pub title: Option<String>,
    /// Who rides it.
    pub rider: Option<String>,
    /// The day of hand-over.
    pub from: Option<String>,
    /// What is due, earliest first.
    pub services: Vec<OneServiceJson>,
}

/// What is due on a day and in the thirty days after it.
pub fn mirror_due(bikes: &Bikes, day: Date) -> DueJson {
    let until = day.checked_add(jiff::Span::new().days(AHEAD_DAYS)).unwrap_or(Date::MAX);
    let due = |one: &OneServiceJson| one.due_on.as_ref().is_some_and(|due| *due <= until.to_string());
    let each = bikes.out.iter().map(|bike| {
        let ServiceJson { from, mut services, .. } = mirror_service(&bike.plan, Some(day));
        services.retain(due);
        DueBikeJson { build: bike.id.to_string(), title: bike.title.clone(), rider: bike.rider.clone(), from, services }
    });
    DueJson {
        form: FORM,
        day: day.to_string(),
        until: until.to_string(),
        not_counted: bikes.builds.saturating_sub(bikes.out.len()),
        finished_without_day: bikes.finished_without.iter().map(ToString::to_string).collect(),
        bikes: each.filter(|bike| !bike.services.is_empty() || bike.from.is_none()).collect(),
    }
}

pub(super) async fn due(State(app): State<App>, Asking(on): Asking<OnDay>) -> Result<Json<DueJson>, Refused> {
    let day = on.day()?;
    Ok(Json(mirror_due(&bikes_of(&app).await?, day)))
}
