//! Bolts, tape, mass, tyres and service at the terminal: as text and as JSON, of a finished demo bike, of one of which little is
//! known, and of files that cannot be used.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use serde_json::Value;
use std::process::{Command, Output};

const VIEWS: [&str; 5] = ["fasteners", "tape", "mass", "tyres", "service"];

fn witnessmark(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_witnessmark")).args(arguments).output().unwrap()
}

fn demo(name: &str) -> String {
    format!("{}/../../demo/builds/{name}.toml", env!("CARGO_MANIFEST_DIR"))
}

/// What a view prints of a demo bike, as text.
fn text(view: &str, name: &str) -> String {
    let output = witnessmark(&[view, &demo(name)]);
    assert_eq!(output.status.code(), Some(0), "{view} {name}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// The same as JSON.
fn json(view: &str, name: &str) -> Value {
    let output = witnessmark(&[view, &demo(name), "--json"]);
    assert_eq!(output.status.code(), Some(0), "{view} {name}: {}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
fn the_finished_bike_tells_its_torques_turns_mass_pressures_and_services() {
    for (view, said) in [
        ("fasteners", ["29 of 29 closed", "face plate of the stem", "crosswise", "pull 4.4 to 8.6 kN"]),
        (
            "tape",
            [
                "turns from the end to the lever",
                "Both sides alike.",
                "overlap inside of it",
                "cut from the end of this roll",
            ],
        ),
        ("mass", ["together", "On the wheels, no rider", "The scale reads", "wheels and brakes"]),
        ("tyres", ["Start at", "carried over from what the rider likes", "Limit of the tyre: 6.9 bar.", "Pump up"]),
        (
            "service",
            [
                "Counted from hand-over, 2027-04-10.",
                "wear of the chain",
                "first re-check of every bolt",
                "11500 km in a year.",
            ],
        ),
    ] {
        let text = text(view, "ilka-race-bike");
        for said in said {
            assert!(text.contains(said), "{view} does not say «{said}»:\n{text}");
        }
        for line in text.lines() {
            assert!(line.chars().count() <= 80 && !line.contains('\u{1b}'), "{view}: {line}");
        }
    }
}

#[test]
fn every_bike_of_the_demo_keeps_to_eighty_columns_and_says_the_same_in_json() {
    for name in ["ilka-race-bike", "ilka-second-bike", "oren-new-frame", "sanna-old-bike", "tamsin-first-talk"] {
        for view in VIEWS {
            assert!(text(view, name).lines().all(|line| line.chars().count() <= 80), "{view} {name}");
            assert_eq!(json(view, name)["form"], 1, "{view} {name}");
        }
    }
}

#[test]
fn text_and_json_tell_the_same_figures() {
    let bolts = json("fasteners", "ilka-race-bike");
    let plate = bolts["bolts"].as_array().unwrap().iter().find(|bolt| bolt["id"] == "stem-face-plate").unwrap();
    assert_eq!((&plate["torque"], &plate["lowest"], &plate["state"]), (&5.0.into(), &5.0.into(), &"closed".into()));
    assert!(plate["limits"].as_array().unwrap().len() > 1 && plate["pull"][0].as_f64() < plate["proof"].as_f64());

    let tape = json("tape", "ilka-race-bike");
    let turns = tape["left"]["turns_to_lever"].as_f64().unwrap();
    let row = text("tape", "ilka-race-bike");
    let row = row.lines().find(|line| line.starts_with("turns from the end to the lever")).unwrap().to_owned();
    let told = row.split_whitespace().filter_map(|word| word.parse::<f64>().ok());
    assert!(told.into_iter().any(|told| (told - turns).abs() <= 0.05), "{row} {turns}");

    let mass = json("mass", "ilka-race-bike");
    let by_area: f64 = mass["areas"].as_array().unwrap().iter().map(|area| area["mass"].as_f64().unwrap()).sum();
    assert!((by_area - mass["sum"].as_f64().unwrap()).abs() < 1e-6, "no bottles were on it");
    assert_eq!(mass["scale"]["agrees"], true);

    let tyres = json("tyres", "ilka-race-bike");
    for end in ["front", "rear"] {
        let tyre = &tyres[end];
        let limits = tyre["limits"].as_array().unwrap().iter().map(|limit| limit["pressure"].as_f64().unwrap());
        let lowest = limits.fold(f64::INFINITY, f64::min);
        assert!(tyre["start"].as_f64().unwrap() <= lowest && tyre["most"].as_f64() == Some(lowest), "{tyre}");
    }
    // The start of a trial is a number of the registry as well.
    let plan = json("plan", "ilka-race-bike");
    let mut numbers = plan["numbers"].as_array().unwrap().iter();
    let start = numbers.find(|number| number["id"] == "start-pressure" && number["side"] == "front").unwrap();
    assert_eq!((&start["planned"], &start["unit"]), (&tyres["front"]["start"], &"kPa".into()));
}

#[test]
fn a_service_is_due_only_on_a_day_that_is_asked_for() {
    let undated = json("service", "ilka-race-bike");
    assert!(undated["services"].as_array().unwrap().iter().all(|one| one["standing"].is_null()));
    let output = witnessmark(&["service", &demo("ilka-race-bike"), "--day", "2027-06-01", "--json"]);
    let dated: Value = serde_json::from_slice(&output.stdout).unwrap();
    let standing = |standing: &str| dated["services"].as_array().unwrap().iter().any(|one| one["standing"] == standing);
    assert!(standing("due") && standing("later"), "{dated}");
    let wrong = witnessmark(&["service", &demo("ilka-race-bike"), "--day", "the first of June"]);
    assert_eq!(wrong.status.code(), Some(2), "{}", String::from_utf8_lossy(&wrong.stderr));
}

#[test]
fn a_bike_of_which_little_is_known_says_what_it_lacks_and_never_a_figure_in_its_place() {
    for (view, said) in [
        ("fasteners", "not known: left lever: clamp torque"),
        ("tape", "No tape is listed yet."),
        ("mass", "The sum is not known."),
        ("tyres", "No pressure is named."),
        ("service", "The day of hand-over is not known"),
    ] {
        let text = text(view, "tamsin-first-talk");
        assert!(text.contains(said), "{view} does not say «{said}»:\n{text}");
    }
    let tyres = json("tyres", "tamsin-first-talk");
    assert!(tyres["front"]["start"].is_null() && tyres["front"]["start_lacks"].is_string(), "{tyres}");
    let bolts = json("fasteners", "tamsin-first-talk");
    assert!(
        bolts["bolts"]
            .as_array()
            .unwrap()
            .iter()
            .all(|bolt| bolt["torque"].is_null() == bolt["torque_lacks"].is_string())
    );
    assert!(json("mass", "tamsin-first-talk")["sum"].is_null());
}

#[test]
fn a_broken_document_gets_its_messages_and_nothing_else_from_each_of_them() {
    let path = std::env::temp_dir().join(format!("witnessmark-{}-finish.toml", std::process::id()));
    std::fs::write(&path, "form = 1\n[settings]\ntape_turns_left = \"many\"\npressure_frnt = 400\n").unwrap();
    for view in VIEWS {
        for arguments in [vec![view, path.to_str().unwrap()], vec![view, path.to_str().unwrap(), "--json"]] {
            let output = witnessmark(&arguments);
            let said = String::from_utf8(output.stderr).unwrap();
            assert_eq!(output.status.code(), Some(2), "{view}: {said}");
            assert!(output.stdout.is_empty(), "{view} prints of a document that it could not read");
            assert_eq!(said.lines().count(), 2, "{view}: {said}");
            assert!(said.contains(":3:") && said.contains("many"), "{view}: {said}");
            assert!(said.contains(":4:") && said.contains("did you mean “pressure_front”?"), "{view}: {said}");
        }
    }
    std::fs::remove_file(&path).unwrap();
}
