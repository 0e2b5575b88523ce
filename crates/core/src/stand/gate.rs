//! The gate before what cannot be undone: what must be recorded, agree and be finished before a saw or a press moves.
//!
//! A gate opens by a person's hand, with a name. It may be opened although something speaks against it; then the person
//! says why, and what spoke against it is shown again at the release.

use super::{Asks, Bike, StepNow, about, sides_at};
use crate::build::{FastenerState, StepRecord, StepState};
use crate::compute::Fastener;
use crate::finding::{About, Finding, Severity, capital, with_unit};
use crate::model::in_words;
use crate::number::{Number, Side};
use crate::plan::Plan;

/// Which findings hold a gate shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Heeds {
    /// Those about parts of these kinds, or about a number that the gate asks for.
    Parts(&'static [&'static str]),
    /// All.
    Everything,
}

/// What must be so before a step that cannot be undone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gate {
    /// What cannot be undone: "cutting the steerer".
    pub protects: &'static str,
    /// What must be recorded; of a number, the planned and the measured value must agree within its tolerance.
    pub asks: &'static [Asks],
    /// The steps that must be over, by id.
    pub after: &'static [&'static str],
    /// The stops that hold it shut.
    pub heeds: Heeds,
    /// What is not known of these parts holds it shut too.
    pub knows: bool,
    /// Every step before it must be over, and none may stand open.
    pub last: bool,
}

/// A gate that asks for nothing: the tables fill in what it protects.
pub(super) const GATE: Gate =
    Gate { protects: "", asks: &[], after: &[], heeds: Heeds::Parts(&[]), knows: false, last: false };

/// Something that speaks against a step.
#[derive(Clone, Debug, PartialEq)]
pub struct Against {
    /// A sentence.
    pub says: String,
    /// Where to look.
    pub about: Vec<About>,
    /// The check that found it, where it is a finding.
    pub check: Option<&'static str>,
}

impl Against {
    fn new(says: impl Into<String>, about: Vec<About>) -> Self {
        Against { says: says.into(), about, check: None }
    }
}

/// How a gate stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// Something speaks against it, and nobody has opened it.
    Shut,
    /// Nothing speaks against it; a person may open it.
    Ready,
    /// A person opened it, and nothing speaks against it.
    Opened,
    /// A person opened it although something speaks against it, and said why.
    OpenedAgainst,
    /// A person opened it without a reason, and something speaks against it: it was found later, or passed over.
    OpenedInDoubt,
    /// The step is said to be done, and nobody opened the gate.
    PassedBy,
}

/// The gate of a step of this bike.
#[derive(Clone, Debug, PartialEq)]
pub struct GateNow {
    /// The gate.
    pub gate: Gate,
    /// How it stands.
    pub stands: Stands,
    /// What speaks against it now.
    pub against: Vec<Against>,
}

/// How a gate stands, after the steps before it.
pub(super) fn stands(bike: &Bike<'_>, plan: &Plan, gate: Gate, record: &StepRecord, before: &[StepNow]) -> GateNow {
    let mut against: Vec<Against> = gate.asks.iter().flat_map(|asks| not_agreed(bike, plan, *asks)).collect();
    against.extend(before.iter().filter(|step| holds(gate, bike.side, step)).map(not_over));
    if gate.last {
        against.extend(before.iter().filter_map(doubtful));
        against.extend(before.iter().filter(|step| step.is_over()).flat_map(|step| step.first.clone()));
        against.extend(plan.worked.fasteners.list.iter().filter_map(not_closed));
    }
    against.extend(plan.findings.iter().filter(|finding| heeds(gate, finding)).map(finding_against));
    let mut once: Vec<Against> = Vec::new();
    for one in against {
        if !once.contains(&one) {
            once.push(one);
        }
    }
    let done = record.state.as_ref().is_some_and(|given| given.value == StepState::Done);
    let stands = match (record.opened_by.is_some(), once.is_empty(), record.opened_against.is_some()) {
        (true, true, _) => Stands::Opened,
        (true, false, true) => Stands::OpenedAgainst,
        (true, false, false) => Stands::OpenedInDoubt,
        (false, ..) if done => Stands::PassedBy,
        (false, true, _) => Stands::Ready,
        (false, false, _) => Stands::Shut,
    };
    GateNow { gate, stands, against: once }
}

/// A step that must be over first and is not.
fn holds(gate: Gate, side: Side, step: &StepNow) -> bool {
    let same_side = step.side == Side::None || side == Side::None || step.side == side;
    let named = gate.after.contains(&step.step.id) && same_side;
    (named || gate.last) && !step.is_over()
}

fn not_over(step: &StepNow) -> Against {
    let says = match step.state() {
        Some(StepState::Open) => format!("Begun and not finished: {}", step.does),
        Some(StepState::Cannot) => format!("It is not said why it cannot be done: {}", step.does),
        Some(StepState::Done) | None => format!("Not done yet: {}", step.does),
    };
    Against::new(says, vec![About::Field(format!("steps.{}.state", step.key))])
}

/// A gate further up that was passed by or opened in doubt.
fn doubtful(step: &StepNow) -> Option<Against> {
    let gate = step.gate.as_ref()?;
    let protects = gate.gate.protects;
    let at = |field: &str| vec![About::Field(format!("steps.{}.{field}", step.key))];
    match gate.stands {
        Stands::PassedBy => {
            Some(Against::new(format!("The gate before {protects} was never opened by anybody."), at("opened_by")))
        }
        Stands::OpenedInDoubt => Some(Against::new(
            format!("Something speaks against {protects}, and no reason stands beside it."),
            at("opened_against"),
        )),
        Stands::Shut | Stands::Ready | Stands::Opened | Stands::OpenedAgainst => None,
    }
}

/// A bolt that is not all the way on: closed at a torque that is written down, with a line across it.
fn not_closed(bolt: &Fastener) -> Option<Against> {
    let (says, field) = match bolt.state() {
        Some(FastenerState::Open) => ("is begun and not tightened", "state"),
        None => ("is not said to be tightened", "state"),
        Some(FastenerState::Closed) if bolt.applied_nm().is_none() => ("has no torque written down", "applied"),
        Some(FastenerState::Closed) if bolt.witness() != Some(true) => ("has no line painted across it", "witness"),
        Some(FastenerState::Closed) => return None,
    };
    Some(Against::new(
        format!("{} {says}.", capital(&bolt.name)),
        vec![About::Field(format!("{}.{field}", bolt.path()))],
    ))
}

fn heeds(gate: Gate, finding: &Finding) -> bool {
    let weighs = finding.severity == Severity::Stop && !finding.not_known || gate.knows && finding.not_known;
    weighs
        && match gate.heeds {
            Heeds::Everything => true,
            Heeds::Parts(kinds) => finding.about.iter().any(|about| is_of(about, kinds, gate.asks)),
        }
}

fn is_of(about: &About, kinds: &[&str], asks: &[Asks]) -> bool {
    match about {
        About::Number(id, _) => asks.iter().any(|asks| matches!(asks, Asks::Reading(number) if number.id == *id)),
        About::Part(path) | About::Field(path) => {
            let kind = path.strip_prefix("parts.").and_then(|rest| rest.split('.').next());
            kind.is_some_and(|kind| kinds.contains(&kind))
        }
    }
}

fn finding_against(finding: &Finding) -> Against {
    Against { says: finding.what.clone(), about: finding.about.clone(), check: Some(finding.check) }
}

/// What is asked and not recorded, or recorded and not as planned.
fn not_agreed(bike: &Bike<'_>, plan: &Plan, asks: Asks) -> Vec<Against> {
    let missing = not_kept(bike, plan, asks);
    let Asks::Reading(number) = asks else { return missing };
    if !missing.is_empty() {
        return missing;
    }
    sides_at(number, bike.side).filter_map(|side| off_plan(plan, number, side)).collect()
}

/// What is not recorded: a reading that was not taken, a fact that is not known.
pub(super) fn not_kept(bike: &Bike<'_>, plan: &Plan, asks: Asks) -> Vec<Against> {
    match asks {
        Asks::Reading(number) => sides_at(number, bike.side)
            .filter(|side| plan.numbers.of(number, *side).is_none_or(|line| line.measured.is_none()))
            .map(|side| Against::new(format!("Not read yet: {}.", named(number, side)), about(bike, asks, side)))
            .collect(),
        Asks::Fact(..) => about(bike, asks, Side::None)
            .into_iter()
            .filter(|about| !matches!(bike.model.build.get(&about.address()), Ok(Some(_))))
            .map(|about| Against::new(format!("Not noted yet: {}.", in_words(&about.address())), vec![about]))
            .collect(),
    }
}

/// A reading that is not as planned, or for which there is no plan.
fn off_plan(plan: &Plan, number: &'static Number, side: Side) -> Option<Against> {
    let line = plan.numbers.of(number, side)?;
    let read = line.measured.as_ref()?.value;
    let at = vec![About::number(number, side)];
    let name = named(number, side);
    let planned = match &line.planned {
        Ok(planned) => *planned,
        Err(missing) => return Some(Against::new(format!("{name} is read, and has no plan: {missing}."), at)),
    };
    let in_unit = |value: f64| with_unit(number.kind, value);
    let off = (read - planned).abs();
    // A reading exactly on its tolerance is within it.
    if off <= line.tolerance + 1e-9 {
        return None;
    }
    let says = format!(
        "{name}: planned {}, read {}; {} apart where {} is allowed.",
        in_unit(planned),
        in_unit(read),
        in_unit(off),
        in_unit(line.tolerance)
    );
    Some(Against::new(says, at))
}

/// A number with its side, as it begins a sentence.
fn named(number: &Number, side: Side) -> String {
    match side {
        Side::None => number.name.to_owned(),
        side => format!("{} {}", side.word(), number.name),
    }
}
