//! A plan as plain data, for JSON: the same for the page's machine-readable twin and for the command line.
//!
//! The core's own types may change when the house is rebuilt; these may not. A field keeps its name and its meaning; new
//! ones may be added. Lengths are in mm, angles in degrees, masses in g, torques in N·m, pressures in kPa, as `unit`
//! says; `null` is *not known*.

mod ask;
mod builds;
mod carry;
mod chain;
mod compare;
mod due;
mod finish;
mod gears;
mod openapi;
mod reach;
mod stand;
mod survey;
mod wiring;

pub use ask::RefusedJson;
pub use builds::{BuildsJson, ListedBuildJson};
pub use carry::{ByHandJson, CarriedJson, CarriedRowJson, mirror_carry};
pub use chain::{
    CapacityJson, ChainDrawingJson, ChainGearJson, ChainJson, ThumbRulesJson, WorkedChainJson, mirror_chain,
};
pub use compare::{
    AgainstJson, ComparedFactJson, ComparedNumberJson, ComparedPartJson, ComparisonJson, HeldJson, mirror_compare,
};
pub use due::{DueBikeJson, DueJson, mirror_due};
pub use finish::{
    AreaMassJson, BalanceJson, BoltJson, FastenersJson, MassJson, OneServiceJson, PartMassJson, PressureLimitJson,
    ScaleJson, ServiceJson, TapeJson, TapeSideJson, TorqueLimitJson, TyreJson, TyresJson, mirror_fasteners,
    mirror_mass, mirror_service, mirror_tape, mirror_tyres,
};
pub use gears::{CageJson, GearJson, GearLimitJson, GearsJson, mirror_gears};
pub use openapi::description;
pub use reach::{FrontReachJson, FrontWayJson, ReachJson, RearReachJson, RearWayJson, mirror_reach};
pub use stand::{GateJson, StandJson, StepJson, mirror_stand};
pub use survey::{
    DoubtedJson, EllipseJson, NextJson, OutlookJson, SidesJson, SurveyJson, SurveyReadingJson, SurveyedNumberJson,
    SurveyedPointJson, SuspectJson, UnusableJson, WholeJson, mirror_survey,
};
pub use wiring::{BuyJson, PortJson, UnitJson, WireEndJson, WireJson, WiringJson, mirror_wiring};

use crate::app::App;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use ask::{Id, Refused};
use axum::extract::State;
use axum::routing::get;
use axum::{Json, Router};
use openapi::Nothing;
use schemars::JsonSchema;
use serde::Serialize;
use std::sync::Arc;
use witnessmark_core::Plan;
use witnessmark_core::compute::{How, PlannedNumber, Verdict};
use witnessmark_core::draw::{Mark, Role, Shape};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::{Finding, Severity};
use witnessmark_core::number;
use witnessmark_store::BuildId;

/// The version of this form; it grows when a field is added.
pub const FORM: u32 = 1;

/// What the workshop needs to know of a build.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlanJson {
    /// The version of this form.
    pub form: u32,
    /// How many numbers there are of each kind.
    pub summary: SummaryJson,
    /// Every number of the registry on each of its sides, in the order of the walk-round.
    pub numbers: Vec<NumberJson>,
    /// What is wrong, doubtful or worth saying, worst first.
    pub findings: Vec<FindingJson>,
    /// The side drawing, mm, origin at the bottom bracket, x forward, y up, back to front.
    pub drawing: Vec<MarkJson>,
}

/// The build in five counts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SummaryJson {
    /// Numbers that are in line.
    pub in_line: usize,
    /// Numbers that are to be brought in line: all that are asked, planned or measured.
    pub to_bring_in_line: usize,
    /// Findings for which the work may not go on.
    pub stops: usize,
    /// Findings on which somebody has to decide.
    pub cautions: usize,
    /// Findings worth knowing.
    pub notes: usize,
}

/// One number on one side.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NumberJson {
    /// Its id in the registry: `hood-x`.
    pub id: &'static str,
    /// `left`, `right`, `front`, `rear`, or empty.
    pub side: &'static str,
    /// The trade's name for it.
    pub name: &'static str,
    /// Where in the walk-round it belongs: `front end`.
    pub area: &'static str,
    /// `mm`, `°`, `g`, `N·m`, `kPa`, `%`, or empty.
    pub unit: &'static str,
    /// As asked, in the house's definition.
    pub asked: Option<f64>,
    /// How the asked value came about: `received`, `converted` from another definition, or `derived` from others.
    pub asked_how: Option<&'static str>,
    /// As worked out.
    pub planned: Option<f64>,
    /// Why there is no planned value, in words.
    pub planned_lacks: Option<String>,
    /// As read off the bike.
    pub measured: Option<f64>,
    /// Half the width of the interval in which the truth surely lies.
    pub measured_plus_minus: Option<f64>,
    /// Who read it.
    pub measured_by: Option<String>,
    /// The day on which it was read: `2027-03-14`.
    pub measured_on: Option<String>,
    /// Measured less asked; where nothing is asked, less planned; where nothing is measured, planned less asked.
    pub difference: Option<f64>,
    /// How far off is still the same.
    pub tolerance: f64,
    /// `in line`, `moved`, `not read` or `not known`.
    pub verdict: &'static str,
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FindingJson {
    /// The id of the check that found it: `fits/steerer_length`.
    pub check: &'static str,
    /// `stop`, `caution` or `note`.
    pub severity: &'static str,
    /// What it is about: addresses of numbers (`hood-x.left`) and paths of parts and fields (`parts.stem`).
    pub about: Vec<String>,
    /// What, in one sentence.
    pub what: String,
    /// Why, with the numbers.
    pub why: String,
    /// What to do.
    #[serde(rename = "do")]
    pub action: String,
    /// Where the limit or the custom comes from.
    pub source: &'static str,
    /// The check could not judge, because facts are missing.
    pub not_known: bool,
}

/// One shape of the drawing.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MarkJson {
    /// `ground`, `wheel`, `frame`, `part`, `asked` or `measured`.
    pub role: &'static str,
    /// The points of a line; the one point of a circle.
    pub points: Vec<[f64; 2]>,
    /// The radius of a circle; `null` for a line.
    pub radius: Option<f64>,
    /// The width of a tube; 0 for a plain line.
    pub thickness: f64,
    /// The addresses of what it shows, as in a finding.
    pub about: Vec<String>,
}

/// A plan as plain data.
///
/// ```
/// use witnessmark_core::{Build, plan};
/// let empty = witnessmark_web::api::mirror(&plan(&Build::default()));
/// assert_eq!(empty.summary.in_line, 0);
/// assert!(empty.numbers.iter().all(|number| number.planned.is_none()));
/// ```
pub fn mirror(plan: &Plan) -> PlanJson {
    PlanJson {
        form: FORM,
        summary: summary_json(plan),
        numbers: plan.numbers.each().iter().map(number_json).collect(),
        findings: plan.findings.iter().map(finding_json).collect(),
        drawing: plan.drawing.marks.iter().map(mark_json).collect(),
    }
}

fn summary_json(plan: &Plan) -> SummaryJson {
    let (in_line, to_bring_in_line) = plan.numbers.in_line();
    SummaryJson {
        in_line,
        to_bring_in_line,
        stops: plan.count(Severity::Stop),
        cautions: plan.count(Severity::Caution),
        notes: plan.count(Severity::Note),
    }
}

fn number_json(one: &PlannedNumber) -> NumberJson {
    let number::Number { id, name, area, kind, .. } = one.number;
    let read = one.measured.as_ref();
    NumberJson {
        id,
        side: one.side.word(),
        name,
        area: area.name(),
        unit: kind.unit(),
        asked: one.asked.map(|asked| asked.value),
        asked_how: one.asked.map(|asked| match asked.how {
            How::Received => "received",
            How::Converted => "converted",
            How::Derived => "derived",
        }),
        planned: one.planned.as_ref().ok().copied(),
        planned_lacks: one.planned.as_ref().err().map(ToString::to_string),
        measured: read.map(|read| read.value),
        measured_plus_minus: read.and_then(|read| read.plus_minus),
        measured_by: read.and_then(|read| read.by.clone()),
        measured_on: read.and_then(|read| read.on).map(|day| day.to_string()),
        difference: one.difference,
        tolerance: one.tolerance,
        verdict: Verdict::name(&one.verdict),
    }
}

fn finding_json(finding: &Finding) -> FindingJson {
    FindingJson {
        check: finding.check,
        severity: finding.severity_word(),
        about: finding.about.iter().map(witnessmark_core::finding::About::address).collect(),
        what: finding.what.clone(),
        why: finding.why.clone(),
        action: finding.action.clone(),
        source: finding.source,
        not_known: finding.not_known,
    }
}

fn mark_json(mark: &Mark) -> MarkJson {
    let (points, radius) = match &mark.shape {
        Shape::Path(points) => (points.iter().map(|point| [point.x_mm, point.y_mm]).collect(), None),
        Shape::Circle { centre, radius_mm } => (vec![[centre.x_mm, centre.y_mm]], Some(*radius_mm)),
    };
    let role = match mark.role {
        Role::Ground => "ground",
        Role::Wheel => "wheel",
        Role::Frame => "frame",
        Role::Part => "part",
        Role::Asked => "asked",
        Role::Measured => "measured",
    };
    MarkJson { role, points, radius, thickness: mark.thickness_mm, about: mark.about.clone() }
}

macro_rules! answers {
    ($($path:literal: $handler:path => $answer:ty, $asks:ty, $says:literal;)+) => {
        /// Every address that is answered in JSON.
        const ANSWERS: &[openapi::Answering] = &[$(openapi::Answering {
            path: $path,
            says: $says,
            answer: openapi::of::<$answer>,
            asks: openapi::spelled_out::<$asks>,
        }),+];

        pub(crate) fn routes() -> Router<App> {
            Router::new()$(.route($path, get($handler)))+.route("/api.json", get(described))
        }
    };
}

answers! {
    "/builds.json": builds::builds => BuildsJson, builds::Asked, "The builds of the workshop, the one changed last first, some at a time.";
    "/builds/{id}/plan.json": plan_of => PlanJson, Nothing, "The numbers, the findings and the drawing of a build.";
    "/builds/{id}/gears.json": gears::gears_of => GearsJson, Nothing, "What each gear of a build does.";
    "/builds/{id}/chain.json": chain::chain_of => ChainJson, Nothing, "The chain of a build, worked out.";
    "/builds/{id}/wiring.json": wiring::wiring_of => WiringJson, Nothing, "The wires of a build, and what to buy.";
    "/builds/{id}/fasteners.json": finish::fasteners_of => FastenersJson, Nothing, "Every bolt of a build: how hard, by whose limit, what was done.";
    "/builds/{id}/tape.json": finish::tape_of => TapeJson, Nothing, "The bar tape of both sides.";
    "/builds/{id}/mass.json": finish::mass_of => MassJson, Nothing, "The mass by area, where it lies, and the scale against the list.";
    "/builds/{id}/tyres.json": finish::tyres_of => TyresJson, Nothing, "Limits and starts of the tyre pressures.";
    "/builds/{id}/service.json": finish::service_of => ServiceJson, finish::OnDay, "What is looked at when, and what is due on a day.";
    "/builds/{id}/stand.json": stand::stand_of => StandJson, Nothing, "The work at the stand, step by step.";
    "/due.json": due::due => DueJson, due::OnDay, "What is due across all bikes that were handed over.";
    "/builds/{id}/survey.json": survey::survey_of => SurveyJson, Nothing, "The readings off a bike, adjusted.";
    "/builds/{id}/carry.json": carry::carry_of => CarriedJson, carry::Onto, "A position, carried from one bike onto another.";
    "/compare.json": compare::compare_of => ComparisonJson, compare::Asked, "Two bikes side by side.";
}

async fn described() -> Json<serde_json::Value> {
    Json(description())
}

async fn plan_of(State(app): State<App>, Id(id): Id) -> Result<Json<PlanJson>, Refused> {
    let loaded = loaded(&app, &id).await?;
    Ok(app.compute(move || Json(mirror(&loaded.plan))).await)
}

/// The build of this name.
async fn loaded(app: &App, id: &str) -> Result<Arc<Loaded>, Refusal> {
    let id: BuildId = id.parse()?;
    app.load(&id).await?.ok_or_else(|| Refusal::NoSuchBuild(id.to_string()))
}
