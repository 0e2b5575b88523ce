//! Bikes side by side, as plain data.

use super::ask::{Asking, Refused};
use super::{FORM, MarkJson, SidesJson, mark_json};
use crate::app::App;
use crate::pages::as_asked;
use axum::Json;
use axum::extract::State;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use witnessmark_core::compare::{Against, Comparison, PartRow, Row, compare};
use witnessmark_core::field::Choice;
use witnessmark_core::held::{Held, Sided};

/// Bikes side by side: each is held against the first.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ComparisonJson {
    /// The version of this form.
    pub form: u32,
    /// What each is called.
    pub names: Vec<String>,
    /// Every number that at least one of them holds.
    pub numbers: Vec<ComparedNumberJson>,
    /// Parts that differ.
    pub parts: Vec<ComparedPartJson>,
    /// Left against right, bike by bike.
    pub sides: Vec<Vec<SidesJson>>,
    /// Each bike to scale with the bottom bracket at the origin, to be laid over each other.
    pub drawings: Vec<Vec<MarkJson>>,
}

/// A number of all bikes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ComparedNumberJson {
    /// Its id in the registry.
    pub id: &'static str,
    /// `left`, `right`, `front`, `rear`, or empty.
    pub side: &'static str,
    /// The trade's name for it.
    pub name: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// What each bike holds of it.
    pub values: Vec<Option<HeldJson>>,
    /// Each bike after the first against the first.
    pub against_first: Vec<AgainstJson>,
}

/// A value as a bike holds it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct HeldJson {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty; 0 for what was asked or worked out.
    pub standard_uncertainty: f64,
    /// `measured`, `surveyed`, `asked` or `planned`.
    pub source: &'static str,
}

/// A value against the first bike's.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AgainstJson {
    /// Less the first bike's.
    pub difference: Option<f64>,
    /// Its standard uncertainty.
    pub standard_uncertainty: Option<f64>,
    /// How far off is still the same.
    pub tolerance: f64,
    /// `the same`, `the same within what was measured`, `moved` or `not known`.
    pub stands: &'static str,
}

/// A part that differs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ComparedPartJson {
    /// Its path: `parts.stem`.
    pub path: String,
    /// `not on all` or `facts`.
    pub differs: &'static str,
    /// Its name on each bike, where it is listed.
    pub names: Vec<Option<String>>,
    /// The facts that are known of all and differ.
    pub facts: Vec<ComparedFactJson>,
}

/// A fact that differs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ComparedFactJson {
    /// In words.
    pub fact: String,
    /// On each bike, with its unit.
    pub values: Vec<String>,
}

/// Bikes side by side, as plain data.
///
/// ```
/// use witnessmark_core::{Build, compare::compare};
/// let nothing = Build::default();
/// let both = compare(&[("a".to_owned(), &nothing), ("b".to_owned(), &nothing)]);
/// assert_eq!(witnessmark_web::api::mirror_compare(&both).names, ["a", "b"]);
/// ```
pub fn mirror_compare(comparison: &Comparison) -> ComparisonJson {
    ComparisonJson {
        form: FORM,
        names: comparison.names.clone(),
        numbers: comparison.rows.iter().map(number).collect(),
        parts: comparison.parts.iter().map(part).collect(),
        sides: comparison.sides.iter().map(|sides| sides.iter().map(sided).collect()).collect(),
        drawings: comparison.overlay.iter().map(|drawing| drawing.marks.iter().map(mark_json).collect()).collect(),
    }
}

fn number(row: &Row) -> ComparedNumberJson {
    ComparedNumberJson {
        id: row.number.id,
        side: row.side.word(),
        name: row.number.name,
        unit: row.number.kind.unit(),
        values: row.held.iter().map(|held| held.map(held_json)).collect(),
        against_first: row.against_first.iter().map(against).collect(),
    }
}

fn held_json(held: Held) -> HeldJson {
    HeldJson { value: held.value, standard_uncertainty: held.sd, source: held.source.name() }
}

fn against(one: &Against) -> AgainstJson {
    AgainstJson {
        difference: one.difference.map(|(difference, _)| difference),
        standard_uncertainty: one.difference.map(|(_, sd)| sd),
        tolerance: one.tolerance,
        stands: one.agreement.name(),
    }
}

fn part(part: &PartRow) -> ComparedPartJson {
    let fact = |(fact, values): &(String, Vec<String>)| ComparedFactJson { fact: fact.clone(), values: values.clone() };
    ComparedPartJson {
        path: part.path.clone(),
        differs: part.differs.name(),
        names: part.names.clone(),
        facts: part.facts.iter().map(fact).collect(),
    }
}

fn sided(one: &Sided) -> SidesJson {
    SidesJson {
        id: one.number.id,
        left: one.left.value,
        right: one.right.value,
        standard_uncertainty: one.sd,
        tolerance: one.tolerance,
        stands: one.agreement.name(),
    }
}

/// Which two, each as it is now or as it was after one of its changes.
#[derive(Debug, Deserialize, JsonSchema)]
pub(super) struct Asked {
    /// The name of the first build.
    a: String,
    /// The name of the second.
    b: String,
    /// Empty for as it is now; the number of a change, or a day such as 2027-03-14.
    #[serde(default)]
    #[schemars(regex(pattern = r"^\s*([0-9]+|[0-9]{4}-[0-9]{2}-[0-9]{2})?\s*$"))]
    a_at: String,
    /// The same of the second.
    #[serde(default)]
    #[schemars(regex(pattern = r"^\s*([0-9]+|[0-9]{4}-[0-9]{2}-[0-9]{2})?\s*$"))]
    b_at: String,
}

pub(super) async fn compare_of(
    State(app): State<App>,
    Asking(asked): Asking<Asked>,
) -> Result<Json<ComparisonJson>, Refused> {
    let (a, b) = (as_asked(&app, &asked.a, &asked.a_at).await?, as_asked(&app, &asked.b, &asked.b_at).await?);
    let compared = app.compute(move || {
        let bikes = [(a.title().to_owned(), &a.build), (b.title().to_owned(), &b.build)];
        Json(mirror_compare(&compare(&bikes)))
    });
    Ok(compared.await)
}
