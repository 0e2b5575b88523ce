//! Bolts, bar tape, mass, tyres and service as plain data. Lengths in mm, masses in g, torques in N·m, pulls in N, pressures
//! in kPa, shares as they stand; `null` is *not known*.

use super::ask::{Asking, Id, Refused};
use super::{FORM, FindingJson, finding_json};
use crate::app::App;
use crate::refusal::Refusal;
use axum::Json;
use axum::extract::State;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use witnessmark_core::Plan;
use witnessmark_core::compute::{Balance, Fastener, MassItem, ScaleAgainstList, TapeSide, TyreAtWheel};
use witnessmark_core::field::Choice;
use witnessmark_core::model::{Known, Missing};
use witnessmark_core::service::{Service, ServicePlan, service};
use witnessmark_sheets::finish::{BOLT_CHECKS, MASS_CHECKS, TAPE_CHECKS, TYRE_CHECKS};
use witnessmark_sheets::transmission::found_by;

/// Why something is not known, in words.
fn lacks<T>(known: &Known<T>) -> Option<String> {
    known.as_ref().err().map(ToString::to_string)
}

fn found(plan: &Plan, checks: &[&str]) -> Vec<FindingJson> {
    found_by(plan, checks).map(finding_json).collect()
}

pub(super) async fn fasteners_of(State(app): State<App>, Id(id): Id) -> Result<Json<FastenersJson>, Refused> {
    Ok(Json(mirror_fasteners(&super::loaded(&app, &id).await?.plan)))
}

pub(super) async fn tape_of(State(app): State<App>, Id(id): Id) -> Result<Json<TapeJson>, Refused> {
    Ok(Json(mirror_tape(&super::loaded(&app, &id).await?.plan)))
}

pub(super) async fn mass_of(State(app): State<App>, Id(id): Id) -> Result<Json<MassJson>, Refused> {
    Ok(Json(mirror_mass(&super::loaded(&app, &id).await?.plan)))
}

pub(super) async fn tyres_of(State(app): State<App>, Id(id): Id) -> Result<Json<TyresJson>, Refused> {
    Ok(Json(mirror_tyres(&super::loaded(&app, &id).await?.plan)))
}

/// On which day it is asked what is due.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default)]
pub(super) struct OnDay {
    /// The day for which to say what is due: 2027-06-01. Without one, nothing is said to be due.
    day: String,
}

pub(super) async fn service_of(
    State(app): State<App>,
    Id(id): Id,
    Asking(asked): Asking<OnDay>,
) -> Result<Json<ServiceJson>, Refused> {
    let loaded = super::loaded(&app, &id).await?;
    let day = match asked.day.trim() {
        "" => None,
        typed => Some(typed.parse::<Date>().map_err(|_| {
            Refusal::Incomplete("What stands behind “day” is no day; one such as 2027-06-01 was expected.".into())
        })?),
    };
    Ok(Json(mirror_service(&service(&loaded.build), day)))
}

/// Every bolt of the bike.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FastenersJson {
    /// The version of this form.
    pub form: u32,
    /// How many are closed.
    pub closed: usize,
    /// The bolts, in the order of the torque round.
    pub bolts: Vec<BoltJson>,
    /// Ids of records that belong to no bolt of this bike.
    pub strangers: Vec<String>,
    /// What the checks of the bolts found.
    pub findings: Vec<FindingJson>,
}

/// A torque that one of the joined parts states.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TorqueLimitJson {
    /// How much.
    pub torque: f64,
    /// The fact that states it.
    pub by: String,
    /// `stated`, `allowed at most` or `the workshop's own`.
    pub says: &'static str,
}

/// A bolt, or several alike that are tightened together.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BoltJson {
    /// Its id, under which the document keeps what was done.
    pub id: String,
    /// As a mechanic calls it.
    pub name: String,
    /// Where in the walk-round it stands.
    pub area: &'static str,
    /// How many there are.
    pub count: Option<u32>,
    /// The torque: known where every joined part states its own.
    pub torque: Option<f64>,
    /// The lowest torque that is stated; never to be exceeded.
    pub lowest: Option<f64>,
    /// The fact that states it.
    pub lowest_by: Option<String>,
    /// Every torque that is stated, lowest first.
    pub limits: Vec<TorqueLimitJson>,
    /// Why the torque is not known.
    pub torque_lacks: Option<String>,
    /// What goes on the thread.
    pub compound: &'static str,
    /// Nobody told that; it is custom.
    pub compound_by_custom: bool,
    /// What goes between the faces that are clamped.
    pub between: Option<&'static str>,
    /// What turns it.
    pub bit: Option<String>,
    /// The order in which several are tightened.
    pub order: Option<&'static str>,
    /// What to watch.
    pub caution: Option<&'static str>,
    /// The least and the most that each screw is pulled; `null` where it is no screw or not known.
    pub pull: Option<[f64; 2]>,
    /// Between which coefficients of friction.
    pub friction: Option<[f64; 2]>,
    /// How far off the wrench may be, per cent.
    pub wrench_percent: Option<f64>,
    /// The pull that it must bear without lengthening.
    pub proof: Option<f64>,
    /// `open` or `closed`; `null` where nobody has touched it.
    pub state: Option<&'static str>,
    /// The torque that was applied.
    pub applied: Option<f64>,
    /// The wrench it was applied with.
    pub wrench: Option<String>,
    /// The day on which that wrench is due for calibration.
    pub wrench_due: Option<String>,
    /// Who did it.
    pub by: Option<String>,
    /// When.
    pub on: Option<String>,
    /// A line is painted across it.
    pub witness: Option<bool>,
}

/// The bolts of a plan.
pub fn mirror_fasteners(plan: &Plan) -> FastenersJson {
    let all = &plan.worked.fasteners;
    FastenersJson {
        form: FORM,
        closed: all.closed().0,
        bolts: all.list.iter().map(bolt).collect(),
        strangers: all.strangers.clone(),
        findings: found(plan, BOLT_CHECKS),
    }
}

fn bolt(bolt: &Fastener) -> BoltJson {
    let torque = bolt.torque_nm();
    let preload = bolt.preload.as_ref().and_then(|preload| preload.as_ref().ok());
    let record = bolt.record.as_ref();
    BoltJson {
        id: bolt.id.clone(),
        name: bolt.name.clone(),
        area: bolt.area.name(),
        count: bolt.count,
        lowest: bolt.lowest().map(|limit| limit.nm),
        lowest_by: bolt.lowest().map(|limit| limit.path.clone()),
        limits: bolt
            .limits
            .iter()
            .map(|limit| TorqueLimitJson { torque: limit.nm, by: limit.path.clone(), says: limit.says.name() })
            .collect(),
        torque_lacks: lacks(&torque),
        torque: torque.ok(),
        compound: bolt.compound.name(),
        compound_by_custom: bolt.compound_by_custom,
        between: bolt.between.map(|between| between.name()),
        bit: bolt.bit.clone(),
        order: bolt.order,
        caution: bolt.caution,
        pull: preload.map(|preload| [preload.pull_n.low, preload.pull_n.high]),
        friction: preload.map(|preload| [preload.friction.low, preload.friction.high]),
        wrench_percent: preload.map(|preload| preload.wrench_percent),
        proof: preload.and_then(|preload| preload.proof_n.clone().ok()),
        state: bolt.state().map(|state| state.name()),
        applied: bolt.applied_nm(),
        wrench: bolt.wrench.as_ref().map(|used| used.name.clone()),
        wrench_due: bolt.wrench.as_ref().and_then(|used| used.due_on).map(|day| day.to_string()),
        by: record.and_then(|record| record.by.as_ref()).map(|given| given.value.clone()),
        on: record.and_then(|record| record.on.as_ref()).map(|given| given.value.to_string()),
        witness: bolt.witness(),
    }
}

/// The bar tape.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TapeJson {
    /// The version of this form.
    pub form: u32,
    /// A tape is listed.
    pub listed: bool,
    /// How it passes the levers, where that is chosen.
    pub passes: Option<&'static str>,
    /// Both sides are wound alike.
    pub alike: Option<bool>,
    /// The left side.
    pub left: Option<TapeSideJson>,
    /// Why it is not known.
    pub left_lacks: Option<String>,
    /// The right side.
    pub right: Option<TapeSideJson>,
    /// Why it is not known.
    pub right_lacks: Option<String>,
    /// What the checks of the tape found.
    pub findings: Vec<FindingJson>,
}

/// The tape of one side.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TapeSideJson {
    /// `turns asked` or `overlap asked`.
    pub from: &'static str,
    /// Advance along the bar with each turn.
    pub pitch: f64,
    /// Turns from the end to the lever's clamp.
    pub turns_to_lever: f64,
    /// Turns from there to the stop.
    pub turns_to_stop: f64,
    /// From the mount's centre to where the tape stops.
    pub stop: f64,
    /// Overlap on a straight run, per cent of the width.
    pub overlap: f64,
    /// On the outside of the tightest bend.
    pub overlap_outside: f64,
    /// On the inside of it.
    pub overlap_inside: f64,
    /// Taken of the roll.
    pub used: f64,
    /// How far off that may be.
    pub used_plus_minus: f64,
    /// Of that, for passing the lever.
    pub at_lever: f64,
    /// That was measured in this workshop and is not worked out.
    pub at_lever_measured: bool,
    /// Left of the roll.
    pub left_over: f64,
    /// The piece behind the lever.
    pub piece: Option<f64>,
    /// It can be cut from this roll; `null` where none is wanted or it is too close to call.
    pub piece_from_this_roll: Option<bool>,
}

/// The tape of a plan.
pub fn mirror_tape(plan: &Plan) -> TapeJson {
    let tape = &plan.worked.tape;
    TapeJson {
        form: FORM,
        listed: tape.listed,
        passes: tape.passes.map(|way| way.name()),
        alike: tape.alike().ok(),
        left: tape.left.as_ref().ok().map(tape_side),
        left_lacks: lacks(&tape.left),
        right: tape.right.as_ref().ok().map(tape_side),
        right_lacks: lacks(&tape.right),
        findings: found(plan, TAPE_CHECKS),
    }
}

fn tape_side(side: &TapeSide) -> TapeSideJson {
    TapeSideJson {
        from: side.from.name(),
        pitch: side.pitch_mm,
        turns_to_lever: side.turns_to_lever,
        turns_to_stop: side.turns_to_stop,
        stop: side.stop_mm,
        overlap: side.overlap_percent,
        overlap_outside: side.outside_percent,
        overlap_inside: side.inside_percent,
        used: side.used_mm,
        used_plus_minus: side.plus_minus_mm,
        at_lever: side.at_lever_mm,
        at_lever_measured: side.at_lever_measured,
        left_over: side.left_mm,
        piece: side.piece_mm,
        piece_from_this_roll: side.piece_from_this_roll(),
    }
}

/// The mass of the bike.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MassJson {
    /// The version of this form.
    pub form: u32,
    /// Everything that was on when it was weighed.
    pub sum: Option<f64>,
    /// How far off where the parts err each for itself.
    pub plus_minus: Option<f64>,
    /// How far off where all err together.
    pub plus_minus_together: Option<f64>,
    /// Why the sum is not known.
    pub sum_lacks: Option<String>,
    /// By area, in the order of the walk-round.
    pub areas: Vec<AreaMassJson>,
    /// What it was weighed with; `null` where nobody said.
    pub with: Vec<(&'static str, Option<bool>)>,
    /// Every part.
    pub parts: Vec<PartMassJson>,
    /// Where it lies.
    pub balance: Option<BalanceJson>,
    /// Why that is not known.
    pub balance_lacks: Option<String>,
    /// The scale against the list; `null` where it was not weighed or the list is not known.
    pub scale: Option<ScaleJson>,
    /// What the checks of the mass found.
    pub findings: Vec<FindingJson>,
}

/// The mass of one area.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AreaMassJson {
    /// Which.
    pub area: &'static str,
    /// Its mass.
    pub mass: f64,
    /// How far off.
    pub plus_minus: f64,
    /// Parts of it without a mass.
    pub unknown: usize,
}

/// One part's mass.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PartMassJson {
    /// Its path.
    pub path: String,
    /// What the workshop calls it.
    pub name: String,
    /// Its mass.
    pub mass: Option<f64>,
    /// How far off.
    pub plus_minus: f64,
    /// It was on the bike when it was weighed.
    pub counted: bool,
}

/// Where the mass lies.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BalanceJson {
    /// Centre of mass: ahead of and above the bottom bracket.
    pub centre: [f64; 2],
    /// On the front wheel.
    pub front: f64,
    /// On the rear wheel.
    pub rear: f64,
    /// How far off the front may be: twice the standard uncertainty.
    pub front_plus_minus: f64,
    /// Share on the front wheel.
    pub front_share: f64,
    /// Share of the mass that lies at points of the bike, and not at an estimate.
    pub at_points: f64,
}

/// The scale against the list.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ScaleJson {
    /// As read.
    pub read: f64,
    /// Scale less list.
    pub difference: f64,
    /// The differences that agree: from, to.
    pub agrees_between: [f64; 2],
    /// They agree.
    pub agrees: bool,
    /// Sets of parts that could explain it, by path, fewest first.
    pub explanations: Vec<Vec<String>>,
    /// How many more sets there are.
    pub more: usize,
}

/// The mass of a plan.
pub fn mirror_mass(plan: &Plan) -> MassJson {
    let mass = &plan.worked.mass;
    let sum = mass.sum.as_ref().ok();
    MassJson {
        form: FORM,
        sum: sum.map(|sum| sum.mass_g),
        plus_minus: sum.map(|sum| sum.plus_minus_g),
        plus_minus_together: sum.map(|sum| sum.together_g),
        sum_lacks: lacks(&mass.sum),
        areas: mass
            .areas
            .iter()
            .map(|area| AreaMassJson {
                area: area.area.name(),
                mass: area.mass_g,
                plus_minus: area.plus_minus_g,
                unknown: area.unknown,
            })
            .collect(),
        with: mass.inclusions.iter().map(|(what, with)| (what.name(), *with)).collect(),
        parts: mass.items.iter().map(part_mass).collect(),
        balance: mass.balance.as_ref().ok().map(balance),
        balance_lacks: lacks(&mass.balance),
        scale: mass.scale.as_ref().and_then(|scale| scale.as_ref().ok()).map(|one| scale(one, &mass.items)),
        findings: found(plan, MASS_CHECKS),
    }
}

fn part_mass(item: &MassItem) -> PartMassJson {
    PartMassJson {
        path: item.path.clone(),
        name: item.name.clone(),
        mass: item.mass_g.clone().ok(),
        plus_minus: item.plus_minus_g,
        counted: item.counted,
    }
}

fn balance(balance: &Balance) -> BalanceJson {
    BalanceJson {
        centre: [balance.centre.x_mm, balance.centre.y_mm],
        front: balance.wheels.front_g,
        rear: balance.wheels.rear_g,
        front_plus_minus: 2.0 * balance.wheels.front_u_g,
        front_share: balance.front_share(),
        at_points: balance.at_points,
    }
}

fn scale(scale: &ScaleAgainstList, items: &[MassItem]) -> ScaleJson {
    let paths = |set: &[usize]| set.iter().map(|at| items[*at].path.clone()).collect();
    ScaleJson {
        read: scale.read_g,
        difference: scale.difference_g,
        agrees_between: [scale.agrees_from_g, scale.agrees_to_g],
        agrees: scale.agrees(),
        explanations: scale.explanations.iter().map(|one| paths(&one.items)).collect(),
        more: scale.more,
    }
}

/// Both tyres.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TyresJson {
    /// The version of this form.
    pub form: u32,
    /// Share of rider and bike on the front wheel.
    pub front_share: Option<f64>,
    /// In front.
    pub front: TyreJson,
    /// At the rear.
    pub rear: TyreJson,
    /// What the checks of the tyres found.
    pub findings: Vec<FindingJson>,
}

/// A limit of the pressure.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PressureLimitJson {
    /// How much.
    pub pressure: f64,
    /// `tyre`, `rim` or `rim without hooks`.
    pub of: &'static str,
    /// The fact that says so.
    pub by: String,
}

/// One tyre.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TyreJson {
    /// What stands on the wheel.
    pub load: Option<f64>,
    /// The least and the most it may be.
    pub load_between: Option<[f64; 2]>,
    /// `read on a scale` or `estimated from the position`.
    pub load_from: Option<&'static str>,
    /// Width on this rim.
    pub width: Option<f64>,
    /// Every limit that is known, lowest first.
    pub limits: Vec<PressureLimitJson>,
    /// The limits that are not known.
    pub limits_lack: Option<String>,
    /// The lowest pressure printed on the tyre.
    pub least: Option<f64>,
    /// The lowest limit, where every limit is known.
    pub most: Option<f64>,
    /// Whose it is.
    pub most_of: Option<&'static str>,
    /// Where a trial starts; never above the lowest limit.
    pub start: Option<f64>,
    /// The least and the most that the doubt leaves.
    pub start_between: Option<[f64; 2]>,
    /// Where the start comes from.
    pub start_from: Option<&'static str>,
    /// Why no pressure is named.
    pub start_lacks: Option<String>,
    /// The load asks for more than the limit.
    pub held_by_limit: bool,
    /// The load asks for less than the lowest pressure printed on the tyre.
    pub raised_to_least: bool,
    /// How the liked bike stood on its wheels was not told; it is taken to be as this one does.
    pub share_assumed: bool,
    /// The pressure that is set.
    pub set: Option<f64>,
    /// How far it sinks then.
    pub drop: Option<f64>,
    /// Days until it wants air; 1 is the morning of every ride.
    pub top_up_days: Option<u32>,
    /// By the loss that was read in the first night, and not by custom.
    pub top_up_by_reading: Option<bool>,
    /// The day on which sealant is to be topped up.
    pub sealant_on: Option<String>,
}

/// The tyres of a plan.
pub fn mirror_tyres(plan: &Plan) -> TyresJson {
    let tyres = &plan.worked.tyres;
    TyresJson {
        form: FORM,
        front_share: tyres.front_share.clone().ok(),
        front: tyre(&tyres.front),
        rear: tyre(&tyres.rear),
        findings: found(plan, TYRE_CHECKS),
    }
}

fn tyre(tyre: &TyreAtWheel) -> TyreJson {
    let load = tyre.load.as_ref().ok();
    let start = tyre.start.as_ref().ok();
    let most = tyre.most().ok();
    let top_up = tyre.top_up.as_ref().ok();
    TyreJson {
        load: load.map(|load| load.mass_g),
        load_between: load.map(|load| [load.low_g, load.high_g]),
        load_from: load.map(|load| load.from.name()),
        width: tyre.width_mm.clone().ok(),
        limits: tyre
            .limits
            .iter()
            .map(|limit| PressureLimitJson { pressure: limit.kpa, of: limit.whose, by: limit.path.clone() })
            .collect(),
        limits_lack: tyre.most().err().map(|missing| missing.to_string()),
        least: tyre.least_kpa.clone().ok(),
        most: most.map(|limit| limit.kpa),
        most_of: most.map(|limit| limit.whose),
        start: start.map(|start| start.kpa),
        start_between: start.map(|start| [start.low_kpa, start.high_kpa]),
        start_from: start.map(|start| start.from.name()),
        start_lacks: lacks(&tyre.start),
        held_by_limit: start.is_some_and(|start| start.held_by.is_some()),
        raised_to_least: start.is_some_and(|start| start.raised_to_least),
        share_assumed: start.is_some_and(|start| start.share_assumed),
        set: tyre.set_kpa,
        drop: tyre.drop_mm.clone().ok(),
        top_up_days: top_up.map(|top_up| top_up.days),
        top_up_by_reading: top_up.map(|top_up| top_up.by_reading),
        sealant_on: top_up.and_then(|top_up| top_up.sealant_on).map(|day| day.to_string()),
    }
}

/// The service plan.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ServiceJson {
    /// The version of this form.
    pub form: u32,
    /// The day of hand-over.
    pub from: Option<String>,
    /// The day for which `standing` is said.
    pub day: Option<String>,
    /// Kilometres in a year.
    pub km_a_year: Option<f64>,
    /// Why there is no day of hand-over, in words.
    pub lacks: Option<String>,
    /// Every service, earliest first.
    pub services: Vec<OneServiceJson>,
}

/// One service.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OneServiceJson {
    /// Its id, under which the document keeps when it was last done.
    pub id: String,
    /// What is looked at or done.
    pub name: String,
    /// The part, by its path.
    pub part: String,
    /// How often, in days.
    pub days: Option<u32>,
    /// How often, in kilometres.
    pub km: Option<u32>,
    /// It is done once.
    pub once: bool,
    /// At what it is done with.
    pub limit: Option<String>,
    /// What is done.
    #[serde(rename = "do")]
    pub action: &'static str,
    /// The day it was last done.
    pub last: Option<String>,
    /// What was read then: thickness, elongation, play.
    pub read: Option<String>,
    /// Who did it then.
    pub done_by: Option<String>,
    /// The day on which it is due.
    pub due_on: Option<String>,
    /// Why then: `agreed`, `by the part`, `by time`, `by distance`.
    pub by: &'static str,
    /// Where the interval or the day comes from.
    pub source: &'static str,
    /// `due`, `soon`, `later` or `not known`; `null` where no day was asked for.
    pub standing: Option<&'static str>,
}

/// A service plan, and how each service stands on a day, where one is asked.
pub fn mirror_service(plan: &ServicePlan, day: Option<Date>) -> ServiceJson {
    let said = |day: &Known<Date>| day.as_ref().map(Date::to_string).map_err(Missing::clone).ok();
    let one = |service: &Service| OneServiceJson {
        id: service.id.clone(),
        name: service.name.clone(),
        part: service.part.clone(),
        days: service.interval.days,
        km: service.interval.km,
        once: service.once,
        limit: service.limit.clone(),
        action: service.action,
        last: service.last.map(|day| day.to_string()),
        read: service.read.clone(),
        done_by: service.done_by.clone(),
        due_on: said(&service.due_on),
        by: service.by.name(),
        source: service.source(),
        standing: day.map(|day| service.standing(day).name()),
    };
    ServiceJson {
        form: FORM,
        from: said(&plan.from),
        lacks: plan.from.as_ref().err().map(ToString::to_string),
        day: day.map(|day| day.to_string()),
        km_a_year: plan.km_a_year,
        services: plan.list.iter().map(one).collect(),
    }
}
