//! What would fit, for a hundred thousand candidates; and the exact choice of a list beside OR-tools CP-SAT.
//!
//! Run by `cargo xtask bench`. *Cold* is making a catalogue's parts of one kind ready, once a catalogue; *warm* is judging
//! all of them at a place of a build. CP-SAT is timed by its own wall time, without the making of its model; ours from the
//! puzzle to the answer, bits and tables included. Both must find the same optimum.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    clippy::cast_precision_loss,
    reason = "a benchmark stops where it fails and prints what it measured"
)]

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::io::Write as _;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use witnessmark_core::Build;
use witnessmark_core::build::sample::sample;
use witnessmark_core::catalogue::Entry;
use witnessmark_core::check;
use witnessmark_core::field::{Given, Value};
use witnessmark_core::part::{self, PartKind};
use witnessmark_core::search::complete::{Order, complete};
use witnessmark_core::search::complete_exact::{Effort, Limits, Quantity, Wanted};
use witnessmark_core::search::complete_sample::{Dice, Draw, puzzle};
use witnessmark_core::search::fitting::{Candidates, Verdict, fitting};

const ROUNDS: usize = 5;
const PARTS: usize = 100_000;

fn best<T>(run: impl FnMut() -> T) -> (Duration, T) {
    best_of(ROUNDS, run)
}

fn best_of<T>(rounds: usize, mut run: impl FnMut() -> T) -> (Duration, T) {
    let mut shortest = Duration::MAX;
    let mut last = None;
    for _ in 0..rounds {
        let start = Instant::now();
        let value = run();
        shortest = shortest.min(start.elapsed());
        last = Some(value);
    }
    (shortest, last.unwrap())
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}

/// Every part of this kind in the examples of the checks.
fn pool(kind: &'static PartKind) -> Vec<Entry> {
    let changes = check::ALL.iter().flat_map(|check| [Some(check.fits), Some(check.does_not_fit), check.not_known]);
    let mut pool: Vec<Entry> = Vec::new();
    for change in changes.flatten() {
        let mut build = sample();
        change(&mut build);
        for (of, _, record) in build.parts.each() {
            let part = Entry::of(of, record);
            if of.key == kind.key && !pool.contains(&part) {
                pool.push(part);
            }
        }
    }
    pool
}

/// Parts with facts as they occur, each with one fact of another: names, prices and masses all different.
fn plausible(kind: &'static PartKind, count: usize, dice: &mut Dice) -> Vec<Entry> {
    let pool = pool(kind);
    let one = |number: usize| {
        let mut part = pool[dice.below(pool.len())].clone();
        part.id = format!("p{number}");
        for (index, field) in kind.fields.iter().enumerate() {
            let other = &pool[dice.below(pool.len())];
            match field.name {
                "name" => part.put(index, Some(Given::from(part.id.as_str()).to_leaf())),
                "price" => part.put(index, Some(Given::from(10.0 + dice.below(40_000) as f64 / 100.0).to_leaf())),
                "mass_g" => part.put(index, Some(Given::from(50.0 + dice.below(9_000) as f64 / 10.0).to_leaf())),
                _ if dice.below(6) == 0 => part.put(index, other.fact(index).cloned()),
                _ => {}
            }
        }
        part
    };
    (0..count).map(one).collect()
}

/// The same with every figure of every part different from that of every other.
fn all_different(mut parts: Vec<Entry>) -> Vec<Entry> {
    for (number, part) in parts.iter_mut().enumerate() {
        let facts: Vec<(usize, Given<Value>)> = part.facts().map(|(index, leaf)| (index, leaf.clone())).collect();
        for (index, mut leaf) in facts {
            if let Value::Number(value) = &mut leaf.value {
                *value += number as f64 * 1e-6;
                part.put(index, Some(leaf));
            }
        }
    }
    parts
}

fn judge(build: &Build, what: &str, rounds: usize, kind: &'static PartKind, place: &str, parts: Vec<Entry>) {
    let count = parts.len();
    let start = Instant::now();
    let candidates = Candidates::new(kind, parts);
    let cold = start.elapsed();
    let (warm, found) = best_of(rounds, || fitting(build, place, &candidates));
    let of = |is: fn(&Verdict) -> bool| found.verdicts.iter().filter(|verdict| is(verdict)).count();
    println!(
        "{what:<14} {:<15} {count} parts: cold {:>6.0} ms, warm {:>7.2} ms, {:>6} judgements; {} fit, {} not known, {} do not",
        kind.key,
        ms(cold),
        ms(warm),
        candidates.judgements(),
        of(|verdict| matches!(verdict, Verdict::Fits | Verdict::FitsWith(_))),
        of(|verdict| matches!(verdict, Verdict::NotKnown(_))),
        of(|verdict| matches!(verdict, Verdict::DoesNotFit(_))),
    );
}

/// A catalogue of all kinds, judged at a place of a bike for each.
fn whole_catalogue(build: &Build) {
    let mut dice = Dice(8);
    // A kind of which no example has a part is not judged by anything either.
    let kinds: Vec<&'static PartKind> = part::KINDS.iter().filter(|kind| !pool(kind).is_empty()).collect();
    let each: Vec<Vec<Entry>> = kinds.iter().map(|kind| plausible(kind, PARTS / kinds.len(), &mut dice)).collect();
    let start = Instant::now();
    let ready: Vec<Candidates> = kinds.iter().zip(each).map(|(kind, parts)| Candidates::new(kind, parts)).collect();
    let cold = start.elapsed();
    let (warm, judged) = best(|| {
        let each = ready.iter().map(|candidates| {
            let place = candidates.kind().places.names().last().copied().unwrap_or_default();
            let place = if candidates.kind().places == part::Places::Many { "one" } else { place };
            fitting(build, place, candidates).verdicts.len()
        });
        each.sum::<usize>()
    });
    println!(
        "a catalogue of {judged} parts of {} kinds: cold {:.0} ms, warm {:.1} ms for a place of every kind",
        kinds.len(),
        ms(cold),
        ms(warm)
    );
}

fn fitting_times() {
    let build = sample();
    whole_catalogue(&build);
    let mut dice = Dice(9);
    for (key, place) in [("stem", ""), ("wheel", "rear"), ("tyre", "front"), ("frame", ""), ("cassette", "")] {
        let kind = part::kind(key).unwrap();
        let parts = plausible(kind, PARTS, &mut dice);
        judge(&build, "plausible", ROUNDS, kind, place, parts.clone());
        judge(&build, "all different", 1, kind, place, all_different(parts));
    }
}

fn completing_time() {
    let mut build = sample();
    let mut dice = Dice(10);
    let keys = ["stem", "bar", "headset", "fork", "frame", "bottom_bracket", "crankset", "cassette", "saddle", "post"];
    let mut catalogue = Vec::new();
    let mut replace = Vec::new();
    for key in keys {
        catalogue.extend(plausible(part::kind(key).unwrap(), 100, &mut dice));
        replace.push(key.to_owned());
    }
    let at = |build: &Build, aim, budget| {
        complete(build, &catalogue, &Order { aim, budget, replace: replace.clone(), ..Order::default() })
    };
    build.shelf = part::Parts::default();
    for (aim, budget) in [(Quantity::Price, None), (Quantity::Mass, Some(900.0))] {
        let (time, answer) = best(|| at(&build, aim, budget));
        println!(
            "complete: {} places with 100 candidates each, aim {aim:?}, budget {budget:?}: {:.0} ms with what wishes cost, {} steps, proven {}, {} lists",
            answer.open.len(),
            ms(time),
            answer.steps,
            answer.proven,
            answer.lists.len()
        );
    }
}

fn choosing_beside_cp_sat() {
    let mut draws = Vec::new();
    for (at, shape) in [(7, 8, 3, 2), (9, 12, 4, 3), (12, 20, 4, 4), (8, 60, 6, 6), (16, 30, 5, 4)].iter().enumerate() {
        let (slots, candidates, figures, more_joints) = *shape;
        for seed in 0..4 {
            draws.push(Draw { seed: 50_000 + at as u64 * 100 + seed, slots, candidates, figures, more_joints });
        }
    }
    let mut lines = String::new();
    let mut ours = Vec::new();
    for draw in &draws {
        let puzzle = puzzle(*draw);
        let effort = Effort { lists: 1, steps: 50_000_000, any: false };
        let mut wanted = Wanted { aim: Quantity::Price, limits: Limits::default(), kept: BTreeMap::new() };
        let cheapest = puzzle.solve(&wanted, effort, &mut |_| true).lists.first().map(|list| list.cost.price_cents);
        let budget = cheapest.map(|price| price + price / 5);
        wanted.aim = Quantity::Mass;
        wanted.limits.price_cents = budget;
        let (time, answer) = best(|| puzzle.solve(&wanted, effort, &mut |_| true));
        assert!(answer.proven);
        ours.push((time.as_secs_f64(), answer.lists.first().map(|list| list.cost.mass_mg), answer.steps));
        for workers in [1, 8] {
            let Draw { seed, slots, candidates, figures, more_joints } = draw;
            let _ = writeln!(
                lines,
                "{seed} {slots} {candidates} {figures} {more_joints} 1 {} {workers}",
                budget.unwrap_or(-1)
            );
        }
    }
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/../../reference/generate/choose.py");
    let python = std::env::var("WITNESSMARK_PYTHON").unwrap_or_else(|_| "python3".into());
    let child = Command::new(python).arg(script).arg("--bench").stdin(Stdio::piped()).stdout(Stdio::piped()).spawn();
    let Ok(mut child) = child else { return println!("CP-SAT: no Python here, nothing to compare with") };
    let mut stdin = child.stdin.take().unwrap();
    let writer = std::thread::spawn(move || stdin.write_all(lines.as_bytes()));
    let output = child.wait_with_output().unwrap();
    writer.join().unwrap().unwrap();
    assert!(output.status.success(), "the CP-SAT side failed");
    let text = String::from_utf8(output.stdout).unwrap();
    let answers: Vec<(&str, i64, f64)> = text
        .lines()
        .map(|line| {
            let words: Vec<&str> = line.split_whitespace().collect();
            (words[0], words[1].parse().unwrap(), words[2].parse().unwrap())
        })
        .collect();
    let mut logs = [0.0, 0.0];
    for ((draw, (time, mass, steps)), theirs) in draws.iter().zip(&ours).zip(answers.chunks(2)) {
        for (answer, log) in theirs.iter().zip(&mut logs) {
            assert_eq!(Some(answer.1).filter(|_| answer.0 == "optimal"), *mass, "{draw:?}: the same optimum");
            *log += (answer.2 / time).ln();
        }
        println!(
            "{:>2} slots of {:>2}: {:>8.3} ms in {steps:>6} steps; CP-SAT {:>8.3} ms with one worker, {:>8.3} with eight",
            draw.slots,
            draw.candidates,
            time * 1e3,
            theirs[0].2 * 1e3,
            theirs[1].2 * 1e3
        );
    }
    let [one, eight] = logs.map(|log| (log / draws.len() as f64).exp());
    println!(
        "ratio, geometric mean of {}: {one:.1} times as fast as CP-SAT with one worker, {eight:.1} with eight",
        draws.len()
    );
}

fn main() {
    fitting_times();
    completing_time();
    choosing_beside_cp_sat();
}
