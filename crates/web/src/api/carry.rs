//! A position carried from one bike onto another, as plain data.

use super::ask::{Asking, Id, Refused};
use super::{FORM, FindingJson, FrontWayJson, RearWayJson, finding_json};
use crate::app::App;
use axum::Json;
use axum::extract::State;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use witnessmark_core::carry::{ByHand, Carried, Row, carry};
use witnessmark_core::field::Choice;

/// What is kept, what is not and by how much, and what to set.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CarriedJson {
    /// The version of this form.
    pub form: u32,
    /// Number by number.
    pub rows: Vec<CarriedRowJson>,
    /// The way to the hoods that was taken.
    pub front: Option<FrontWayJson>,
    /// The way to the saddle that was taken.
    pub rear: Option<RearWayJson>,
    /// What differs between the bikes and was taken into account, in sentences.
    pub accounted: Vec<String>,
    /// What to set by hand, in working order.
    pub to_set: Vec<ByHandJson>,
    /// What to measure when it is set.
    pub to_check: Vec<ByHandJson>,
    /// What a mechanic should hear, worst first.
    pub findings: Vec<FindingJson>,
}

/// A number carried over.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CarriedRowJson {
    /// Its id in the registry.
    pub id: &'static str,
    /// `left`, `right`, or empty.
    pub side: &'static str,
    /// The trade's name for it.
    pub name: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// On the bike it comes from.
    pub was: Option<f64>,
    /// The standard uncertainty of that.
    pub was_standard_uncertainty: Option<f64>,
    /// `measured`, `surveyed`, `asked` or `planned`.
    pub was_source: Option<&'static str>,
    /// As it is wanted on the other bike.
    pub wanted: Option<f64>,
    /// As it comes there.
    pub comes: Option<f64>,
    /// As it comes less as it is wanted.
    pub off: Option<f64>,
    /// It belongs to the position.
    pub position: bool,
    /// `the same`, `the same within what was measured`, `moved` or `not known`.
    pub stands: &'static str,
}

/// Something to set or to measure.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ByHandJson {
    /// What.
    pub what: String,
    /// The value with its unit.
    pub value: String,
    /// How it is taken.
    pub how: &'static str,
}

/// A position carried over, as plain data.
///
/// ```
/// use witnessmark_core::{Build, carry::carry};
/// let nothing = witnessmark_web::api::mirror_carry(&carry(&Build::default(), &Build::default()));
/// assert!(nothing.front.is_none() && nothing.rear.is_none());
/// ```
pub fn mirror_carry(carried: &Carried) -> CarriedJson {
    CarriedJson {
        form: FORM,
        rows: carried.rows.iter().map(row).collect(),
        front: carried.front.as_ref().map(super::reach::front_way),
        rear: carried.rear.as_ref().map(super::reach::rear_way),
        accounted: carried.accounted.clone(),
        to_set: carried.to_set.iter().map(by_hand).collect(),
        to_check: carried.to_check.iter().map(by_hand).collect(),
        findings: carried.findings.iter().map(finding_json).collect(),
    }
}

fn row(row: &Row) -> CarriedRowJson {
    CarriedRowJson {
        id: row.number.id,
        side: row.side.word(),
        name: row.number.name,
        unit: row.number.kind.unit(),
        was: row.was.map(|was| was.value),
        was_standard_uncertainty: row.was.map(|was| was.sd),
        was_source: row.was.map(|was| was.source.name()),
        wanted: row.wanted,
        comes: row.comes,
        off: row.off,
        position: row.is_position,
        stands: row.agreement.name(),
    }
}

fn by_hand(one: &ByHand) -> ByHandJson {
    ByHandJson { what: one.words.clone(), value: one.value.clone(), how: one.how }
}

/// Onto which build.
#[derive(Debug, Deserialize, JsonSchema)]
pub(super) struct Onto {
    /// The name of that build.
    onto: String,
}

pub(super) async fn carry_of(
    State(app): State<App>,
    Id(id): Id,
    Asking(asked): Asking<Onto>,
) -> Result<Json<CarriedJson>, Refused> {
    let (from, onto) = (super::loaded(&app, &id).await?, super::loaded(&app, &asked.onto).await?);
    Ok(app.compute(move || Json(mirror_carry(&carry(&from.build, &onto.build)))).await)
}
