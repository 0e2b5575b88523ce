//! What would fit at a place of the bike: candidates held against their neighbours.
//!
//! The checks themselves judge. A verdict is what they say of the build with the candidate in its place: every check that is
//! decided by the facts of parts alone ([`Check::between`]) and looks at the candidate's kind. What they say without it (of
//! other parts) is not held against it; nor is a question that waits for a part which is not listed, or for one at the other
//! wheel. A question that waits for a fact of the candidate itself always counts.
//!
//! Candidates are many, and the facts in which a check tells them apart are few. [`Candidates`] groups them, for each check,
//! by the facts that the check reads; then each check judges one candidate of each group, and every candidate takes its
//! groups' verdicts. That this is the same as trying each one is tested on random builds and catalogues. Which facts a check
//! reads is read off its own file: those that it names. A test changes every fact that a check does not name, and the check
//! must not notice.

use crate::build::{Build, part_path};
use crate::catalogue::Entry;
use crate::check::{self, Case, Check, judge};
use crate::compute;
use crate::field::{Leaf, Value};
use crate::finding::{Finding, Severity};
use crate::model::Model;
use crate::part::{COMMON_FACTS, PartKind, Parts, Places};
use std::collections::HashMap;

/// A place on the bike: a kind of part, and which one of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// The kind of part.
    pub kind: &'static PartKind,
    /// `front`, `left`; a name of its own for a kind with many places; empty for a kind with one.
    pub place: String,
}

impl Spot {
    /// The place that a path leads to: `stem`, `tyre.front`, `parts.tyre.front`. `None` where there is no such place.
    pub fn from_path(path: &str) -> Option<Spot> {
        let path = path.strip_prefix("parts.").unwrap_or(path);
        let (key, place) = path.split_once('.').unwrap_or((path, ""));
        let kind = crate::part::kind(key)?;
        let exists = match kind.places {
            Places::One => place.is_empty(),
            Places::FrontRear | Places::LeftRight => kind.places.names().contains(&place),
            Places::Many => crate::part::is_name(place),
        };
        exists.then(|| Spot { kind, place: place.to_owned() })
    }

    /// Its path: `parts.tyre.front`.
    pub fn path(&self) -> String {
        part_path("parts", self.kind.key, &self.place)
    }

    /// As a mechanic says it: "front tyre".
    pub fn words(&self) -> String {
        let kind = self.kind.key.replace('_', " ");
        match (self.kind.places, self.place.as_str()) {
            (_, "") => kind,
            (Places::Many, name) => format!("{kind} “{name}”"),
            (_, place) => format!("{place} {kind}"),
        }
    }
}

/// What the checks say of a candidate. The number leads to [`Fitting::reasons`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It fits every neighbour.
    Fits,
    /// It fits, and a caution goes with it.
    FitsWith(u32),
    /// It cannot be judged: facts are not known.
    NotKnown(u32),
    /// It does not fit.
    DoesNotFit(u32),
}

impl Verdict {
    fn rank(self) -> u8 {
        match self {
            Verdict::Fits => 0,
            Verdict::FitsWith(_) => 1,
            Verdict::NotKnown(_) => 2,
            Verdict::DoesNotFit(_) => 3,
        }
    }
}

/// What would fit at a place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fitting {
    /// The verdict on each candidate, in their order: the first reason against it, else the first question, else the first
    /// caution, as the checks stand in their list.
    pub verdicts: Vec<Verdict>,
    /// What the checks found, each said once for all candidates that it holds for.
    pub reasons: Vec<Finding>,
}

impl Fitting {
    /// The finding behind a verdict.
    pub fn reason(&self, verdict: Verdict) -> Option<&Finding> {
        match verdict {
            Verdict::Fits => None,
            Verdict::FitsWith(at) | Verdict::NotKnown(at) | Verdict::DoesNotFit(at) => self.reasons.get(at as usize),
        }
    }
}

/// Candidates of one kind that are alike to a check.
#[derive(Clone, Debug)]
pub(super) struct Grouping {
    pub(super) check: &'static Check,
    /// The facts that the check reads.
    read: Vec<usize>,
    /// The group of each candidate.
    pub(super) of: Vec<u32>,
    /// A candidate of each group.
    pub(super) first: Vec<usize>,
}

impl Grouping {
    /// Which groups have a candidate that is so.
    fn with_one_that(&self, is: impl Fn(usize) -> bool) -> Vec<bool> {
        let mut any = vec![false; self.first.len()];
        for (candidate, group) in self.of.iter().enumerate() {
            any[*group as usize] |= is(candidate);
        }
        any
    }
}

/// Candidates of one kind, ready to be judged at any place of any build.
#[derive(Clone, Debug)]
pub struct Candidates {
    kind: &'static PartKind,
    parts: Vec<Entry>,
    groupings: Vec<Grouping>,
}

impl Candidates {
    /// Makes ready the parts of this kind; parts of another kind are left out.
    pub fn new(kind: &'static PartKind, parts: impl IntoIterator<Item = Entry>) -> Self {
        let parts: Vec<Entry> = parts.into_iter().filter(|part| part.kind.key == kind.key).collect();
        let mut columns: HashMap<usize, Vec<u32>> = HashMap::new();
        let groupings = judges(kind)
            .map(|check| {
                let mut groups = Groups::all_alike(parts.len());
                let read = read_by(check, kind);
                for index in &read {
                    groups.split_by(columns.entry(*index).or_insert_with(|| column(&parts, *index)));
                }
                Grouping { check, read, first: groups.first(), of: groups.of }
            })
            .collect();
        Candidates { kind, parts, groupings }
    }

    /// Their kind.
    pub fn kind(&self) -> &'static PartKind {
        self.kind
    }

    /// The parts, in the order of the verdicts.
    pub fn parts(&self) -> &[Entry] {
        &self.parts
    }

    /// How many times a check is asked to judge them all.
    pub fn judgements(&self) -> usize {
        self.groupings.iter().map(|grouping| grouping.first.len()).sum()
    }

    pub(super) fn groupings(&self) -> &[Grouping] {
        &self.groupings
    }
}

/// The checks that judge a part of this kind by its neighbours.
pub(super) fn judges(kind: &PartKind) -> impl Iterator<Item = &'static Check> {
    check::ALL.iter().filter(move |check| check.between.contains(&kind.key))
}

/// The facts of a kind that a check may read: its own that the check's file names, by the name or the key; and the common
/// ones (price, condition …), whose names are everyday words, where the file takes them from a part.
pub(super) fn read_by(check: &Check, kind: &PartKind) -> Vec<usize> {
    let is_letter = |c: char| c.is_alphanumeric() || c == '_';
    // What follows are examples, which fill facts in and read none.
    let text = check.text.split_once("pub fn fits(").map_or(check.text, |(text, _)| text);
    let named = |word: &str, of_a_part: bool| {
        text.match_indices(word).any(|(at, _)| {
            let (before, after) = (&text[..at], &text[at + word.len()..]);
            let whole = !before.ends_with(is_letter) && !after.starts_with(is_letter);
            whole && (!of_a_part || is_taken(before, after))
        })
    };
    let fields = kind.fields.iter().enumerate();
    let read = fields.filter(|(index, field)| {
        let common = *index < COMMON_FACTS;
        named(field.name, common) || (!common && named(field.key(), false))
    });
    read.map(|(index, _)| index).collect()
}

/// Whether a word between these is a fact taken from a part: `part.condition`, or `fact!(part, condition)`.
fn is_taken(before: &str, after: &str) -> bool {
    let of_a_field = before.ends_with('.') && !after.starts_with('(');
    let call = before.rsplit_once("fact!(").map_or("", |(_, call)| call);
    of_a_field || (before.trim_end().ends_with(',') && !call.is_empty() && !call.contains(')'))
}

/// A fact of every candidate as a small number: the same number for the same value.
fn column(parts: &[Entry], index: usize) -> Vec<u32> {
    let mut numbers: HashMap<Vec<u8>, u32> = HashMap::new();
    let mut key = Vec::new();
    parts
        .iter()
        .map(|part| {
            key.clear();
            write_key(part.fact(index), &mut key);
            if let Some(number) = numbers.get(&key) {
                return *number;
            }
            let number = small(numbers.len());
            numbers.insert(key.clone(), number);
            number
        })
        .collect()
}

/// The value as bytes, different for different values.
fn write_key(leaf: Option<&Leaf>, key: &mut Vec<u8>) {
    let Some(leaf) = leaf else { return };
    match &leaf.value {
        Value::Number(value) => {
            key.push(1);
            key.extend(value.to_bits().to_le_bytes());
        }
        Value::Count(value) => {
            key.push(2);
            key.extend(value.to_le_bytes());
        }
        Value::Numbers(values) => {
            key.push(3);
            key.extend(values.iter().flat_map(|value| value.to_bits().to_le_bytes()));
        }
        Value::Counts(values) => {
            key.push(4);
            key.extend(values.iter().flat_map(|value| value.to_le_bytes()));
        }
        Value::Day(day) => {
            key.push(5);
            key.extend(day.to_string().bytes());
        }
        Value::YesNo(value) => key.extend([6, u8::from(*value)]),
        Value::Text(text) => {
            key.push(7);
            key.extend(text.bytes());
        }
    }
}

/// Candidates in groups, split by one fact after the other.
struct Groups {
    of: Vec<u32>,
    count: usize,
}

impl Groups {
    fn all_alike(candidates: usize) -> Self {
        Groups { of: vec![0; candidates], count: candidates.min(1) }
    }

    fn split_by(&mut self, column: &[u32]) {
        let mut numbers: HashMap<(u32, u32), u32> = HashMap::with_capacity(self.count);
        for (group, value) in self.of.iter_mut().zip(column) {
            let next = small(numbers.len());
            *group = *numbers.entry((*group, *value)).or_insert(next);
        }
        self.count = numbers.len();
    }

    /// The first candidate of each group.
    fn first(&self) -> Vec<usize> {
        let mut first = vec![usize::MAX; self.count];
        for (candidate, group) in self.of.iter().enumerate().rev() {
            first[*group as usize] = candidate;
        }
        first
    }
}

/// A count that is known to be small: no catalogue holds four thousand million parts.
pub(super) fn small(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// What would fit at a place: the verdict on each candidate, in their order.
pub fn fitting(build: &Build, place: &str, candidates: &Candidates) -> Fitting {
    let spot = Spot { kind: candidates.kind, place: place.to_owned() };
    let mut trial = build.clone();
    empty(&mut trial.parts, &spot);
    let mut bench = Bench::new(trial);
    let mut fitting = Fitting { verdicts: vec![Verdict::Fits; candidates.parts.len()], reasons: Vec::new() };
    for grouping in &candidates.groupings {
        let without = bench.findings(grouping.check);
        let open = grouping.with_one_that(|candidate| !matches!(fitting.verdicts[candidate], Verdict::DoesNotFit(_)));
        put_first(&mut bench.build.parts, &spot, candidates, grouping);
        let mut verdicts = Vec::with_capacity(grouping.first.len());
        for (candidate, open) in grouping.first.iter().zip(open) {
            // Whom an earlier check rules out keeps its first reason.
            if !open {
                verdicts.push(Verdict::Fits);
                continue;
            }
            let part = &candidates.parts[*candidate];
            put_facts(&mut bench.build.parts, &spot, part, grouping.read.iter().copied());
            let findings = bench.findings(grouping.check);
            verdicts.push(verdict(&bench.build, &spot, findings, &without, &mut fitting.reasons));
        }
        empty(&mut bench.build.parts, &spot);
        if verdicts.iter().all(|verdict| *verdict == Verdict::Fits) {
            continue;
        }
        for (kept, group) in fitting.verdicts.iter_mut().zip(&grouping.of) {
            let verdict = verdicts[*group as usize];
            if verdict.rank() > kept.rank() {
                *kept = verdict;
            }
        }
    }
    fitting
}

/// Puts the first candidate in with all its facts; after it, only what the check reads is changed.
fn put_first(parts: &mut Parts, spot: &Spot, candidates: &Candidates, grouping: &Grouping) {
    if let Some(candidate) = grouping.first.first() {
        put(parts, spot, &candidates.parts[*candidate]);
    }
}

/// A build on which checks are tried. What is worked out stays that of the start: no check that is asked here looks at it.
pub(super) struct Bench {
    pub(super) build: Build,
    worked: compute::Worked,
    numbers: compute::Numbers,
}

impl Bench {
    pub(super) fn new(build: Build) -> Self {
        let model = Model::new(&build);
        let worked = compute::work_out(&model);
        let numbers = compute::numbers(&model, &worked);
        Bench { build, worked, numbers }
    }

    /// What a check finds in the build as it stands.
    pub(super) fn findings(&self, check: &Check) -> Vec<Finding> {
        let model = Model::new(&self.build);
        judge(check, &Case { model: &model, worked: &self.worked, numbers: &self.numbers })
    }
}

/// Puts a part in a place, whatever stood there.
pub(super) fn put(parts: &mut Parts, spot: &Spot, part: &Entry) {
    put_facts(parts, spot, part, 0..spot.kind.fields.len());
}

fn put_facts(parts: &mut Parts, spot: &Spot, part: &Entry, facts: impl Iterator<Item = usize>) {
    let Some(record) = parts.record_mut(spot.kind.key, &spot.place) else { return };
    for index in facts {
        // The part is of the place's kind, so that every fact has the kind of its field.
        let _ = record.put(index, part.fact(index).cloned());
    }
}

/// Takes away what stands in a place.
pub(super) fn empty(parts: &mut Parts, spot: &Spot) {
    put(parts, spot, &Entry::new(spot.kind, ""));
    parts.drop_if_empty(spot.kind.key, &spot.place);
}

/// What a check's findings mean for the part at a place, beside those that it has without that part.
pub(super) fn verdict(
    build: &Build,
    spot: &Spot,
    findings: Vec<Finding>,
    without: &[Finding],
    reasons: &mut Vec<Finding>,
) -> Verdict {
    let mut worst: Option<(Verdict, Finding)> = None;
    for finding in findings {
        // The same question is there without the candidate, whose facts are lacking then too.
        if without.contains(&finding) && !(finding.not_known && asks_of(spot, &finding)) {
            continue;
        }
        let verdict = match finding.severity {
            Severity::Note => continue,
            _ if finding.not_known && !bears_on(build, spot, &finding) => continue,
            _ if finding.not_known => Verdict::NotKnown(0),
            Severity::Stop => Verdict::DoesNotFit(0),
            Severity::Caution => Verdict::FitsWith(0),
        };
        if worst.as_ref().is_none_or(|(other, _)| verdict.rank() > other.rank()) {
            worst = Some((verdict, finding));
        }
    }
    let Some((verdict, finding)) = worst else { return Verdict::Fits };
    let at = small(reasons.len());
    reasons.push(finding);
    match verdict {
        Verdict::Fits => Verdict::Fits,
        Verdict::FitsWith(_) => Verdict::FitsWith(at),
        Verdict::NotKnown(_) => Verdict::NotKnown(at),
        Verdict::DoesNotFit(_) => Verdict::DoesNotFit(at),
    }
}

/// Whether a question waits for a fact of the part at this place.
fn asks_of(spot: &Spot, finding: &Finding) -> bool {
    let path = spot.path();
    finding.about.iter().any(|about| about.address().strip_prefix(&path).is_some_and(|rest| rest.starts_with('.')))
}

/// Whether a question is one of this place and its neighbours: not where all that is lacking are facts of parts that are not
/// listed, so that there is no neighbour yet, or of parts at the other wheel. Facts that contradict each other, and so name
/// no path, are of every place.
fn bears_on(build: &Build, spot: &Spot, finding: &Finding) -> bool {
    let other_wheel = match spot.place.as_str() {
        _ if spot.kind.places != Places::FrontRear => None,
        "front" => Some("rear"),
        _ => Some("front"),
    };
    let concerns = |path: &str| {
        let keys: Vec<&str> = path.split('.').collect();
        let ["parts", key, place @ ..] = keys.as_slice() else { return true };
        let Some(kind) = crate::part::kind(key) else { return true };
        let place = if kind.places == Places::One { "" } else { place.first().copied().unwrap_or_default() };
        let at_other_wheel = kind.places == Places::FrontRear && Some(place) == other_wheel;
        build.parts.record(key, place).is_some() && !at_other_wheel
    };
    finding.about.is_empty() || finding.about.iter().any(|about| concerns(&about.address()))
}
