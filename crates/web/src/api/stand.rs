//! The work at the stand as plain data.

use super::FORM;
use super::ask::{Id, Refused};
use crate::app::App;
use axum::Json;
use axum::extract::State;
use schemars::JsonSchema;
use serde::Serialize;
use witnessmark_core::field::Choice;
use witnessmark_core::number::Side;
use witnessmark_core::stand::{Against, Stands, StepNow, Work, stand};

/// The work of a bike.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StandJson {
    /// The version of this form.
    pub form: u32,
    /// How many steps are over.
    pub over: usize,
    /// The key of the next one.
    pub next: Option<String>,
    /// The steps, in working order.
    pub steps: Vec<StepJson>,
    /// Records under names that no step of this bike has.
    pub strays: Vec<String>,
}

/// A step of the work.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StepJson {
    /// Its key, under which the document keeps what was done.
    pub key: String,
    /// Its phase.
    pub phase: &'static str,
    /// Where on the bike.
    pub area: &'static str,
    /// What is done.
    pub does: String,
    /// How.
    pub how: &'static str,
    /// With what.
    pub tool: &'static str,
    /// What goes between; empty for nothing.
    pub compound: &'static str,
    /// What can hurt; empty for nothing beyond the usual care.
    pub caution: &'static str,
    /// The numbers to hit and to read: `lever-from-end.left`.
    pub reads: Vec<String>,
    /// The ids of the bolts that it tightens.
    pub bolts: Vec<String>,
    /// `done`, `open`, `cannot`; `null` where nobody has touched it.
    pub state: Option<&'static str>,
    /// Who did it or left it.
    pub by: Option<String>,
    /// When.
    pub on: Option<String>,
    /// What must be read first, because this step hides it.
    pub first: Vec<String>,
    /// Its gate, where what it does cannot be undone.
    pub gate: Option<GateJson>,
}

/// The gate before a step.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GateJson {
    /// What cannot be undone.
    pub protects: &'static str,
    /// How it stands.
    pub stands: &'static str,
    /// Who opened it.
    pub opened_by: Option<String>,
    /// Why, although something spoke against it.
    pub opened_against: Option<String>,
    /// What speaks against it now.
    pub against: Vec<String>,
}

pub(super) async fn stand_of(State(app): State<App>, Id(id): Id) -> Result<Json<StandJson>, Refused> {
    let loaded = super::loaded(&app, &id).await?;
    Ok(app.compute(move || Json(mirror_stand(&stand(&loaded.build, &loaded.plan)))).await)
}

/// The work as plain data.
pub fn mirror_stand(work: &Work) -> StandJson {
    StandJson {
        form: FORM,
        over: work.over().0,
        next: work.next().map(|step| step.key.clone()),
        steps: work.steps.iter().map(mirror_step).collect(),
        strays: work.strays.clone(),
    }
}

fn mirror_step(now: &StepNow) -> StepJson {
    let says = |against: &[Against]| against.iter().map(|one| one.says.clone()).collect();
    let record = &now.record;
    let reads = now.reads.iter().map(|(number, side)| match side {
        Side::None => number.id.to_owned(),
        side => format!("{}.{}", number.id, side.word()),
    });
    let gate = now.gate.as_ref().map(|gate| GateJson {
        protects: gate.gate.protects,
        stands: match gate.stands {
            Stands::Shut => "shut",
            Stands::Ready => "ready",
            Stands::Opened => "opened",
            Stands::OpenedAgainst => "opened against",
            Stands::OpenedInDoubt => "opened in doubt",
            Stands::PassedBy => "passed by",
        },
        opened_by: record.opened_by.as_ref().map(|given| given.value.clone()),
        opened_against: record.opened_against.as_ref().map(|given| given.value.clone()),
        against: says(&gate.against),
    });
    StepJson {
        key: now.key.clone(),
        phase: now.phase.name(),
        area: now.step.area.name(),
        does: now.does.clone(),
        how: now.step.how,
        tool: now.step.tool,
        compound: now.step.compound,
        caution: now.step.caution,
        reads: reads.collect(),
        bolts: now.bolts.clone(),
        state: now.state().map(|state| state.name()),
        by: record.by.as_ref().map(|given| given.value.clone()),
        on: record.on.as_ref().map(|given| given.value.to_string()),
        first: says(&now.first),
        gate,
    }
}
