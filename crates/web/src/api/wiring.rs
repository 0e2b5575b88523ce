//! The shift wires, as plain data.

use super::ask::{Id, Refused};
use super::{FindingJson, MarkJson, finding_json, mark_json};
use crate::app::App;
use axum::Json;
use axum::extract::State;
use schemars::JsonSchema;
use serde::Serialize;
use witnessmark_core::compute::{Port, Unit, WireEnd, WireRun, Wiring};
use witnessmark_core::draw;
use witnessmark_core::field::Choice;
use witnessmark_core::model::Model;
use witnessmark_core::{Build, Plan};
use witnessmark_sheets::transmission::{WIRE_CHECKS, found_by};

/// The net of the shift wires.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WiringJson {
    /// The version of this form.
    pub form: u32,
    /// There is no wire and no unit that waits for one.
    pub absent: bool,
    /// Every unit is joined to every other by exactly one way; `null` where there are absurdly many.
    pub tree: Option<bool>,
    /// Every unit with its ports.
    pub units: Vec<UnitJson>,
    /// Every wire.
    pub wires: Vec<WireJson>,
    /// What is to be bought, shortest first.
    pub buy: Vec<BuyJson>,
    /// Wires that would have to be bought and are not made long enough, by name.
    pub none_made: Vec<String>,
    /// What the checks of the wires found.
    pub findings: Vec<FindingJson>,
    /// The tree along the bike, in the frame of the bike.
    pub drawing: Vec<MarkJson>,
}

/// A unit of the shifting system.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct UnitJson {
    /// Its path: `parts.lever.left`.
    pub path: String,
    /// As a sentence names it.
    pub name: String,
    /// Where it sits on the wires' route.
    pub station: Option<&'static str>,
    /// How many ports it has.
    pub ports: Option<u32>,
    /// How many of them stay free; below zero when it has too few.
    pub spare: Option<i64>,
    /// Every port with what is in it.
    pub holds: Vec<PortJson>,
}

/// A port.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PortJson {
    /// Its number, from 1.
    pub port: u32,
    /// The unit has it; `null` where its ports are not known.
    pub exists: Option<bool>,
    /// The paths of the wires in it; more than one where it is wanted twice.
    pub wires: Vec<String>,
}

/// A wire.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WireJson {
    /// Its path: `parts.wire.main`.
    pub path: String,
    /// Both ends.
    pub ends: [WireEndJson; 2],
    /// Its length as listed, mm.
    pub length: Option<f64>,
    /// Its way along the bike, bar straight, mm.
    pub way: Option<f64>,
    /// How far the way may be off, either way, mm.
    pub way_plus_minus: Option<f64>,
    /// The way with its slack for steering, loops and plugs, mm.
    pub needed: Option<f64>,
    /// The shortest length that is made and long enough, mm.
    pub take: Option<f64>,
    /// Of the way, inside the frame: the length of a sleeve, mm.
    pub sleeve: Option<f64>,
    /// What is missing for its way, in words.
    pub lacks: Option<String>,
    /// The workshop buys it.
    pub to_buy: bool,
}

/// An end of a wire.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WireEndJson {
    /// The path of the unit it leads to; `null` where there is no such unit.
    pub unit: Option<String>,
    /// The unit as typed.
    pub said: Option<String>,
    /// Its port, where it matters.
    pub port: Option<u32>,
    /// The kind of this end.
    pub kind: Option<String>,
}

/// Wires of one length to be bought.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BuyJson {
    /// Their length, mm.
    pub length: f64,
    /// The wires it is for, by name.
    pub wires: Vec<String>,
}

/// The wires as plain data.
///
/// ```
/// use witnessmark_core::{Build, plan};
/// let empty = Build::default();
/// assert!(witnessmark_web::api::mirror_wiring(&empty, &plan(&empty)).absent);
/// ```
pub fn mirror_wiring(build: &Build, plan: &Plan) -> WiringJson {
    let wiring = &plan.worked.wiring;
    WiringJson {
        form: super::FORM,
        absent: wiring.absent(),
        tree: match &wiring.net {
            Ok(net) => Some(net.is_tree()),
            Err(_) => None,
        },
        units: wiring.units.iter().enumerate().map(|(at, unit)| unit_json(wiring, at, unit)).collect(),
        wires: wiring.wires.iter().map(|wire| wire_json(wiring, wire)).collect(),
        buy: wiring.buy.iter().map(|buy| BuyJson { length: buy.length_mm, wires: buy.wires.clone() }).collect(),
        none_made: wiring.none_made.iter().filter_map(|at| Some(wiring.wires.get(*at)?.name.clone())).collect(),
        findings: found_by(plan, WIRE_CHECKS).map(finding_json).collect(),
        drawing: draw::wiring(&Model::new(build), &plan.worked).marks.iter().map(mark_json).collect(),
    }
}

fn unit_json(wiring: &Wiring, at: usize, unit: &Unit) -> UnitJson {
    let port = |port: Port| PortJson {
        port: port.number,
        exists: port.exists,
        wires: port.holds.iter().filter_map(|held| Some(wiring.wires.get(held.wire)?.path.clone())).collect(),
    };
    UnitJson {
        path: unit.path.clone(),
        name: unit.name.clone(),
        station: unit.station.map(|station| station.name()),
        ports: unit.ports,
        spare: wiring.spare_ports(at),
        holds: wiring.ports_of(at).into_iter().map(port).collect(),
    }
}

fn wire_json(wiring: &Wiring, wire: &WireRun) -> WireJson {
    let end = |end: &WireEnd| WireEndJson {
        unit: end.unit.and_then(|at| Some(wiring.units.get(at)?.path.clone())),
        said: end.said.clone(),
        port: end.port,
        kind: end.kind.clone(),
    };
    let way = wire.way.as_ref().ok();
    WireJson {
        path: wire.path.clone(),
        ends: [end(&wire.ends[0]), end(&wire.ends[1])],
        length: wire.length_mm,
        way: way.map(|way| way.along_mm),
        way_plus_minus: way.map(|way| way.plus_minus_mm),
        needed: way.map(|way| way.needed_mm),
        take: wire.choice_mm,
        sleeve: way.map(|way| way.sleeve_mm),
        lacks: wire.way.as_ref().err().map(ToString::to_string),
        to_buy: wire.to_buy,
    }
}

pub(super) async fn wiring_of(State(app): State<App>, Id(id): Id) -> Result<Json<WiringJson>, Refused> {
    let loaded = super::loaded(&app, &id).await?;
    Ok(Json(mirror_wiring(&loaded.build, &loaded.plan)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use witnessmark_core::build::sample::sample;
    use witnessmark_core::plan;

    #[test]
    fn the_samples_tree_is_mirrored_and_a_wrong_end_says_so() {
        let mut build = sample();
        let sound = mirror_wiring(&build, &plan(&build));
        assert!(sound.tree == Some(true) && sound.findings.is_empty() && !sound.drawing.is_empty());
        let held: usize = sound.units.iter().flat_map(|unit| &unit.holds).map(|port| port.wires.len()).sum();
        assert_eq!(held, 2 * sound.wires.len(), "every end of every wire is in a port");
        build.parts.wire.make("rear").other_end = Some("junction seat".into());
        let wrong = mirror_wiring(&build, &plan(&build));
        let about: Vec<&String> = wrong.findings.iter().flat_map(|finding| &finding.about).collect();
        assert!(about.iter().any(|path| *path == "parts.wire.rear.other_end"), "{about:?}");
    }
}
