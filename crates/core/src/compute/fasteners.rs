//! Every bolt of this bike, in the order of the torque round: how hard, by whose limit, what that pulls, and what was done.
//!
//! A bolt joins parts, and each of them may state a torque. The lowest of them counts, and its owner is named. Where a part
//! that ought to state one is silent, the torque is not known; the lowest that *is* stated stands beside it, so that nobody
//! goes above that. The document keeps what was done under the bolt's id.

use crate::build::{Build, FastenerRecord, FastenerState, StrengthClass, Wrench};
use crate::choice;
use crate::fact;
use crate::field::{Choice, Given};
use crate::model::{Known, Missing, Model};
use crate::number::{Area, Side};
use crate::part::{self, Compound, Material, RotorMount, SmallPart};
use jiff::civil::Date;
use witnessmark_mechanics::fastener::{Applied, Between, HeadRing, Thread, preload_n};

/// Friction of a greased or pasted thread, and under its head: VDI 2230, class B (from memory).
pub const FRICTION_GREASED: Between = Between { low: 0.08, high: 0.16 };
/// Friction of a dry thread: VDI 2230, class C, as suppliers quote it for plain zinc.
pub const FRICTION_DRY: Between = Between { low: 0.14, high: 0.24 };
/// Friction where thread lock is on it, or nobody said what: both classes together.
pub const FRICTION_ANY: Between = Between { low: 0.08, high: 0.24 };
/// How far off a wrench may be that brings no certificate, up to 10 N·m: ISO 6789 (from memory).
pub const WRENCH_SMALL_PERCENT: f64 = 6.0;
/// The same above 10 N·m.
pub const WRENCH_LARGE_PERCENT: f64 = 4.0;

choice! {
    /// Who says how hard.
    pub enum TorqueSays {
        /// The maker of a part states the torque for its bolt.
        Stated = "stated",
        /// The maker of a part allows no more on it.
        Allowed = "allowed at most",
        /// The workshop means to use less.
        Workshop = "the workshop's own",
    }
}

/// A torque that one of the joined parts states.
#[derive(Clone, Debug, PartialEq)]
pub struct TorqueLimit {
    /// How much.
    pub nm: f64,
    /// The fact that says so: `parts.bar.stem_clamp_torque`.
    pub path: String,
    /// In which sense.
    pub says: TorqueSays,
}

/// What a torque pulls.
#[derive(Clone, Debug, PartialEq)]
pub struct Preload {
    /// The torque it was worked out for: as applied, or as planned.
    pub torque_nm: f64,
    /// Pull of each bolt, newtons.
    pub pull_n: Between,
    /// Between which coefficients of friction.
    pub friction: Between,
    /// How far off the wrench may be.
    pub wrench_percent: f64,
    /// The pull that the bolt must bear without lengthening: ISO 898-1, or for stainless the 0.2 % limit of ISO 3506-1.
    pub proof_n: Known<f64>,
}

impl Preload {
    /// The greatest pull against what the bolt bears; above 1 it may lengthen for good.
    pub fn most_of_proof(&self) -> Known<f64> {
        self.proof_n.clone().map(|proof_n| self.pull_n.high / proof_n)
    }
}

/// The wrench a torque was applied with.
#[derive(Clone, Debug, PartialEq)]
pub struct WrenchUsed {
    /// Its name.
    pub name: String,
    /// What the document says of it; nothing where it is not among the wrenches.
    pub wrench: Option<Wrench>,
    /// The day on which it is due for calibration.
    pub due_on: Option<Date>,
    /// It was due already when it was used; unknown without a day.
    pub was_due: Option<bool>,
    /// The torque lies within its range; unknown without a range.
    pub in_range: Option<bool>,
}

/// A bolt of this bike, or several alike that are tightened together.
#[derive(Clone, Debug, PartialEq)]
pub struct Fastener {
    /// Its id, under which the document keeps what was done: `stem-face-plate`.
    pub id: String,
    /// As a mechanic calls it.
    pub name: String,
    /// Where in the walk-round it stands.
    pub area: Area,
    /// How many there are.
    pub count: Option<u32>,
    /// What each joined part states, lowest first.
    pub limits: Vec<TorqueLimit>,
    /// The facts that ought to state a torque and do not.
    pub silent: Missing,
    /// The order in which several are tightened.
    pub order: Option<&'static str>,
    /// What to watch.
    pub caution: Option<&'static str>,
    /// What goes on the thread: as told, or by custom.
    pub compound: Compound,
    /// Nobody told the compound; it is the customary one.
    pub compound_by_custom: bool,
    /// What goes between the faces that are clamped, where the parts say.
    pub between: Option<Compound>,
    /// What turns it.
    pub bit: Option<String>,
    /// What the torque pulls; nothing for what is no screw with a head: cups, lockrings, axles, pedals, nuts.
    pub preload: Option<Known<Preload>>,
    /// What was done.
    pub record: Option<FastenerRecord>,
    /// With which wrench.
    pub wrench: Option<WrenchUsed>,
}

impl Fastener {
    /// The lowest torque that any joined part states.
    pub fn lowest(&self) -> Option<&TorqueLimit> {
        self.limits.first()
    }

    /// The torque: the lowest of the limits, known where every joined part has stated its own.
    pub fn torque_nm(&self) -> Known<f64> {
        if self.silent != Missing::default() {
            return Err(self.silent.clone());
        }
        self.lowest().map(|limit| limit.nm).ok_or_else(|| Missing::refused("no part that it joins states a torque"))
    }

    /// How far it is tightened; nothing where nobody has touched it.
    pub fn state(&self) -> Option<FastenerState> {
        self.record.as_ref()?.state.as_ref().map(|given| given.value)
    }

    /// The torque that was applied.
    pub fn applied_nm(&self) -> Option<f64> {
        self.record.as_ref()?.applied_nm.as_ref().map(|given| given.value)
    }

    /// A line is painted across it; unknown where nobody said.
    pub fn witness(&self) -> Option<bool> {
        self.record.as_ref()?.witness.as_ref().map(|given| given.value)
    }

    /// Where its record stands in the document: `fasteners.stem-face-plate`.
    pub fn path(&self) -> String {
        format!("fasteners.{}", self.id)
    }
}

/// Every bolt of the bike, and records that belong to none.
#[derive(Clone, Debug, PartialEq)]
pub struct Fasteners {
    /// In the order of the torque round.
    pub list: Vec<Fastener>,
    /// Ids of records that belong to no bolt of this bike.
    pub strangers: Vec<String>,
}

impl Fasteners {
    /// The bolt with this id.
    pub fn of(&self, id: &str) -> Option<&Fastener> {
        self.list.iter().find(|bolt| bolt.id == id)
    }

    /// The bolts that stand open: each holds the release back.
    pub fn open(&self) -> impl Iterator<Item = &Fastener> {
        self.list.iter().filter(|bolt| bolt.state() == Some(FastenerState::Open))
    }

    /// How many are closed, and how many there are.
    pub fn closed(&self) -> (usize, usize) {
        let closed = self.list.iter().filter(|bolt| bolt.state() == Some(FastenerState::Closed));
        (closed.count(), self.list.len())
    }
}

/// The bolts of this bike.
pub fn fasteners(model: &Model<'_>) -> Fasteners {
    let mut round = Round { build: model.build, list: Vec::new() };
    front_end(model, &mut round);
    cockpit(model, &mut round);
    saddle(model, &mut round);
    transmission(model, &mut round);
    wheels_and_brakes(model, &mut round);
    finish(model, &mut round);
    let list = round.list;
    let strangers =
        model.build.fasteners.keys().filter(|id| list.iter().all(|bolt| bolt.id != **id)).cloned().collect();
    Fasteners { list, strangers }
}

/// What the tables below say of a bolt.
struct Joint {
    id: String,
    name: String,
    area: Area,
    count: Option<u32>,
    torques: Vec<(Known<f64>, TorqueSays, String)>,
    order: Option<&'static str>,
    caution: Option<&'static str>,
    custom: Compound,
    between: Option<Compound>,
    screw: bool,
}

impl Joint {
    /// A screw with a head, greased, alone.
    fn new(id: impl Into<String>, name: impl Into<String>, area: Area) -> Self {
        Joint {
            id: id.into(),
            name: name.into(),
            area,
            count: Some(1),
            torques: Vec::new(),
            order: None,
            caution: None,
            custom: Compound::Grease,
            between: None,
            screw: true,
        }
    }

    fn stated(mut self, torque: Known<f64>, path: impl Into<String>) -> Self {
        self.torques.push((torque, TorqueSays::Stated, path.into()));
        self
    }

    fn allowed(mut self, torque: Known<f64>, path: impl Into<String>) -> Self {
        self.torques.push((torque, TorqueSays::Allowed, path.into()));
        self
    }

    fn count(self, count: Option<u32>) -> Self {
        Joint { count, ..self }
    }

    fn order(self, order: &'static str) -> Self {
        Joint { order: Some(order), ..self }
    }

    fn caution(self, caution: &'static str) -> Self {
        Joint { caution: Some(caution), ..self }
    }

    fn with(self, custom: Compound) -> Self {
        Joint { custom, ..self }
    }

    fn between(self, between: Option<Compound>) -> Self {
        Joint { between, ..self }
    }

    /// It has no head that turns on a face: cup, lockring, axle, pedal, nut.
    fn no_screw(self) -> Self {
        Joint { screw: false, ..self }
    }
}

const ALTERNATE: &str = "alternately, in three rises";
const CROSSWISE: &str =
    "crosswise, in three rises, the gaps above and below alike; where the maker wants one gap closed, that side first";
const IN_A_STAR: &str = "in a star, each a little at a time";

/// The list as it grows.
struct Round<'a> {
    build: &'a Build,
    list: Vec<Fastener>,
}

impl<'a> Round<'a> {
    /// The small parts that are the screws of this bolt, with their path.
    fn screws_of(&self, id: &str) -> Option<(String, &'a SmallPart)> {
        self.build.parts.small_part.0.iter().find_map(|(place, screws)| {
            let ids = value(screws.screws_of.as_ref())?;
            let is = ids.split([',', ';', ' ']).any(|one| one.trim() == id);
            is.then(|| (format!("parts.small_part.{place}"), screws))
        })
    }

    fn add(&mut self, joint: Joint) {
        let id: String = joint.id.chars().take(part::LONGEST_NAME).collect();
        let record = self.build.fasteners.get(&id).cloned();
        let said = record.as_ref();
        let mut limits = Vec::new();
        let mut silent = Missing::default();
        for (torque, says, path) in joint.torques {
            match torque {
                Ok(nm) => limits.push(TorqueLimit { nm, path, says }),
                Err(missing) => silent = silent.and(&missing),
            }
        }
        if let Some(less) = said.and_then(|record| value(record.less_nm.as_ref())) {
            let path = format!("fasteners.{id}.less");
            limits.push(TorqueLimit { nm: less, path, says: TorqueSays::Workshop });
        }
        let screws = self.screws_of(&id);
        if let Some((path, nm)) =
            screws.as_ref().and_then(|(path, screws)| Some((path, value(screws.torque_nm.as_ref())?)))
        {
            limits.push(TorqueLimit { nm, path: format!("{path}.torque"), says: TorqueSays::Stated });
        }
        limits.sort_by(|a, b| a.nm.total_cmp(&b.nm));
        // What was written down of the bolt goes before what the list of parts says of its screws.
        let screws = screws.map(|(_, screws)| screws);
        let told = said.and_then(|record| value(record.compound.as_ref())).or_else(|| value(screws?.compound.as_ref()));
        let mut bolt = Fastener {
            name: joint.name,
            area: joint.area,
            count: joint.count,
            limits,
            silent,
            order: joint.order.filter(|_| joint.count.is_none_or(|count| count > 1)),
            caution: joint.caution,
            compound: told.unwrap_or(joint.custom),
            compound_by_custom: told.is_none(),
            between: joint.between,
            bit: said.and_then(|record| value(record.bit.as_ref())).or_else(|| value(screws?.head.as_ref())),
            preload: None,
            wrench: said.and_then(|record| wrench_used(self.build, record)),
            record,
            id,
        };
        if joint.screw {
            bolt.preload = Some(preload(&bolt, screws));
        }
        self.list.push(bolt);
    }
}

fn value<T: Clone>(given: Option<&Given<T>>) -> Option<T> {
    given.map(|given| given.value.clone())
}

fn wrench_used(build: &Build, record: &FastenerRecord) -> Option<WrenchUsed> {
    let name = value(record.wrench.as_ref())?;
    let wrench = build.wrenches.get(&name).cloned();
    let told = wrench.as_ref();
    let due_on = told.and_then(|wrench| {
        let days = value(wrench.good_for_days.as_ref())?;
        value(wrench.calibrated_on.as_ref())?.checked_add(jiff::Span::new().days(i64::from(days))).ok()
    });
    let was_due = due_on.zip(value(record.on.as_ref())).map(|(due, used)| used > due);
    let in_range = told.and_then(|wrench| {
        let applied = value(record.applied_nm.as_ref())?;
        Some(value(wrench.low_nm.as_ref())? <= applied && applied <= value(wrench.high_nm.as_ref())?)
    });
    Some(WrenchUsed { name, wrench, due_on, was_due, in_range })
}

/// What the torque pulls, as applied or else as planned.
fn preload(bolt: &Fastener, screws: Option<&SmallPart>) -> Known<Preload> {
    let record = bolt.record.as_ref();
    let text = record
        .and_then(|record| value(record.thread.as_ref()))
        .or_else(|| value(screws?.thread.as_ref()))
        .ok_or_else(|| Missing::fact(format!("{}.thread", bolt.path())));
    let torque_nm = bolt.applied_nm().map_or_else(|| bolt.torque_nm(), Ok);
    crate::known!(thread = text.and_then(|text| thread(&text)), torque_nm = torque_nm);
    let head = HeadRing::of_socket_screw(thread.diameter_mm)
        .ok_or_else(|| Missing::refused(format!("no head is on file for a screw of {} mm", thread.diameter_mm)))?;
    let friction = if bolt.compound_by_custom { FRICTION_ANY } else { friction_of(bolt.compound) };
    let certified = bolt.wrench.as_ref().and_then(|used| value(used.wrench.as_ref()?.plus_minus_percent.as_ref()));
    let custom = if torque_nm > 10.0 { WRENCH_LARGE_PERCENT } else { WRENCH_SMALL_PERCENT };
    let wrench_percent = certified.unwrap_or(custom);
    let applied = Applied { torque_nm, plus_minus_percent: wrench_percent };
    let pull_n =
        preload_n(applied, thread, head, friction).ok_or_else(|| Missing::refused("torque and thread make no pull"))?;
    let proof_n = record
        .and_then(|record| value(record.strength.as_ref()))
        .or_else(|| StrengthClass::from_name(value(screws?.strength_class.as_ref())?.trim()))
        .map(|class| thread.proof_load_n(proof_stress_mpa(class)))
        .ok_or_else(|| Missing::fact(format!("{}.strength", bolt.path())));
    Ok(Preload { torque_nm, pull_n, friction, wrench_percent, proof_n })
}

/// The friction that a compound leaves.
pub fn friction_of(compound: Compound) -> Between {
    match compound {
        Compound::Dry => FRICTION_DRY,
        Compound::Grease | Compound::AntiSeize => FRICTION_GREASED,
        Compound::CarbonPaste | Compound::ThreadLockMedium | Compound::ThreadLockStrong => FRICTION_ANY,
    }
}

/// Stress under proof load: ISO 898-1 up to M16; for stainless the 0.2 % limit of ISO 3506-1 (both from memory).
pub const fn proof_stress_mpa(class: StrengthClass) -> f64 {
    match class {
        StrengthClass::Steel8 => 580.0,
        StrengthClass::Steel10 => 830.0,
        StrengthClass::Steel12 => 970.0,
        StrengthClass::Stainless50 => 210.0,
        StrengthClass::Stainless70 => 450.0,
        StrengthClass::Stainless80 => 600.0,
    }
}

/// Reads a thread: `M5`, `M5 x 0.8`.
pub fn thread(text: &str) -> Known<Thread> {
    let unread =
        || Missing::refused(format!("the thread reads «{text}», and a metric thread, such as M5 x 0.8, was expected"));
    let plain = text.trim().to_ascii_lowercase().replace('×', "x").replace(',', ".");
    let body = plain.strip_prefix('m').ok_or_else(unread)?;
    let mut figures = body.split('x').map(|figure| figure.trim().trim_end_matches("mm").trim().parse::<f64>());
    let diameter_mm = figures.next().and_then(Result::ok).ok_or_else(unread)?;
    match figures.next() {
        None => Thread::coarse(diameter_mm).ok_or_else(unread),
        Some(Ok(pitch_mm)) if 0.0 < pitch_mm && pitch_mm < diameter_mm / 2.0 => Ok(Thread { diameter_mm, pitch_mm }),
        Some(_) => Err(unread()),
    }
}

fn at(path: &str, fact: &str) -> String {
    format!("{path}.{fact}")
}

fn front_end(model: &Model<'_>, round: &mut Round<'_>) {
    let fork = &model.fork;
    if fork.part.is_some() && fact!(fork, expander_torque_nm).is_ok() {
        round.add(
            Joint::new("expander", "expander in the steerer", Area::FrontEnd)
                .stated(fact!(fork, expander_torque_nm), at(fork.path, "expander_torque"))
                .caution(
                    "Degrease the steerer inside; no grease on the wedge's faces. Nobody sees it again under the cap.",
                ),
        );
    }
    if model.headset.part.is_some() {
        round.add(
            Joint::new("top-cap", "top cap", Area::FrontEnd)
                .stated(fact!(model.headset, top_cap_torque_nm), at(model.headset.path, "top_cap_torque"))
                .caution(
                    "Only until the play is gone, before the clamp on the steerer is tightened; never afterwards.",
                ),
        );
    }
    if model.one_piece() || model.stem.part.is_some() {
        let (holder, stated, bolts) = if model.one_piece() {
            (model.cockpit.path, fact!(model.cockpit, steerer_clamp_torque_nm), None)
        } else {
            (model.stem.path, fact!(model.stem, steerer_clamp_torque_nm), fact!(model.stem, steerer_bolts).ok())
        };
        let carbon = fact!(fork, steerer_material) == Ok(Material::Carbon);
        round.add(
            Joint::new("stem-steerer", "clamp on the steerer", Area::FrontEnd)
                .stated(stated, at(holder, "steerer_clamp_torque"))
                .allowed(fact!(fork, steerer_clamp_torque_nm), at(fork.path, "steerer_clamp_torque"))
                .count(bolts)
                .order(ALTERNATE)
                .between(carbon.then_some(Compound::CarbonPaste))
                .caution("Straighten the bar first. It is the clamp that keeps the bearings' play, not the cap."),
        );
    }
}

fn cockpit(model: &Model<'_>, round: &mut Round<'_>) {
    let (stem, bar) = (&model.stem, &model.bar);
    if !model.one_piece() && (stem.part.is_some() || bar.part.is_some()) {
        round.add(
            Joint::new("stem-face-plate", "face plate of the stem", Area::Cockpit)
                .stated(fact!(stem, bar_clamp_torque_nm), at(stem.path, "bar_clamp_torque"))
                .allowed(fact!(bar, stem_clamp_torque_nm), at(bar.path, "stem_clamp_torque"))
                .count(fact!(stem, bar_bolts).ok())
                .order(CROSSWISE)
                .between(fact!(bar, clamp_compound).ok())
                .caution("A cracking noise while tightening carbon: stop, take it out, look."),
        );
    }
    let (holder, allowed) = if model.one_piece() {
        (model.cockpit.path, fact!(model.cockpit, lever_clamp_torque_nm))
    } else {
        (bar.path, fact!(bar, lever_clamp_torque_nm))
    };
    for (side, lever) in [("left", &model.lever_left), ("right", &model.lever_right)] {
        if lever.part.is_some() {
            round.add(
                Joint::new(format!("lever-{side}"), format!("band of the {side} lever"), Area::Cockpit)
                    .stated(fact!(lever, clamp_torque_nm), at(lever.path, "clamp_torque"))
                    .allowed(allowed.clone(), at(holder, "lever_clamp_torque"))
                    .caution("The tape hides it: tighten, mark and write down before the tape goes on."),
            );
        }
    }
    if model.computer_mount.part.is_some() {
        let mount = &model.computer_mount;
        round.add(
            Joint::new("computer-mount", "mount of the computer", Area::Cockpit)
                .stated(fact!(mount, torque_nm), at(mount.path, "torque")),
        );
    }
    for (side, plug) in [("left", &model.end_plug_left), ("right", &model.end_plug_right)] {
        // A plug that is pushed in has no screw; only one that states a torque stands here.
        if let Ok(torque) = fact!(plug, torque_nm) {
            round.add(
                Joint::new(format!("end-plug-{side}"), format!("screw of the {side} end plug"), Area::Cockpit)
                    .stated(Ok(torque), at(plug.path, "torque")),
            );
        }
    }
}

fn saddle(model: &Model<'_>, round: &mut Round<'_>) {
    let (frame, post, saddle) = (&model.frame, &model.post, &model.saddle);
    if post.part.is_some() {
        round.add(
            Joint::new("seat-clamp", "clamp on the post", Area::Saddle)
                .stated(fact!(frame, post_clamp_torque_nm), at(frame.path, "post_clamp_torque"))
                .allowed(fact!(post, clamp_torque_nm), at(post.path, "clamp_torque"))
                .between(fact!(post, compound).ok())
                .caution("Mark the post at the collar first. If it slips: paste, never more torque."),
        );
        round.add(
            Joint::new("rail-clamp", "clamp on the saddle's rails", Area::Saddle)
                .stated(fact!(post, rail_clamp_torque_nm), at(post.path, "rail_clamp_torque"))
                .allowed(fact!(saddle, rail_clamp_torque_nm), at(saddle.path, "rail_clamp_torque"))
                .count(None)
                .order(ALTERNATE)
                .caution("Read the tilt again when it is tight: the last turn moves it."),
        );
    }
}

fn transmission(model: &Model<'_>, round: &mut Round<'_>) {
    let area = Area::Transmission;
    let shell = &model.bottom_bracket;
    if shell.part.is_some() && fact!(shell, hold) != Ok(part::ShellHold::Pressed) {
        round.add(
            Joint::new("bottom-bracket", "cups of the bottom bracket", area)
                .stated(fact!(shell, torque_nm), at(shell.path, "torque"))
                .count(Some(2))
                .caution("Mind the hand of the thread on the drive side.")
                .no_screw(),
        );
    }
    let crank = &model.crankset;
    if crank.part.is_some() {
        round.add(
            Joint::new("crank-arm", "bolts of the crank arm", area)
                .stated(fact!(crank, arm_torque_nm), at(crank.path, "arm_torque"))
                .count(fact!(crank, arm_bolts).ok())
                .order(ALTERNATE)
                .caution("Play out by the preload ring first, with the fingers."),
        );
        round.add(
            Joint::new("ring-bolts", "bolts of the rings", area)
                .stated(fact!(crank, ring_torque_nm), at(crank.path, "ring_torque"))
                .count(fact!(crank, ring_bolts).ok())
                .order(IN_A_STAR)
                .with(Compound::ThreadLockMedium),
        );
    }
    if model.pedal.part.is_some() {
        for side in ["left", "right"] {
            round.add(
                Joint::new(format!("pedal-{side}"), format!("{side} pedal"), area)
                    .stated(fact!(model.pedal, torque_nm), at(model.pedal.path, "torque"))
                    .caution(if side == "left" { "Left-hand thread." } else { "Right-hand thread." })
                    .no_screw(),
            );
        }
    }
    let front = &model.front_derailleur;
    if front.part.is_some() {
        round.add(
            Joint::new("front-derailleur", "front derailleur at its mount", area)
                .stated(fact!(front, mount_torque_nm), at(front.path, "mount_torque")),
        );
    }
    let rear = &model.rear_derailleur;
    if rear.part.is_some() {
        round.add(
            Joint::new("hanger", "screw of the hanger", area)
                .stated(fact!(model.frame, hanger_torque_nm), at(model.frame.path, "hanger_torque"))
                .with(Compound::ThreadLockMedium)
                .caution("Some are left-handed."),
        );
        round.add(
            Joint::new("rear-derailleur", "rear derailleur at the hanger", area)
                .stated(fact!(rear, mount_torque_nm), at(rear.path, "mount_torque"))
                .no_screw(),
        );
    }
    if model.cassette.part.is_some() {
        round.add(
            Joint::new("cassette", "lockring of the cassette", area)
                .stated(fact!(model.cassette, lockring_torque_nm), at(model.cassette.path, "lockring_torque"))
                .no_screw(),
        );
    }
}

fn wheels_and_brakes(model: &Model<'_>, round: &mut Round<'_>) {
    let area = Area::WheelsAndBrakes;
    for end in &model.ends {
        let side = if end.side == Side::Front { "front" } else { "rear" };
        if end.rotor.part.is_some() {
            let six = fact!(end.rotor, mount) == Ok(RotorMount::SixBolt);
            let name = if six { format!("bolts of the {side} rotor") } else { format!("lockring of the {side} rotor") };
            let joint = Joint::new(format!("rotor-{side}"), name, area)
                .stated(fact!(end.rotor, torque_nm), at(end.rotor.path, "torque"));
            round.add(if six {
                joint.count(Some(6)).order(IN_A_STAR).with(Compound::ThreadLockMedium)
            } else {
                joint.no_screw()
            });
        }
        if end.caliper.part.is_some() {
            round.add(
                Joint::new(format!("caliper-{side}"), format!("{side} caliper on its mount"), area)
                    .stated(fact!(end.caliper, mount_torque_nm), at(end.caliper.path, "mount_torque"))
                    .count(Some(2))
                    .order(ALTERNATE)
                    .with(Compound::ThreadLockMedium)
                    .caution("Brake held while tightening, then see that the rotor runs free."),
            );
        }
        if end.hose.part.is_some() {
            round.add(
                Joint::new(format!("hose-{side}"), format!("nuts of the {side} hose"), area)
                    .stated(fact!(end.hose, fitting_torque_nm), at(end.hose.path, "fitting_torque"))
                    .count(Some(2))
                    .with(Compound::Dry)
                    .no_screw(),
            );
        }
        if end.axle.part.is_some() {
            round.add(
                Joint::new(format!("axle-{side}"), format!("{side} axle"), area)
                    .stated(fact!(end.axle, torque_nm), at(end.axle.path, "torque"))
                    .no_screw(),
            );
        }
    }
}

fn finish(model: &Model<'_>, round: &mut Round<'_>) {
    for (place, cage) in &model.build.parts.bottle_cage.0 {
        let path = format!("parts.bottle_cage.{place}");
        let stated = value(cage.torque_nm.as_ref()).ok_or_else(|| Missing::fact(at(&path, "torque")));
        round.add(
            Joint::new(format!("cage-{place}"), format!("bottle cage, {}", place.replace('-', " ")), Area::Finish)
                .stated(stated, at(&path, "torque"))
                .allowed(fact!(model.frame, bottle_bolt_torque_nm), at(model.frame.path, "bottle_bolt_torque"))
                .count(Some(2)),
        );
    }
    for (place, small) in &model.build.parts.small_part.0 {
        // Only a small part that states a torque is a bolt; one that is the screws of another stands there.
        if small.screws_of.is_some() {
            continue;
        }
        if let Some(torque) = value(small.torque_nm.as_ref()) {
            let name = value(small.name.as_ref()).unwrap_or_else(|| place.replace('-', " "));
            let joint = Joint::new(format!("small-{place}"), name, Area::Finish)
                .stated(Ok(torque), format!("parts.small_part.{place}.torque"))
                .count(value(small.count.as_ref()));
            round.add(match value(small.compound.as_ref()) {
                Some(compound) => joint.with(compound),
                None => joint,
            });
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(
        clippy::unwrap_used,
        clippy::float_cmp,
        reason = "a bolt that is not there is to stop the test; figures are passed on"
    )]

    use super::*;
    use crate::build::sample::sample;
    use crate::part::is_name;
    use jiff::civil::date;
    use std::collections::BTreeSet;

    fn of(build: &Build) -> Fasteners {
        fasteners(&Model::new(build))
    }

    #[test]
    fn the_lowest_of_the_joined_parts_counts_and_its_owner_is_named() {
        let mut build = sample();
        build.parts.stem.make("").bar_clamp_torque_nm = Some(6.0.into());
        let all = of(&build);
        let plate = all.of("stem-face-plate").unwrap();
        assert_eq!(plate.torque_nm(), Ok(5.0));
        assert_eq!(plate.lowest().unwrap().path, "parts.bar.stem_clamp_torque");
        assert_eq!(plate.lowest().unwrap().says, TorqueSays::Allowed);
    }

    #[test]
    fn a_silent_part_leaves_the_torque_unknown_and_the_stated_one_beside_it() {
        let mut build = sample();
        build.parts.bar.make("").stem_clamp_torque_nm = None;
        let all = of(&build);
        let plate = all.of("stem-face-plate").unwrap();
        assert_eq!(plate.torque_nm().unwrap_err().paths, ["parts.bar.stem_clamp_torque"]);
        assert_eq!(plate.lowest().unwrap().nm, 5.0);
    }

    #[test]
    fn the_workshop_may_use_less_and_never_more() {
        for (less, want) in [(4.0, 4.0), (9.0, 5.0)] {
            let mut build = sample();
            build.fasteners.entry("stem-face-plate".into()).or_default().less_nm = Some(less.into());
            assert_eq!(of(&build).of("stem-face-plate").unwrap().torque_nm(), Ok(want));
        }
    }

    #[test]
    fn ids_are_names_and_stand_once() {
        let mut build = sample();
        build.parts.bottle_cage.make(&"x".repeat(40)).torque_nm = Some(2.0.into());
        let all = of(&build);
        let mut seen = BTreeSet::new();
        assert!(all.list.len() > 25, "{}", all.list.len());
        for bolt in &all.list {
            assert!(is_name(&bolt.id) && seen.insert(bolt.id.clone()), "{}", bolt.id);
        }
    }

    #[test]
    fn a_pull_is_told_against_the_proof_load_and_friction_is_wider_where_nobody_told_the_compound() {
        let mut build = sample();
        let record = build.fasteners.entry("stem-face-plate".into()).or_default();
        *record = FastenerRecord {
            thread: Some("M5".into()),
            strength: Some(StrengthClass::Steel8.into()),
            ..FastenerRecord::default()
        };
        let wide = of(&build).of("stem-face-plate").unwrap().preload.clone().unwrap().unwrap();
        assert!(wide.most_of_proof().unwrap() > 1.0, "a greasy 8.8 of 5 mm is past its proof load at 5 N·m");
        build.fasteners.get_mut("stem-face-plate").unwrap().compound = Some(Compound::Grease.into());
        let told = of(&build).of("stem-face-plate").unwrap().preload.clone().unwrap().unwrap();
        assert!(told.pull_n.low > wide.pull_n.low && told.pull_n.high == wide.pull_n.high);
    }

    #[test]
    fn a_wrench_is_due_after_its_days() {
        let mut build = sample();
        build.wrenches.insert(
            "small".into(),
            Wrench {
                calibrated_on: Some(date(2026, 3, 1).into()),
                good_for_days: Some(365.into()),
                low_nm: Some(2.0.into()),
                high_nm: Some(20.0.into()),
                ..Wrench::default()
            },
        );
        for (on, due) in [(date(2027, 3, 1), false), (date(2027, 3, 2), true)] {
            let record = build.fasteners.entry("rail-clamp".into()).or_default();
            record.wrench = Some("small".into());
            record.on = Some(on.into());
            record.applied_nm = Some(8.0.into());
            let all = of(&build);
            let used = all.of("rail-clamp").unwrap().wrench.clone().unwrap();
            assert_eq!((used.was_due, used.in_range), (Some(due), Some(true)));
        }
    }

    #[test]
    fn screws_on_the_list_of_parts_tell_their_thread_and_class_and_hold_the_torque_down() {
        let mut build = sample();
        build.fasteners.clear();
        let screws = build.parts.small_part.make("stem-bolts");
        screws.screws_of = Some("stem-steerer, stem-face-plate".into());
        screws.thread = Some("M5".into());
        screws.strength_class = Some("12.9".into());
        screws.compound = Some(Compound::Grease.into());
        screws.torque_nm = Some(4.0.into());
        let all = of(&build);
        for id in ["stem-steerer", "stem-face-plate"] {
            let bolt = all.of(id).unwrap();
            assert_eq!(bolt.torque_nm(), Ok(4.0));
            assert!(!bolt.compound_by_custom && bolt.preload.clone().unwrap().unwrap().most_of_proof().unwrap() < 1.0);
        }
        assert!(all.of("small-stem-bolts").is_none(), "they stand where they are tightened");
    }

    #[test]
    fn threads_are_read_as_they_are_written() {
        assert_eq!(thread("M5 x 0.8").unwrap(), thread("m5").unwrap());
        assert_eq!(thread("M8×1").unwrap().pitch_mm, 1.0);
        assert!(thread("1/4 in x 20").is_err() && thread("M5 x 9").is_err() && thread("M").is_err());
    }

    #[test]
    fn a_record_of_no_bolt_is_a_stranger_and_an_empty_document_has_no_bolts() {
        let mut build = Build::default();
        assert!(of(&build).list.is_empty());
        build.fasteners.entry("nobody".into()).or_default().note = Some("?".into());
        assert_eq!(of(&build).strangers, ["nobody"]);
    }
}
