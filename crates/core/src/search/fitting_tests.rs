//! What would fit, against putting every candidate in and running the checks; and what a check reads, against changing all
//! that it does not name.

#![allow(clippy::unwrap_used, reason = "a part that cannot be found is to stop the test")]

use super::complete_sample::Dice;
use super::fitting::{Bench, Candidates, Spot, Verdict, empty, fitting, judges, put, read_by, verdict};
use crate::build::Build;
use crate::build::sample::sample;
use crate::catalogue::Entry;
use crate::catalogue::sample::invented;
use crate::check::{self, Check};
use crate::field::Leaf;
use crate::finding::{Finding, Severity};
use crate::part::{self, PartKind, Places};

/// The builds that the checks give as examples.
fn examples() -> Vec<Build> {
    let changes = check::ALL.iter().flat_map(|check| [Some(check.fits), Some(check.does_not_fit), check.not_known]);
    let build = |change: fn(&mut Build)| {
        let mut build = sample();
        change(&mut build);
        build
    };
    changes.flatten().map(build).collect()
}

/// Every part of this kind in the examples, each once.
fn pool(kind: &'static PartKind, examples: &[Build]) -> Vec<Entry> {
    let mut pool: Vec<Entry> = Vec::new();
    for (of, _, record) in examples.iter().flat_map(|build| build.parts.each()) {
        let part = Entry::of(of, record);
        if of.key == kind.key && !pool.contains(&part) {
            pool.push(part);
        }
    }
    pool
}

/// A part with the facts of several.
fn mixed(kind: &'static PartKind, pool: &[Entry], dice: &mut Dice) -> Entry {
    let mut part = Entry::new(kind, "mixed");
    let (one, other) = (dice.below(pool.len()), dice.below(pool.len()));
    for index in 0..kind.fields.len() {
        let from = if dice.below(8) == 0 { other } else { one };
        part.put(index, pool[from].fact(index).cloned());
    }
    part
}

/// The sample with some of its parts changed for those of examples, and some taken away.
fn build(examples: &[Build], dice: &mut Dice) -> Build {
    let mut build = examples[dice.below(examples.len())].clone();
    let other = examples[dice.below(examples.len())].clone();
    let spots: Vec<Spot> =
        build.parts.each().iter().map(|(kind, place, _)| Spot { kind, place: (*place).into() }).collect();
    for spot in spots {
        let there = other.parts.record(spot.kind.key, &spot.place).map(|record| Entry::of(spot.kind, record));
        match (dice.below(12), there) {
            (0, _) => empty(&mut build.parts, &spot),
            (1..=3, Some(part)) => put(&mut build.parts, &spot, &part),
            _ => {}
        }
    }
    build
}

/// The verdict by putting the part in, working everything out, and asking each check.
fn by_trying(build: &Build, spot: &Spot, part: &Entry) -> (u8, Option<Finding>) {
    let mut without = build.clone();
    empty(&mut without.parts, spot);
    let mut with = without.clone();
    put(&mut with.parts, spot, part);
    let (without, with) = (Bench::new(without), Bench::new(with));
    let mut worst = (0, None);
    for check in judges(spot.kind) {
        let mut reasons = Vec::new();
        let verdict = verdict(&with.build, spot, with.findings(check), &without.findings(check), &mut reasons);
        if rank(verdict) > worst.0 {
            worst = (rank(verdict), reasons.pop());
        }
    }
    worst
}

fn rank(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Fits => 0,
        Verdict::FitsWith(_) => 1,
        Verdict::NotKnown(_) => 2,
        Verdict::DoesNotFit(_) => 3,
    }
}

#[test]
fn the_verdicts_are_those_of_trying_every_candidate() {
    let examples = examples();
    let mut dice = Dice(77);
    let mut seen = [0_usize; 4];
    for kind in part::KINDS.iter().filter(|kind| judges(kind).next().is_some()) {
        let pool = pool(kind, &examples);
        assert!(!pool.is_empty(), "{}: no example has one", kind.key);
        let mut parts = pool.clone();
        parts.extend((0..8).map(|_| mixed(kind, &pool, &mut dice)));
        parts.extend(invented(part::KINDS.len() * 3));
        let candidates = Candidates::new(kind, parts);
        let places: &[&str] = match kind.places {
            Places::One => &[""],
            Places::Many => &["one"],
            _ => kind.places.names(),
        };
        for place in places {
            let spot = Spot { kind, place: (*place).to_owned() };
            let build = build(&examples, &mut dice);
            let found = fitting(&build, place, &candidates);
            for (part, verdict) in candidates.parts().iter().zip(&found.verdicts) {
                let expected = by_trying(&build, &spot, part);
                let said = (rank(*verdict), found.reason(*verdict).cloned());
                assert_eq!(said, expected, "{}: {part:?}", spot.path());
                seen[usize::from(said.0)] += 1;
            }
        }
    }
    assert!(seen.iter().all(|count| *count > 20), "every verdict is met: {seen:?}");
}

#[test]
fn a_check_notices_no_fact_that_its_file_does_not_name() {
    let examples = examples();
    let mut changed = 0;
    for check in check::ALL.iter().filter(|check| !check.between.is_empty()) {
        let bases = [Some(check.fits), Some(check.does_not_fit), check.not_known];
        for kind in check.between.iter().map(|key| part::kind(key).unwrap()) {
            let read = read_by(check, kind);
            let pool = pool(kind, &examples);
            for change in bases.into_iter().flatten() {
                let mut base = sample();
                change(&mut base);
                let mut bench = Bench::new(base);
                let before = bench.findings(check);
                let places: Vec<String> = match kind.places {
                    Places::One => vec![String::new()],
                    _ => bench
                        .build
                        .parts
                        .each()
                        .iter()
                        .filter(|one| one.0.key == kind.key)
                        .map(|one| one.1.to_owned())
                        .collect(),
                };
                for spot in places.into_iter().map(|place| Spot { kind, place }) {
                    let Some(record) = bench.build.parts.record(kind.key, &spot.place) else { continue };
                    let there = Entry::of(kind, record);
                    for index in (0..kind.fields.len()).filter(|index| !read.contains(index)) {
                        let mut values: Vec<Option<Leaf>> = vec![None];
                        for other in pool.iter().map(|part| part.fact(index).cloned()) {
                            if !values.contains(&other) && other.as_ref() != there.fact(index) && values.len() < 2 {
                                values.push(other);
                            }
                        }
                        for value in values {
                            let mut part = there.clone();
                            part.put(index, value);
                            put(&mut bench.build.parts, &spot, &part);
                            let name = kind.fields[index].name;
                            assert_eq!(
                                bench.findings(check),
                                before,
                                "{} reads {}.{name} and does not name it",
                                check.id,
                                kind.key
                            );
                            changed += 1;
                        }
                    }
                    put(&mut bench.build.parts, &spot, &there);
                }
            }
        }
    }
    assert!(changed > 1_000, "{changed}");
}

/// The verdict on the part that stands in a place, as a candidate for it.
fn verdict_on_what_is_fitted(build: &Build, spot: &Spot) -> u8 {
    let record = build.parts.record(spot.kind.key, &spot.place).unwrap();
    let candidates = Candidates::new(spot.kind, [Entry::of(spot.kind, record)]);
    rank(fitting(build, &spot.place, &candidates).verdicts[0])
}

/// The fitted parts whose kind a check looks at.
fn looked_at(check: &Check, build: &Build) -> Vec<Spot> {
    let each = build.parts.each();
    let of_check = each.iter().filter(|(kind, ..)| check.between.contains(&kind.key));
    of_check.map(|(kind, place, _)| Spot { kind, place: (*place).to_owned() }).collect()
}

#[test]
fn a_candidate_of_which_a_fact_is_lacking_is_never_said_to_fit() {
    let mut asked = 0;
    for check in check::ALL.iter().filter(|check| !check.between.is_empty()) {
        let Some(not_known) = check.not_known else { continue };
        let mut build = sample();
        not_known(&mut build);
        let findings = Bench::new(build.clone()).findings(check);
        for spot in looked_at(check, &build) {
            let start = format!("{}.", spot.path());
            let of_this = |finding: &&Finding| {
                finding.not_known
                    && finding.severity != Severity::Note
                    && finding.about.iter().any(|about| about.address().starts_with(&start))
            };
            if findings.iter().any(|finding| of_this(&finding)) {
                assert!(verdict_on_what_is_fitted(&build, &spot) >= 2, "{}: {}", check.id, spot.path());
                asked += 1;
            }
        }
    }
    assert!(asked > 30, "{asked}");
}

#[test]
fn what_a_check_stops_is_said_not_to_fit_at_one_of_the_places_that_it_looks_at() {
    let mut stopped = 0;
    for check in check::ALL.iter().filter(|check| !check.between.is_empty()) {
        let mut build = sample();
        (check.does_not_fit)(&mut build);
        let findings = Bench::new(build.clone()).findings(check);
        if findings.iter().all(|finding| finding.severity != Severity::Stop || finding.not_known) {
            continue;
        }
        let said = looked_at(check, &build).iter().any(|spot| verdict_on_what_is_fitted(&build, spot) == 3);
        assert!(said, "{}", check.id);
        stopped += 1;
    }
    assert!(stopped > 30, "{stopped}");
}

#[test]
fn a_place_is_found_by_its_path_and_said_as_a_mechanic_says_it() {
    for (path, there) in [
        ("stem", Some(("parts.stem", "stem"))),
        ("parts.tyre.front", Some(("parts.tyre.front", "front tyre"))),
        ("spacer.ten", Some(("parts.spacer.ten", "spacer “ten”"))),
        ("tyre", None),
        ("tyre.left", None),
        ("stem.front", None),
        ("spacer.Ten", None),
        ("", None),
    ] {
        let spot = Spot::from_path(path);
        let said = spot.as_ref().map(|spot| (spot.path(), spot.words()));
        assert_eq!(said, there.map(|(path, words)| (path.to_owned(), words.to_owned())), "{path}");
    }
}

#[test]
fn a_part_at_the_other_wheel_is_not_held_against_a_candidate() {
    let mut build = sample();
    build.parts.tyre.make("rear").width_measured_mm = Some(40.0.into());
    build.parts.wheel.0.clear();
    let tyre = |width_mm: f64| {
        let mut part = Entry::of(part::kind("tyre").unwrap(), build.parts.record("tyre", "front").unwrap());
        let index = part.kind.fields.iter().position(|field| field.name == "width_measured_mm").unwrap();
        part.put(index, Some(crate::field::Given::from(width_mm).to_leaf()));
        part
    };
    let candidates = Candidates::new(part::kind("tyre").unwrap(), [tyre(28.0), tyre(50.0)]);
    let found = fitting(&build, "front", &candidates);
    assert_ne!(rank(found.verdicts[0]), 3, "{:?}", found.reason(found.verdicts[0]));
    assert_eq!(found.reason(found.verdicts[1]).map(|reason| reason.check), Some("fits/tyre_room"));
}
