//! The shift wires: which units there are, which wire joins which, how long each must be, and what is to be bought.
//!
//! A wire says by name which unit it goes to: "left lever", "front derailleur", "battery", "radio unit", "display",
//! "junction bar-end". Words may stand in any order. Systems without some or all wires are the same net with fewer units
//! in it: a unit that talks by radio waits for no wire.

use super::{Chassis, Front, Rear};
use crate::field::{Choice, Given};
use crate::model::{Known, Missing, Model, Place};
use crate::part::{Battery, Display, Junction, RadioUnit, Shifting, Station, Supplier, Wire};
use crate::{fact, known};
use std::collections::BTreeMap;
use witnessmark_mechanics::chain::tip_radius_mm;
use witnessmark_mechanics::frame::steering_axis;
use witnessmark_mechanics::wiring::{self, MOST_UNITS, MOST_WIRES, Net, Refusal, Role};

/// Spare length at every plug that must come out of the frame to be joined: a page on measuring such wires.
pub const INSIDE_MM: f64 = 100.0;
/// Spare length of a wire that is plugged outside the frame only: the same page.
pub const OUTSIDE_MM: f64 = 50.0;
/// More where a unit sits in the bar's end and must be pulled out; common practice, no source.
pub const BAR_END_MM: f64 = 100.0;
/// A loop at the lever, so that a fall does not pull the plug; a forum's practice.
pub const LEVER_LOOP_MM: f64 = 20.0;
/// What the way past the steerer needs more when the bar is turned: a quarter turn about a radius of 25 mm; common
/// practice, no source.
pub const STEERING_MM: f64 = 40.0;
/// Lengths in which such wires are customarily made, where the wire does not say: steps of 50 up to a metre, then of 200;
/// common practice, no source.
pub const CUSTOMARY_MM: [f64; 23] = [
    150.0, 200.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 550.0, 600.0, 650.0, 700.0, 750.0, 800.0, 850.0, 900.0,
    950.0, 1000.0, 1200.0, 1400.0, 1600.0, 1800.0, 2000.0,
];

/// A unit of the shifting system.
#[derive(Clone, Debug, PartialEq)]
pub struct Unit {
    /// Its path: `parts.lever.left`.
    pub path: String,
    /// As a sentence names it: "left lever".
    pub name: String,
    /// Its ports, where known.
    pub ports: Option<u32>,
    /// The kind of wire end its ports take, where known.
    pub end_kind: Option<String>,
    /// Where it sits on the wires' route.
    pub station: Option<Station>,
    /// It does nothing without a wire.
    pub needs_wire: bool,
}

/// One end of a wire.
#[derive(Clone, Debug, PartialEq)]
pub struct WireEnd {
    /// The unit as typed; none where nothing was typed.
    pub said: Option<String>,
    /// Its place in the list of units; none where there is no such unit.
    pub unit: Option<usize>,
    /// Its port, where it matters.
    pub port: Option<u32>,
    /// The kind of this end.
    pub kind: Option<String>,
    /// The path of the fact that names the unit.
    pub path: String,
}

/// What a wire is long enough for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    /// Along the route, bar straight.
    pub along_mm: f64,
    /// With the slack for steering, loops and plugs.
    pub needed_mm: f64,
    /// How far the route may be off, either way.
    pub plus_minus_mm: f64,
    /// Of it, inside the frame: the length of a sleeve against rattling.
    pub sleeve_mm: f64,
    /// Every leg was read with a string.
    pub by_string: bool,
}

/// A wire, worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct WireRun {
    /// Its path: `parts.wire.shell-to-battery`.
    pub path: String,
    /// As a sentence names it.
    pub name: String,
    /// Its two ends.
    pub ends: [WireEnd; 2],
    /// Its length as listed.
    pub length_mm: Option<f64>,
    /// The lengths in which it is made are listed.
    pub lengths_known: bool,
    /// Its way along the route, or what is missing for it.
    pub way: Known<Way>,
    /// The shortest length that is made and long enough.
    pub choice_mm: Option<f64>,
    /// The workshop buys it.
    pub to_buy: bool,
    /// What it does to the net; none where an end leads nowhere.
    pub role: Option<Role>,
}

impl WireRun {
    /// The length as listed, where it is long enough for the way, as well as the way is known.
    fn listed_that_reaches_mm(&self) -> Option<f64> {
        let reaches = |length_mm: &f64| match &self.way {
            Ok(way) => *length_mm + way.plus_minus_mm >= way.needed_mm,
            Err(_) => true,
        };
        self.length_mm.filter(reaches)
    }

    /// Its way is known, and neither its own length nor any that is made is enough for it.
    pub fn is_not_made(&self) -> bool {
        self.way.is_ok() && self.listed_that_reaches_mm().is_none() && self.choice_mm.is_none()
    }
}

/// Wires to buy, of one length.
#[derive(Clone, Debug, PartialEq)]
pub struct Buy {
    /// Their length.
    pub length_mm: f64,
    /// The wires it is for, by name.
    pub wires: Vec<String>,
}

/// A port of a unit, and what is in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Port {
    /// Its number, from 1; beyond the unit's ports where more wires want in than it has.
    pub number: u32,
    /// The unit has such a port; none where its ports are not known.
    pub exists: Option<bool>,
    /// What is in it: the place of the wire in the list, and which of its ends. Empty for a spare port, more than one
    /// where a port is wanted twice.
    pub holds: Vec<PortEnd>,
}

/// A wire's end in a port.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PortEnd {
    /// Place of the wire in the list of wires.
    pub wire: usize,
    /// Which of its two ends.
    pub end: usize,
    /// The document names this very port; otherwise any port does, and the first free one is shown.
    pub named: bool,
}

/// The shifting system's net.
#[derive(Clone, Debug, PartialEq)]
pub struct Wiring {
    /// Every unit.
    pub units: Vec<Unit>,
    /// Every wire.
    pub wires: Vec<WireRun>,
    /// The net of those wires whose ends both lead to units; refused when there are absurdly many.
    pub net: Result<Net, Refusal>,
    /// What is to be bought, shortest first.
    pub buy: Vec<Buy>,
    /// Wires that would have to be bought and are not made long enough: their places in the list.
    pub none_made: Vec<usize>,
}

impl Wiring {
    /// There is no wire and no unit that waits for one.
    pub fn absent(&self) -> bool {
        self.wires.is_empty() && !self.units.iter().any(|unit| unit.needs_wire)
    }

    /// The place of the battery, where it has ports or may have.
    pub fn battery(&self) -> Option<usize> {
        self.units.iter().position(|unit| unit.path == "parts.battery" && unit.ports != Some(0))
    }

    /// The facts that name the units at both ends of the wires, where nobody filled them in.
    pub fn unsaid(&self) -> Missing {
        let ends = self.wires.iter().flat_map(|wire| &wire.ends).filter(|end| end.said.is_none());
        ends.fold(Missing::default(), |missing, end| missing.and(&Missing::fact(end.path.clone())))
    }

    /// Wire ends that say they go to this unit.
    pub fn ends_in(&self, unit: usize) -> usize {
        self.wires.iter().flat_map(|wire| &wire.ends).filter(|end| end.unit == Some(unit)).count()
    }

    /// Every port of a unit with what is in it: wires that name their port first, then the others in the ports that are
    /// left. What a unit has no port for stands at the end, in ports that it does not have.
    pub fn ports_of(&self, unit: usize) -> Vec<Port> {
        /// More ports than any unit has; a document that says so anyway is not followed port by port.
        const MOST_PORTS: u32 = 64;
        let known = self.units.get(unit).and_then(|unit| unit.ports).map(|ports| ports.min(MOST_PORTS));
        let mut held: BTreeMap<u32, Vec<PortEnd>> = (1..=known.unwrap_or(0)).map(|port| (port, Vec::new())).collect();
        let ends = || {
            self.wires.iter().enumerate().flat_map(|(wire, run)| {
                run.ends
                    .iter()
                    .enumerate()
                    .filter(|(_, of)| of.unit == Some(unit))
                    .map(move |(end, of)| (wire, end, of))
            })
        };
        for (wire, end, of) in ends() {
            if let Some(port) = of.port {
                held.entry(port).or_default().push(PortEnd { wire, end, named: true });
            }
        }
        for (wire, end, _) in ends().filter(|(.., of)| of.port.is_none()) {
            let free = held.iter().find(|(_, holds)| holds.is_empty()).map(|(port, _)| *port);
            // A unit has at most as many ports as the field allows, so there is always a next number.
            let next = held.last_key_value().map_or(1, |(last, _)| last.saturating_add(1));
            held.entry(free.unwrap_or(next)).or_default().push(PortEnd { wire, end, named: false });
        }
        let exists = |number: u32| known.map(|ports| 1 <= number && number <= ports);
        held.into_iter().map(|(number, holds)| Port { number, exists: exists(number), holds }).collect()
    }

    /// Ports of this unit that stay free, where its ports are known; below zero when it has too few.
    pub fn spare_ports(&self, unit: usize) -> Option<i64> {
        let ports = i64::from(self.units.get(unit)?.ports?);
        i64::try_from(self.ends_in(unit)).ok().map(|used| ports - used)
    }
}

/// Works the wires out.
pub fn wiring(model: &Model<'_>, chassis: &Chassis, front: &Front, rear: &Rear) -> Wiring {
    let units = units(model);
    let legs = Legs { model, chassis, front, rear };
    let mut wires: Vec<WireRun> =
        model.build.parts.wire.0.iter().map(|(place, wire)| run(place, wire, &units, &legs)).collect();
    let joined: Vec<usize> =
        (0..wires.len()).filter(|&at| wires[at].ends.iter().all(|end| end.unit.is_some())).collect();
    let pairs: Vec<wiring::Wire> = joined
        .iter()
        .filter_map(|&at| wires[at].ends[0].unit.zip(wires[at].ends[1].unit))
        .map(|(one, other)| wiring::Wire { one, other })
        .collect();
    let net = if pairs.len() > MOST_WIRES || units.len() > MOST_UNITS {
        Err(if units.len() > MOST_UNITS { Refusal::TooManyUnits } else { Refusal::TooManyWires })
    } else {
        Net::new(units.len(), &pairs)
    };
    if let Ok(net) = &net {
        for (place, &at) in joined.iter().enumerate() {
            wires[at].role = net.role(place);
        }
    }
    let buy = shopping(&wires);
    let none_made = (0..wires.len()).filter(|&at| wires[at].to_buy && wires[at].is_not_made()).collect();
    Wiring { units, wires, net, buy, none_made }
}

fn units(model: &Model<'_>) -> Vec<Unit> {
    let parts = &model.build.parts;
    let mut units = Vec::new();
    for (side, station) in [("left", Station::LeverLeft), ("right", Station::LeverRight)] {
        if let Some(lever) = parts.lever.at(side) {
            let wired = is(lever.shifting.as_ref(), Shifting::Wired);
            let ports = number(lever.ports.as_ref());
            if wired || ports.is_some_and(|ports| ports > 0) {
                units.push(Unit {
                    path: format!("parts.lever.{side}"),
                    name: format!("{side} lever"),
                    ports,
                    end_kind: text(lever.end_kind.as_ref()),
                    station: Some(station),
                    needs_wire: wired,
                });
            }
        }
    }
    for (place, junction) in &parts.junction.0 {
        units.push(junction_unit(place, junction));
    }
    if let Some(radio) = parts.radio_unit.at("") {
        units.push(radio_unit(radio));
    }
    if let Some(display) = parts.display.at("") {
        units.extend(display_unit(display));
    }
    if let Some(battery) = parts.battery.at("") {
        units.push(battery_unit(battery));
    }
    if let Some(front) = parts.front_derailleur.at("") {
        units.extend(derailleur(
            "front",
            Station::FrontDerailleur,
            front.shifting.as_ref(),
            (number(front.ports.as_ref()), text(front.end_kind.as_ref())),
        ));
    }
    if let Some(rear) = parts.rear_derailleur.at("") {
        units.extend(derailleur(
            "rear",
            Station::RearDerailleur,
            rear.shifting.as_ref(),
            (number(rear.ports.as_ref()), text(rear.end_kind.as_ref())),
        ));
    }
    units
}

fn derailleur(
    end: &str,
    station: Station,
    shifting: Option<&Given<Shifting>>,
    (ports, end_kind): (Option<u32>, Option<String>),
) -> Option<Unit> {
    let needs_wire = is(shifting, Shifting::Wired);
    (needs_wire || ports.is_some_and(|ports| ports > 0)).then(|| Unit {
        path: format!("parts.{end}_derailleur"),
        name: format!("{end} derailleur"),
        ports,
        end_kind,
        station: Some(station),
        needs_wire,
    })
}

fn junction_unit(place: &str, junction: &Junction) -> Unit {
    Unit {
        path: format!("parts.junction.{place}"),
        name: format!("junction “{place}”"),
        ports: number(junction.ports.as_ref()),
        end_kind: text(junction.end_kind.as_ref()),
        station: station(junction.stands.as_ref(), junction.place.as_ref()),
        needs_wire: true,
    }
}

fn radio_unit(radio: &RadioUnit) -> Unit {
    let ports = number(radio.ports.as_ref());
    Unit {
        path: "parts.radio_unit".into(),
        name: "radio unit".into(),
        ports,
        end_kind: text(radio.end_kind.as_ref()),
        station: station(radio.stands.as_ref(), radio.place.as_ref()),
        needs_wire: ports != Some(0),
    }
}

fn display_unit(display: &Display) -> Option<Unit> {
    let ports = number(display.ports.as_ref()).filter(|ports| *ports > 0)?;
    Some(Unit {
        path: "parts.display".into(),
        name: "display".into(),
        ports: Some(ports),
        end_kind: text(display.end_kind.as_ref()),
        station: station(display.stands.as_ref(), display.place.as_ref()),
        needs_wire: true,
    })
}

fn battery_unit(battery: &Battery) -> Unit {
    let ports = number(battery.ports.as_ref());
    Unit {
        path: "parts.battery".into(),
        name: "battery".into(),
        ports,
        end_kind: text(battery.end_kind.as_ref()),
        station: station(battery.stands.as_ref(), battery.place.as_ref()),
        needs_wire: ports != Some(0),
    }
}

fn is(shifting: Option<&Given<Shifting>>, kind: Shifting) -> bool {
    shifting.is_some_and(|given| given.value == kind)
}

fn number(given: Option<&Given<u32>>) -> Option<u32> {
    given.map(|given| given.value)
}

fn text(given: Option<&Given<String>>) -> Option<String> {
    given.map(|given| given.value.trim().to_lowercase()).filter(|text| !text.is_empty())
}

/// The station as chosen, else as the words of the place say.
fn station(stands: Option<&Given<Station>>, place: Option<&Given<String>>) -> Option<Station> {
    if let Some(stands) = stands {
        return Some(stands.value);
    }
    let place = place?.value.to_lowercase();
    let says = |word: &str| place.contains(word);
    let bar_end = says("bar end") || says("bar's end") || says("bar-end");
    Some(match () {
        () if bar_end && says("left") => Station::BarEndLeft,
        () if bar_end && says("right") => Station::BarEndRight,
        () if says("bottom bracket") || says("bottom-bracket") || says("shell") => Station::Shell,
        () if says("down tube") => Station::DownTube,
        () if says("head tube") => Station::HeadTube,
        () if says("post") || says("seat tube") => Station::SeatTube,
        () if says("stem") || says("mount") => Station::Stem,
        () => return None,
    })
}

/// The words of a unit's name, in an order of their own: "left lever" and "lever, left" are one unit.
fn words(name: &str) -> Vec<String> {
    let mut words: Vec<String> = name
        .to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty() && !["the", "at", "in", "on"].contains(word))
        .map(str::to_owned)
        .collect();
    words.sort();
    words
}

/// The unit that is meant: by all the words of its name, or by the kind alone where there is one of it.
fn unit_named(said: &str, units: &[Unit]) -> Option<usize> {
    let said = words(said);
    let exact = units.iter().position(|unit| words(&unit.name) == said);
    exact.or_else(|| {
        let alias = match said.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
            ["junction"] => "parts.junction.",
            ["radio"] => "parts.radio_unit",
            ["computer"] => "parts.display",
            _ => return None,
        };
        let mut of_kind = units.iter().enumerate().filter(|(_, unit)| unit.path.starts_with(alias));
        of_kind.next().filter(|_| of_kind.next().is_none()).map(|(at, _)| at)
    })
}

fn run(place: &str, wire: &Wire, units: &[Unit], legs: &Legs<'_>) -> WireRun {
    let path = format!("parts.wire.{place}");
    let kind = text(wire.end_kind.as_ref());
    let end = |said: Option<&Given<String>>, port: Option<&Given<u32>>, kind: Option<String>, key: &str| {
        let said = said.map(|given| given.value.trim().to_owned()).filter(|said| !said.is_empty());
        let unit = said.as_deref().and_then(|said| unit_named(said, units));
        WireEnd { said, unit, port: number(port), kind, path: format!("{path}.{key}") }
    };
    let ends = [
        end(wire.one_end.as_ref(), wire.one_port.as_ref(), kind.clone(), "one_end"),
        end(
            wire.other_end.as_ref(),
            wire.other_port.as_ref(),
            text(wire.other_end_kind.as_ref()).or(kind),
            "other_end",
        ),
    ];
    let way = way(&ends, units, legs);
    let made = wire.lengths_made_mm.as_ref().map(|given| given.value.clone()).filter(|made| !made.is_empty());
    let choice_mm = way.as_ref().ok().and_then(|way| {
        let lengths = made.as_deref().unwrap_or(&CUSTOMARY_MM);
        lengths.iter().copied().filter(|length_mm| *length_mm >= way.needed_mm).min_by(f64::total_cmp)
    });
    let supplier = wire.supplied_by.as_ref().map(|given| given.value);
    WireRun {
        name: format!("wire “{place}”"),
        ends,
        length_mm: wire.length_mm.as_ref().map(|given| given.value),
        lengths_known: made.is_some(),
        way,
        choice_mm,
        to_buy: matches!(supplier, None | Some(Supplier::Shop)),
        role: None,
        path,
    }
}

fn way(ends: &[WireEnd; 2], units: &[Unit], legs: &Legs<'_>) -> Known<Way> {
    let at = |end: &WireEnd| -> Known<(Station, usize)> {
        let unit = end.unit.ok_or_else(|| Missing::fact(end.path.clone()))?;
        let station = units[unit].station.ok_or_else(|| Missing::fact(format!("{}.stands", units[unit].path)))?;
        Ok((station, unit))
    };
    known!(one = at(&ends[0]), other = at(&ends[1]));
    let ((one, _), (other, _)) = (one, other);
    let mut way = Way { along_mm: 0.0, needed_mm: 0.0, plus_minus_mm: 0.0, sleeve_mm: 0.0, by_string: true };
    let mut missing = Missing::default();
    let mut past_steerer = false;
    for station in between(one, other) {
        match legs.leg(station) {
            Ok(leg) => {
                way.along_mm += leg.length_mm;
                // Legs are read apart from each other, so their doubts add as squares.
                way.plus_minus_mm = way.plus_minus_mm.hypot(leg.plus_minus_mm);
                way.by_string &= leg.by_string;
                if is_inside(station) {
                    way.sleeve_mm += leg.length_mm;
                }
                past_steerer |= station == Station::Stem;
            }
            Err(other) => missing = missing.and(&other),
        }
    }
    if missing != Missing::default() {
        return Err(missing);
    }
    let sits = |wanted: &[Station]| [one, other].iter().filter(|station| wanted.contains(station)).count();
    let inside = sits(&[Station::HeadTube, Station::DownTube, Station::Shell, Station::SeatTube]) > 0;
    let levers = [Station::LeverLeft, Station::LeverRight];
    let loops: f64 = levers.iter().map(|lever| if sits(&[*lever]) > 0 { LEVER_LOOP_MM } else { 0.0 }).sum();
    way.needed_mm = way.along_mm
        + if inside { INSIDE_MM } else { OUTSIDE_MM }
        + if sits(&[Station::BarEndLeft, Station::BarEndRight]) > 0 { BAR_END_MM } else { 0.0 }
        + loops
        + if past_steerer { STEERING_MM } else { 0.0 };
    Ok(way)
}

/// The next station on the way to the shell; the shell is the root of all ways.
const fn towards_shell(station: Station) -> Option<Station> {
    match station {
        Station::BarEndLeft => Some(Station::LeverLeft),
        Station::BarEndRight => Some(Station::LeverRight),
        Station::LeverLeft | Station::LeverRight => Some(Station::Stem),
        Station::Stem => Some(Station::HeadTube),
        Station::HeadTube => Some(Station::DownTube),
        Station::DownTube | Station::SeatTube | Station::FrontDerailleur | Station::RearDerailleur => {
            Some(Station::Shell)
        }
        Station::Shell => None,
    }
}

/// The leg that leads from this station towards the shell runs inside the frame.
const fn is_inside(station: Station) -> bool {
    matches!(
        station,
        Station::HeadTube | Station::DownTube | Station::SeatTube | Station::FrontDerailleur | Station::RearDerailleur
    )
}

/// The stations from here to the shell, this one included. It ends: each step is nearer to the shell.
fn to_shell(station: Station) -> Vec<Station> {
    std::iter::successors(Some(station), |station| towards_shell(*station)).collect()
}

/// The legs between two stations, each by the station at its far end from the shell.
pub(crate) fn between(one: Station, other: Station) -> Vec<Station> {
    let (one, other) = (to_shell(one), to_shell(other));
    let shared = one.iter().rev().zip(other.iter().rev()).take_while(|(a, b)| a == b).count();
    let own = |way: &[Station]| way[..way.len() - shared].to_vec();
    let mut legs = own(&one);
    legs.extend(own(&other));
    legs
}

/// The stations passed from one to the other, both included, in order.
pub(crate) fn stations(one: Station, other: Station) -> Vec<Station> {
    let (up, down) = (to_shell(one), to_shell(other));
    let shared = up.iter().rev().zip(down.iter().rev()).take_while(|(a, b)| a == b).count();
    let mut passed = up[..=up.len() - shared].to_vec();
    passed.extend(down[..down.len() - shared].iter().rev());
    passed
}

/// A leg of the route.
#[derive(Clone, Copy)]
struct Leg {
    length_mm: f64,
    plus_minus_mm: f64,
    by_string: bool,
}

impl Leg {
    /// Read with a string: to about a centimetre.
    fn string(length_mm: f64) -> Self {
        Leg { length_mm, plus_minus_mm: 10.0, by_string: true }
    }

    fn worked_out(length_mm: f64, plus_minus_mm: f64) -> Self {
        Leg { length_mm, plus_minus_mm, by_string: false }
    }
}

/// What the legs are worked out from.
struct Legs<'a> {
    model: &'a Model<'a>,
    chassis: &'a Chassis,
    front: &'a Front,
    rear: &'a Rear,
}

impl Legs<'_> {
    /// The leg from a station towards the shell: read with a string, else worked out from the parts.
    fn leg(&self, from: Station) -> Known<Leg> {
        let frame = &self.model.frame;
        let string = match from {
            Station::FrontDerailleur => fact!(frame, wire_shell_to_front_derailleur_mm),
            Station::RearDerailleur => fact!(frame, wire_shell_to_rear_derailleur_mm),
            Station::SeatTube => fact!(frame, wire_shell_to_battery_mm),
            Station::DownTube => self.down_tube_by_string(),
            _ => Err(Missing::default()),
        };
        string.map(Leg::string).or_else(|read| self.worked_out(from).map_err(|missing| missing.and(&read)))
    }

    fn down_tube_by_string(&self) -> Known<f64> {
        known!(
            all_mm = fact!(self.model.frame, wire_head_to_shell_mm),
            head_tube_mm = fact!(self.model.frame, head_tube_mm),
        );
        Ok((all_mm - head_tube_mm).max(0.0))
    }

    fn worked_out(&self, from: Station) -> Known<Leg> {
        let (model, frame) = (self.model, &self.model.frame);
        match from {
            Station::LeverLeft | Station::LeverRight => {
                let side =
                    if from == Station::LeverLeft { crate::number::Side::Left } else { crate::number::Side::Right };
                known!(hood = self.front.hood(side).clone(), width_mm = model.width_at_hoods_mm());
                Ok(Leg::worked_out(hood.clamp_arc_mm + width_mm / 2.0, 20.0))
            }
            Station::BarEndLeft => lever_to_end(&model.lever_left, fact!(model.settings, lever_from_end_left_mm)),
            Station::BarEndRight => lever_to_end(&model.lever_right, fact!(model.settings, lever_from_end_right_mm)),
            Station::Stem => {
                known!(
                    stem = self.front.stem.clone(),
                    cover_mm = fact!(model.headset, cover_height_mm),
                    spacers_mm = fact!(model.settings, spacers_under_mm),
                );
                Ok(Leg::worked_out(stem.length_mm + stem.clamp_height_mm / 2.0 + spacers_mm + cover_mm, 20.0))
            }
            Station::HeadTube => fact!(frame, head_tube_mm).map(|length_mm| Leg::worked_out(length_mm, 10.0)),
            Station::DownTube => {
                known!(
                    top = self.chassis.head_tube_top.clone(),
                    angle_deg = self.chassis.head_angle_deg.clone(),
                    head_tube_mm = fact!(frame, head_tube_mm),
                );
                Ok(Leg::worked_out((top - steering_axis(angle_deg) * head_tube_mm).length_mm(), 25.0))
            }
            Station::SeatTube => {
                let battery = Place { path: "parts.battery", part: model.build.parts.battery.at("") };
                known!(
                    seat_tube_mm = fact!(frame, seat_tube_mm),
                    insertion = self.rear.insertion.clone(),
                    holder_mm = fact!(battery, holder_length_mm),
                );
                Ok(Leg::worked_out((seat_tube_mm - insertion.inserted_mm() - holder_mm).max(0.0), 30.0))
            }
            Station::FrontDerailleur => {
                let rings = fact!(model.crankset, rings)?;
                let teeth = rings.iter().max().copied().unwrap_or_default();
                let tips_mm = tip_radius_mm(teeth)
                    .ok_or_else(|| Missing::refused("a ring of so few teeth has no derailleur above it"))?;
                // Its port sits a little above the teeth, and the wire leaves the tube behind it.
                Ok(Leg::worked_out(tips_mm + 40.0, 40.0))
            }
            // Through the stay, out at its end, and round in a loop to the port.
            Station::RearDerailleur => fact!(frame, chainstay_mm).map(|stay_mm| Leg::worked_out(stay_mm + 130.0, 50.0)),
            Station::Shell => Ok(Leg::worked_out(0.0, 0.0)),
        }
    }
}

fn lever_to_end(lever: &Place<'_, crate::part::Lever>, from_end: Known<f64>) -> Known<Leg> {
    known!(from_end_mm = from_end, foot_mm = fact!(lever, foot_to_clamp_mm));
    Ok(Leg::worked_out(from_end_mm + foot_mm, 10.0))
}

fn shopping(wires: &[WireRun]) -> Vec<Buy> {
    // Whole millimetres, so that equal lengths meet under one key.
    let mut by_length: BTreeMap<i64, Vec<String>> = BTreeMap::new();
    for wire in wires.iter().filter(|wire| wire.to_buy) {
        let Some(length_mm) = wire.listed_that_reaches_mm().or(wire.choice_mm) else { continue };
        #[allow(clippy::cast_possible_truncation, reason = "a wire of some metres in whole millimetres")]
        by_length.entry(length_mm.round() as i64).or_default().push(wire.name.clone());
    }
    #[allow(clippy::cast_precision_loss, reason = "a wire of some metres in whole millimetres")]
    by_length.into_iter().map(|(length, wires)| Buy { length_mm: length as f64, wires }).collect()
}

/// The word of a station.
pub fn station_word(station: Station) -> &'static str {
    station.name()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unit(path: &str, name: &str) -> Unit {
        Unit { path: path.into(), name: name.into(), ports: None, end_kind: None, station: None, needs_wire: true }
    }

    #[test]
    fn a_unit_is_found_whatever_the_order_of_its_words() {
        let units = [
            unit("parts.lever.left", "left lever"),
            unit("parts.junction.bar-end", "junction bar-end"),
            unit("parts.radio_unit", "radio unit"),
        ];
        for said in ["left lever", "lever left", "Lever, left", "the left lever"] {
            assert_eq!(unit_named(said, &units), Some(0), "{said}");
        }
        for said in ["junction bar-end", "bar end junction", "junction"] {
            assert_eq!(unit_named(said, &units), Some(1), "{said}");
        }
        assert_eq!(unit_named("radio", &units), Some(2));
        for said in ["right lever", "", "junction stem", "battery"] {
            assert_eq!(unit_named(said, &units), None, "{said}");
        }
    }

    #[test]
    fn a_wire_that_is_not_made_long_enough_is_not_on_the_list_to_buy() {
        let mut build = crate::build::sample::sample();
        let with = |build: &crate::build::Build| crate::compute::work_out(&Model::new(build)).wiring;
        let on_the_list = |wiring: &Wiring| wiring.buy.iter().flat_map(|buy| buy.wires.clone()).collect::<Vec<_>>();
        let before = with(&build);
        assert!(before.none_made.is_empty() && on_the_list(&before).contains(&"wire “main”".to_owned()));
        let main = build.parts.wire.make("main");
        main.length_mm = Some(700.0.into());
        main.lengths_made_mm.get_or_insert_with(|| Given { value: vec![], typed: String::new(), origin: None }).value =
            vec![600.0, 700.0];
        let after = with(&build);
        assert_eq!(
            after.none_made.iter().map(|at| after.wires[*at].name.as_str()).collect::<Vec<_>>(),
            ["wire “main”"]
        );
        assert!(!on_the_list(&after).contains(&"wire “main”".to_owned()));
    }

    #[test]
    fn every_port_shows_what_is_in_it_and_what_has_no_port_stands_behind_them() {
        let end = |unit: usize, port: Option<u32>| WireEnd {
            said: Some("said".into()),
            unit: Some(unit),
            port,
            kind: None,
            path: String::new(),
        };
        let wire = |ends: [WireEnd; 2]| WireRun {
            path: String::new(),
            name: String::new(),
            ends,
            length_mm: None,
            lengths_known: false,
            way: Err(Missing::default()),
            choice_mm: None,
            to_buy: false,
            role: None,
        };
        let mut hub = unit("parts.junction.hub", "junction hub");
        hub.ports = Some(3);
        let wires = vec![
            wire([end(0, None), end(1, None)]),
            wire([end(0, Some(1)), end(1, None)]),
            wire([end(0, Some(1)), end(1, None)]),
        ];
        let mut wiring = Wiring {
            units: vec![hub, unit("parts.battery", "battery")],
            wires,
            net: Net::new(0, &[]),
            buy: Vec::new(),
            none_made: Vec::new(),
        };
        let seen = |wiring: &Wiring, unit: usize| -> Vec<(u32, Option<bool>, Vec<usize>)> {
            let ports = wiring.ports_of(unit).into_iter();
            ports.map(|port| (port.number, port.exists, port.holds.iter().map(|end| end.wire).collect())).collect()
        };
        // Port 1 is wanted twice, the wire that does not care takes the next, and one is spare.
        let some = Some(true);
        assert_eq!(seen(&wiring, 0), [(1, some, vec![1, 2]), (2, some, vec![0]), (3, some, vec![])]);
        // The battery's ports were not counted.
        assert_eq!(seen(&wiring, 1), [(1, None, vec![0]), (2, None, vec![1]), (3, None, vec![2])]);
        wiring.units[0].ports = Some(1);
        assert_eq!(seen(&wiring, 0), [(1, some, vec![1, 2]), (2, Some(false), vec![0])]);
        assert_eq!(seen(&wiring, 7), []);
    }

    #[test]
    fn one_word_for_two_junctions_names_neither() {
        let units = [unit("parts.junction.a", "junction a"), unit("parts.junction.b", "junction b")];
        assert_eq!(unit_named("junction", &units), None);
    }

    #[test]
    fn the_way_from_a_lever_to_the_rear_derailleur_passes_every_station_once() {
        use Station::{
            BarEndLeft, BarEndRight, DownTube, HeadTube, LeverLeft, LeverRight, RearDerailleur, Shell, Stem,
        };
        assert_eq!(stations(LeverLeft, RearDerailleur), [LeverLeft, Stem, HeadTube, DownTube, Shell, RearDerailleur]);
        assert_eq!(stations(BarEndLeft, BarEndRight), [BarEndLeft, LeverLeft, Stem, LeverRight, BarEndRight]);
        assert_eq!(stations(Shell, Shell), [Shell]);
        assert_eq!(between(LeverLeft, Stem), [LeverLeft]);
        assert!(between(Stem, Stem).is_empty());
    }

    #[test]
    fn the_words_of_a_place_lead_to_its_station() {
        let of = |place: &str| station(None, Some(&place.into()));
        assert_eq!(of("bar end, right"), Some(Station::BarEndRight));
        assert_eq!(of("over the bottom bracket, in foam"), Some(Station::Shell));
        assert_eq!(of("down tube's mouth, in foam"), Some(Station::DownTube));
        assert_eq!(of("in the post"), Some(Station::SeatTube));
        assert_eq!(of("somewhere"), None);
        assert_eq!(station(Some(&Station::Stem.into()), Some(&"in the post".into())), Some(Station::Stem));
    }
}
