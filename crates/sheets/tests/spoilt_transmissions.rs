//! Documents whose transmission or wiring is nonsense: each says what is wrong, none stops the program, none takes long,
//! on paper as in the plan.
//!
//! The values are put straight into the document, past the ranges that typed text is held to, so that nothing here leans
//! on a door that somebody may leave open.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use std::time::{Duration, Instant};
use witnessmark_core::build::sample::sample;
use witnessmark_core::field::{Given, Value};
use witnessmark_core::finding::Severity;
use witnessmark_core::{Build, Plan, draw, model::Model, plan};
use witnessmark_sheets::transmission;

/// A plan and all that is shown of it takes some milliseconds. What this catches does not end within an hour: the bound
/// leaves room for a build for tests on a machine with much else to do.
const PATIENCE: Duration = Duration::from_mins(1);

fn put(build: &mut Build, path: &str, value: Value) {
    let leaf = Given { value, typed: "spoilt".into(), origin: None };
    build.set(path, Some(leaf)).unwrap_or_else(|_| panic!("no field {path}"));
}

/// Puts a value in where the field takes its kind.
fn spoil_at(build: &mut Build, path: &str, value: Value) -> bool {
    build.set(path, Some(Given { value, typed: "spoilt".into(), origin: None })).is_ok()
}

fn counts(list: &[u32]) -> Value {
    Value::Counts(list.to_vec())
}

/// The sample spoilt by these values.
fn spoilt(changes: &[(&str, Value)]) -> Build {
    let mut build = sample();
    for (path, value) in changes {
        put(&mut build, path, value.clone());
    }
    build
}

/// Plans a document and lays everything of its transmission out; the plan and the text.
fn looked_at(build: &Build, what: &str) -> (Plan, String) {
    let started = Instant::now();
    let plan = plan(build);
    let sheets = [transmission::gears(&plan), transmission::chain(&plan), transmission::wiring(&plan)];
    let text: Vec<String> = sheets.iter().map(witnessmark_sheets::text::Sheet::plain).collect();
    let _ = (draw::chain(&plan.worked), draw::gear_chart(&plan.worked), draw::wiring(&Model::new(build), &plan.worked));
    assert!(started.elapsed() < PATIENCE, "{what} took {:?}", started.elapsed());
    (plan, text.join("\n").split_whitespace().collect::<Vec<_>>().join(" "))
}

/// A finding of this check says this.
fn found(plan: &Plan, check: &str, says: &str) {
    let these: Vec<_> = plan.findings.iter().filter(|finding| finding.check == check).collect();
    assert!(
        these.iter().any(|finding| format!("{} {} {}", finding.what, finding.why, finding.action).contains(says)),
        "{check} does not say «{says}»: {these:#?}"
    );
}

#[test]
fn a_wheel_without_teeth_is_refused_by_its_name() {
    for teeth in [0, 1, 2] {
        let (plan, text) = looked_at(&spoilt(&[("parts.cassette.sprockets", counts(&[teeth, 12, 13]))]), "few teeth");
        found(&plan, "fits/gears_listed", &format!("A sprocket of {teeth} teeth carries no chain"));
        assert!(text.contains(&format!("a sprocket of {teeth} teeth carries no chain")), "{text}");
        let (plan, _) = looked_at(&spoilt(&[("parts.crankset.rings", counts(&[52, teeth]))]), "few teeth");
        found(&plan, "fits/gears_listed", &format!("A ring of {teeth} teeth carries no chain"));
    }
    for wheel in ["upper_wheel", "lower_wheel"] {
        let path = format!("parts.rear_derailleur.{wheel}");
        let (plan, _) = looked_at(&spoilt(&[(&path, Value::Count(0))]), wheel);
        assert_eq!(plan.worked.transmission.chain.as_ref().unwrap().shortest, None, "{wheel}");
        let stops = plan.findings.iter().filter(|finding| finding.check.contains("chain_"));
        assert!(stops.count() > 0, "{wheel}: somebody has to say that there is no way for the chain");
    }
}

#[test]
fn sprockets_out_of_order_are_worked_out_in_their_order_and_said() {
    let (plan, _) = looked_at(&spoilt(&[("parts.cassette.sprockets", counts(&[30, 11, 28, 12, 11]))]), "out of order");
    found(&plan, "fits/gears_listed", "not listed in their order");
    assert_eq!(plan.worked.transmission.sprockets.as_deref().unwrap(), [11, 11, 12, 28, 30]);
}

#[test]
fn a_ring_of_a_thousand_teeth_finds_no_way_and_says_so() {
    for teeth in [1000, 1_000_000, u32::MAX] {
        let (plan, text) = looked_at(&spoilt(&[("parts.crankset.rings", counts(&[teeth, 36]))]), "a large ring");
        assert!(
            text.contains("overlap") && text.contains("there is no way for a chain round the largest ring"),
            "{text}"
        );
        let worked = &plan.worked.transmission;
        assert!(worked.rules.is_err(), "{:?}", worked.rules);
        assert!(plan.findings.iter().any(|finding| finding.severity == Severity::Stop), "{teeth}");
    }
}

#[test]
fn a_cage_longer_than_the_chainstay_ends_in_findings_and_not_in_a_loop() {
    let cage = [
        ("parts.rear_derailleur.pivot_to_lower", Value::Number(600.0)),
        ("parts.rear_derailleur.wheel_to_wheel", Value::Number(600.0)),
    ];
    let (plan, _) = looked_at(&spoilt(&cage), "a long cage");
    let on_the_chain =
        |finding: &&witnessmark_core::finding::Finding| transmission::CHAIN_CHECKS.contains(&finding.check);
    // The worst severity comes first in their order.
    let worst = plan.findings.iter().filter(on_the_chain).map(|finding| finding.severity).min();
    assert!(worst.is_some_and(|worst| worst <= Severity::Caution), "{worst:?}");
    let (_, text) = looked_at(&spoilt(&[("parts.frame.chainstay", Value::Number(40.0))]), "a short stay");
    assert!(text.contains("overlap") || text.contains("cannot reach"), "{text}");
}

#[test]
fn a_wrong_net_says_at_which_end() {
    let text = |text: &str| Value::Text(text.into());
    let (plan, said) = looked_at(&spoilt(&[("parts.wire.rear.other_end", text("junction shell"))]), "upon itself");
    found(&plan, "fits/wire_ends", "Both ends of the wire “rear” are in the junction “shell”");
    assert!(said.contains("Both ends of the wire “rear”"), "{said}");
    let second =
        [("parts.wire.again.one_end", text("junction stem")), ("parts.wire.again.other_end", text("junction shell"))];
    let (plan, _) = looked_at(&spoilt(&second), "a ring");
    found(&plan, "fits/wiring_tree", "closes a ring");
    let (plan, _) = looked_at(&spoilt(&[("parts.wire.rear.other_port", Value::Count(u32::MAX))]), "a port beyond");
    found(&plan, "fits/wire_ports", "has no port 4294967295");
    // A second battery has no place of its own; a wire that leads to one leads nowhere.
    assert!(Build::field("parts.battery.second.ports").is_err());
    let (plan, _) = looked_at(&spoilt(&[("parts.wire.rear.other_end", text("second battery"))]), "two batteries");
    found(&plan, "fits/wire_ends", "leads to a unit that is not there");
}

#[test]
fn absurdly_many_of_anything_are_refused_in_time() {
    let many = Value::Counts((0..20_000).map(|at| 11 + at % 40).collect());
    let (plan, _) = looked_at(&spoilt(&[("parts.cassette.sprockets", many.clone())]), "20000 sprockets");
    found(&plan, "fits/gears_listed", "20000 sprockets are listed and 20 are the most");
    let (plan, _) = looked_at(&spoilt(&[("parts.crankset.rings", many)]), "20000 rings");
    found(&plan, "fits/gears_listed", "20000 rings are listed and 3 are the most");

    let mut build = sample();
    for at in 0..2_000 {
        put(&mut build, &format!("parts.wire.w{at}.one_end"), Value::Text("junction shell".into()));
        put(&mut build, &format!("parts.wire.w{at}.other_end"), Value::Text("junction stem".into()));
    }
    let (plan, _) = looked_at(&build, "2000 wires");
    found(&plan, "fits/wire_ends", "There are too many wires or units for one bike");
    let mut build = sample();
    for at in 0..500 {
        put(&mut build, &format!("parts.junction.j{at}.ports"), Value::Count(u32::MAX));
    }
    let (plan, _) = looked_at(&build, "500 junctions");
    found(&plan, "fits/wire_ends", "There are too many wires or units for one bike");
    let links = [("settings.chain_links", Value::Count(u32::MAX))];
    let (plan, _) = looked_at(&spoilt(&links), "four thousand million links");
    found(&plan, "fits/chain_taut", "4294967295");
}

/// Every number of the transmission, one after the other, as every value that is none; and then several at once, drawn
/// from a row of numbers that anybody can draw again.
#[test]
fn no_value_of_any_fact_of_the_transmission_stops_the_program() {
    let wrong = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -0.0, -1.0, 1e308, -1e308, 5e-324, 1e9];
    let whole = [0, 1, 2, 3, 1000, u32::MAX];
    let kinds =
        ["crankset", "cassette", "chain", "rear_derailleur", "front_derailleur", "frame", "tyre.rear", "battery"];
    let sound = sample();
    let facts: Vec<(String, Value)> = sound
        .leaves()
        .into_iter()
        .filter(|(path, _)| {
            kinds.iter().any(|kind| path.starts_with(&format!("parts.{kind}.")))
                || path.starts_with("parts.wire.")
                || path.starts_with("parts.junction.")
                || ["settings.cadence_per_minute", "settings.chain_links", "settings.inner_ring_from_sprocket"]
                    .contains(&path.as_str())
        })
        .map(|(path, leaf)| (path, leaf.value))
        .collect();
    assert!(facts.len() > 100, "{}", facts.len());
    let spoil = |value: &Value, at: usize| match value {
        Value::Number(_) => Value::Number(wrong[at % wrong.len()]),
        Value::Count(_) => Value::Count(whole[at % whole.len()]),
        Value::Numbers(list) => Value::Numbers(vec![wrong[at % wrong.len()]; list.len().min(at)]),
        Value::Counts(list) => Value::Counts(vec![whole[at % whole.len()]; list.len().min(at)]),
        Value::Text(text) => Value::Text(if at.is_multiple_of(2) { String::new() } else { text.repeat(50) }),
        other => other.clone(),
    };
    let mut tried = 0;
    for (path, value) in &facts {
        for at in 0..wrong.len() {
            if matches!(value, Value::Number(_)) || at < 4 {
                let mut build = sound.clone();
                // A choice takes no other word than its own.
                if spoil_at(&mut build, path, spoil(value, at)) {
                    looked_at(&build, &format!("{path} the {at}th way"));
                    tried += 1;
                }
            }
        }
    }
    // Numerical Recipes' row of numbers: seed 4.
    let mut drawn: u32 = 4;
    let mut draw = |below: usize| {
        drawn = drawn.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        usize::try_from(drawn >> 8).unwrap() % below
    };
    for round in 0..300 {
        let mut build = sound.clone();
        for _ in 0..=draw(12) {
            let (path, value) = &facts[draw(facts.len())];
            spoil_at(&mut build, path, spoil(value, draw(10)));
        }
        looked_at(&build, &format!("round {round} of seed 4"));
        tried += 1;
    }
    assert!(tried > 1000, "{tried}");
}
