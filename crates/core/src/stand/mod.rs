//! At the stand: the work of this very bike as steps in working order.
//!
//! A step is a line of a table, one file a phase of the work. It stands in a bike's list when the parts it works on are
//! fitted. It names the numbers to hit and to read, the tool, the compound and the caution; what disappears under it and
//! must be read before ([`Step::hides`]); and, before what cannot be undone, a [`Gate`].
//!
//! What the mechanics said of a step stands in the document ([`StepRecord`]); this room judges it and keeps nothing.
//! Steps, order and gates are common practice, no source; the order is custom and no law: a step may be done before another, unless a gate says otherwise.
//!
//! What is **not** here: how a step looks on a tablet, who may record it, and the torques, which
//! [`compute::fasteners`](crate::compute::fasteners) works out: a step only names its bolts.

mod bearings;
mod brakes;
mod cockpit;
mod dry_fit;
mod gate;
mod ordering;
mod preparation;
mod readings;
mod refusal;
mod release;
mod routing;
mod saddle;
mod tape;
mod torque;
mod transmission;
mod wheels;
mod wiring;

use crate::build::{Build, StepRecord, StepState};
use crate::choice;
use crate::finding::{About, capital};
use crate::model::{End, Model};
use crate::number::{Area, Number, Side, Sides};
use crate::part::{self, Places};
use crate::plan::Plan;

pub use gate::{Against, Gate, GateNow, Heeds, Stands};
pub use refusal::refuses;

choice! {
    /// A phase of the work, in working order.
    pub enum Phase {
        /// Before money is spent.
        Ordering = "ordering",
        /// Frame and fork, bare.
        Preparation = "frame preparation",
        /// What is pressed or set into the frame.
        Bearings = "bearings",
        /// Fork, steerer, post and cockpit together without cutting; then the cut.
        DryFit = "dry fit and cut",
        /// Hoses and wires through the frame.
        Routing = "routing",
        /// Wires plugged and proved.
        Wiring = "wiring",
        /// Hoses cut, calipers, bleeding.
        Brakes = "brakes",
        /// Cranks, derailleurs, chain.
        Transmission = "transmission",
        /// Tyres, rotors, axles.
        Wheels = "wheels",
        /// Bar, levers, computer.
        Cockpit = "cockpit",
        /// Bar tape.
        Tape = "tape",
        /// Post and saddle.
        Saddle = "saddle",
        /// The finished bike measured.
        Readings = "final readings",
        /// Every fastener once more, marked.
        Torque = "torque round",
        /// On the scale.
        Weighing = "weighing",
        /// Ridden, and corrected.
        TestRide = "test ride",
        /// Out of the door.
        Release = "release",
    }
}

/// What must be known before a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asks {
    /// A reading of this number, on each side that the step works on.
    Reading(&'static Number),
    /// A fact of each part of a kind at the step's place: the kind's key and the fact's.
    Fact(&'static str, &'static str),
}

/// Which bolts a step tightens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bolts {
    /// Those with these ids; a place that follows in the id (`lever-left`) is the step's side, or any.
    Named(&'static [&'static str]),
    /// Every bolt of the bike.
    All,
}

impl Bolts {
    fn has(self, id: &str, side: Side) -> bool {
        let Bolts::Named(names) = self else { return true };
        names.iter().any(|name| match id.strip_prefix(name) {
            Some("") => true,
            Some(place) => place.strip_prefix('-').is_some_and(|place| side == Side::None || place == side.word()),
            None => false,
        })
    }
}

/// A step of the work.
#[derive(Clone, Copy, Debug)]
pub struct Step {
    /// Words joined by hyphens; never used twice, never changed. On a step with sides, the side's word follows.
    pub id: &'static str,
    /// Where on the bike.
    pub area: Area,
    /// Once for the bike, or once a side.
    pub sides: Sides,
    /// What is done, as one would call it out.
    pub does: &'static str,
    /// How.
    pub how: &'static str,
    /// Tool or bit.
    pub tool: &'static str,
    /// What goes between; empty for nothing.
    pub compound: &'static str,
    /// What can go wrong and hurt; empty for nothing beyond the usual care.
    pub caution: &'static str,
    /// Whether this bike has this step.
    pub when: fn(&Bike<'_>) -> bool,
    /// The numbers to hit, and to read when it is done.
    pub reads: &'static [&'static Number],
    /// The bolts that it tightens.
    pub bolts: Bolts,
    /// What can no longer be read afterwards.
    pub hides: &'static [Asks],
    /// What must be so before it is done, because it cannot be undone.
    pub gate: Option<Gate>,
}

/// A step without anything but its words: the tables fill in the rest.
const PLAIN: Step = Step {
    id: "",
    area: Area::Finish,
    sides: Sides::One,
    does: "",
    how: "",
    tool: "",
    compound: "",
    caution: "",
    when: |_| true,
    reads: &[],
    bolts: Bolts::Named(&[]),
    hides: &[],
    gate: None,
};

/// A bike seen from a step: is a part there?
#[derive(Clone, Copy, Debug)]
pub struct Bike<'a> {
    /// The document with every part in its place.
    pub model: &'a Model<'a>,
    /// The side on which the step works.
    pub side: Side,
}

impl Bike<'_> {
    /// A part of this kind is fitted: at the step's side, where the kind stands on sides.
    fn has(&self, kind: &str) -> bool {
        !self.places(kind).is_empty()
    }

    /// The places at which a part of this kind is fitted, on the step's side where the kind stands on sides.
    fn places(&self, kind: &str) -> Vec<String> {
        let here = |place: &str| match (part::kind(kind).map(|kind| kind.places), self.side) {
            (Some(Places::LeftRight), Side::Left | Side::Right)
            | (Some(Places::FrontRear), Side::Front | Side::Rear) => place == self.side.word(),
            _ => true,
        };
        let each = self.model.build.parts.each();
        let of_kind = each.into_iter().filter(|(found, place, _)| found.key == kind && here(place));
        of_kind.map(|(_, place, _)| place.to_owned()).collect()
    }

    /// What stands at the step's wheel.
    fn end(&self) -> Option<&End<'_>> {
        self.model.ends.iter().find(|end| end.side == self.side)
    }
}

/// Every step with its phase, in working order.
pub fn all() -> impl Iterator<Item = (Phase, &'static Step)> {
    let tables: [(Phase, &'static [Step]); 17] = [
        (Phase::Ordering, ordering::STEPS),
        (Phase::Preparation, preparation::STEPS),
        (Phase::Bearings, bearings::STEPS),
        (Phase::DryFit, dry_fit::STEPS),
        (Phase::Routing, routing::STEPS),
        (Phase::Wiring, wiring::STEPS),
        (Phase::Brakes, brakes::STEPS),
        (Phase::Transmission, transmission::STEPS),
        (Phase::Wheels, wheels::STEPS),
        (Phase::Cockpit, cockpit::STEPS),
        (Phase::Tape, tape::STEPS),
        (Phase::Saddle, saddle::STEPS),
        (Phase::Readings, readings::STEPS),
        (Phase::Torque, torque::STEPS),
        (Phase::Weighing, readings::WEIGHING),
        (Phase::TestRide, release::TEST_RIDE),
        (Phase::Release, release::STEPS),
    ];
    tables.into_iter().flat_map(|(phase, steps)| steps.iter().map(move |step| (phase, step)))
}

/// A step of this bike.
#[derive(Clone, Debug)]
pub struct StepNow {
    /// Under which it stands in the document: the id, and the side's word.
    pub key: String,
    /// The step.
    pub step: &'static Step,
    /// Its phase.
    pub phase: Phase,
    /// On which side.
    pub side: Side,
    /// What is done, with its side: "Left: set the lever".
    pub does: String,
    /// The numbers to hit, each with the side on which it is read.
    pub reads: Vec<(&'static Number, Side)>,
    /// The ids of the bolts that it tightens.
    pub bolts: Vec<String>,
    /// What was said of it.
    pub record: StepRecord,
    /// What it hides: the numbers and facts that can no longer be read afterwards.
    pub hides: Vec<About>,
    /// Those of them that nobody has read or noted yet.
    pub first: Vec<Against>,
    /// How its gate stands.
    pub gate: Option<GateNow>,
}

impl StepNow {
    /// How it stands; `None` when nobody has touched it.
    pub fn state(&self) -> Option<StepState> {
        self.record.state.as_ref().map(|given| given.value)
    }

    /// Nothing is left to do: it is done, or it was said why it cannot be.
    pub fn is_over(&self) -> bool {
        match self.state() {
            Some(StepState::Done) => true,
            Some(StepState::Cannot) => self.record.reason.is_some(),
            Some(StepState::Open) | None => false,
        }
    }
}

/// The work of a bike.
#[derive(Clone, Debug)]
pub struct Work {
    /// Its steps, in working order.
    pub steps: Vec<StepNow>,
    /// Records under names that no step of this bike has: its parts have changed, or the name is a slip.
    pub strays: Vec<String>,
}

impl Work {
    /// The step with this key.
    pub fn step(&self, key: &str) -> Option<&StepNow> {
        self.steps.iter().find(|step| step.key == key)
    }

    /// The first step that is not over.
    pub fn next(&self) -> Option<&StepNow> {
        self.steps.iter().find(|step| !step.is_over())
    }

    /// How many are over, and how many there are.
    pub fn over(&self) -> (usize, usize) {
        (self.steps.iter().filter(|step| step.is_over()).count(), self.steps.len())
    }
}

/// The work of this build, under its plan.
pub fn stand(build: &Build, plan: &Plan) -> Work {
    let model = Model::new(build);
    let mut steps: Vec<StepNow> = Vec::new();
    for (phase, step) in all() {
        for side in step.sides.each() {
            let bike = Bike { model: &model, side: *side };
            if (step.when)(&bike) {
                let now = step_now(&bike, plan, phase, step, &steps);
                steps.push(now);
            }
        }
    }
    let is_step = |key: &&String| !steps.iter().any(|step| step.key == **key);
    let strays = build.steps.keys().filter(is_step).cloned().collect();
    Work { steps, strays }
}

fn step_now(bike: &Bike<'_>, plan: &Plan, phase: Phase, step: &'static Step, before: &[StepNow]) -> StepNow {
    let key = key(step, bike.side);
    let record = bike.model.build.steps.get(&key).cloned().unwrap_or_default();
    let reads = step.reads.iter().flat_map(|number| sides_at(number, bike.side).map(|side| (*number, side))).collect();
    let fasteners = &plan.worked.fasteners.list;
    let own = fasteners.iter().filter(|bolt| step.bolts.has(&bolt.id, bike.side));
    let bolts = own.map(|bolt| bolt.id.clone()).collect();
    let first = step.hides.iter().flat_map(|asks| gate::not_kept(bike, plan, *asks)).collect();
    let hides = step.hides.iter().flat_map(|asks| about_each(bike, *asks)).collect();
    let gate = step.gate.map(|gate| gate::stands(bike, plan, gate, &record, before));
    let does = match bike.side {
        Side::None => step.does.to_owned(),
        side => format!("{}: {}", capital(side.word()), small(step.does)),
    };
    StepNow { key, step, phase, side: bike.side, does, reads, bolts, record, hides, first, gate }
}

/// A step's name in the document: `cut-steerer`, `set-lever-left`.
pub fn key(step: &Step, side: Side) -> String {
    match side {
        Side::None => step.id.to_owned(),
        side => format!("{}-{}", step.id, side.word()),
    }
}

/// The sides on which a number is read by a step on this side: the step's own where the number has it, else all.
fn sides_at(number: &'static Number, side: Side) -> impl Iterator<Item = Side> {
    let each = number.sides.each();
    let own = each.contains(&side);
    each.iter().copied().filter(move |one| !own || *one == side)
}

fn small(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// What a thing to be asked points at.
fn about(bike: &Bike<'_>, asks: Asks, side: Side) -> Vec<About> {
    match asks {
        Asks::Reading(number) => vec![About::number(number, side)],
        Asks::Fact(kind, fact) => {
            let at = |place: &String| About::Field(format!("{}.{fact}", crate::build::part_path("parts", kind, place)));
            bike.places(kind).iter().map(at).collect()
        }
    }
}

/// The same on each of the step's sides.
fn about_each(bike: &Bike<'_>, asks: Asks) -> Vec<About> {
    match asks {
        Asks::Reading(number) => sides_at(number, bike.side).flat_map(|side| about(bike, asks, side)).collect(),
        Asks::Fact(..) => about(bike, asks, Side::None),
    }
}

#[cfg(test)]
mod tests;
