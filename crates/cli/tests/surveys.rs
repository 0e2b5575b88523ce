//! `survey`, `carry` and `compare` at the terminal, on the invented workshop's own bikes.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn demo(file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo").join(file)
}

fn run(arguments: &[&std::ffi::OsStr]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_witnessmark")).args(arguments).output().unwrap()
}

/// The text on one line, so that a sentence is found wherever it is broken; no line is wider than a terminal.
fn text(output: &Output) -> String {
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout.clone()).unwrap();
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{} columns: {line}", line.chars().count());
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn survey(file: &str) -> String {
    text(&run(&["survey".as_ref(), demo(file).as_os_str()]))
}

fn json(output: &Output) -> serde_json::Value {
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
fn the_misread_tape_of_an_old_bike_is_named_with_what_the_others_allow() {
    let said = survey("builds/sanna-old-bike.toml");
    assert!(
        said.contains("The tape from saddle nose to bar clamp, 542 mm, does not fit the other readings."),
        "{said}"
    );
    assert!(said.contains("Was 542 read for 522"), "{said}");
    assert!(said.contains("it is set aside"), "{said}");
}

#[test]
fn an_old_tape_is_found_and_no_reading_is_blamed() {
    let said = survey("surveys/old-tape.toml");
    assert!(said.contains("All 15 tapes read 6.4 mm too long"), "{said}");
    assert!(!said.contains("does not fit the other readings"), "{said}");
}

#[test]
fn seven_readings_say_what_they_leave_open_and_what_to_take_next() {
    let said = survey("surveys/seven-readings.toml");
    assert!(said.contains("What was read does not give: left hood"), "{said}");
    assert!(said.contains("Nothing checks the height of the bar clamp over the floor"), "{said}");
    assert!(said.contains("The one reading more that would help most:"), "{said}");
}

#[test]
fn a_position_is_carried_from_the_first_bike_to_the_second() {
    let (from, to) = (demo("builds/ilka-race-bike.toml"), demo("builds/ilka-second-bike.toml"));
    let said = text(&run(&["carry".as_ref(), from.as_os_str(), "--to".as_ref(), to.as_os_str()]));
    assert!(said.contains("8 of 8 numbers of the position are kept"), "{said}");
    assert!(said.contains("The lever has another body") && said.contains("TO SET BY HAND"), "{said}");
    let plain = json(&run(&["carry".as_ref(), from.as_os_str(), "--json".as_ref(), "--to".as_ref(), to.as_os_str()]));
    let rows = plain["rows"].as_array().unwrap();
    let kept = rows.iter().filter(|row| row["position"] == true && row["stands"] != "moved").count();
    assert_eq!(kept, 8);
}

#[test]
fn bikes_stand_side_by_side_in_text_and_in_json() {
    let (one, other) = (demo("builds/ilka-race-bike.toml"), demo("builds/ilka-second-bike.toml"));
    let said = text(&run(&["compare".as_ref(), one.as_os_str(), other.as_os_str()]));
    assert!(said.contains("PARTS THAT DIFFER") && said.contains("LEFT AND RIGHT"), "{said}");
    let plain = json(&run(&["compare".as_ref(), "--json".as_ref(), one.as_os_str(), other.as_os_str()]));
    assert_eq!(plain["drawings"].as_array().unwrap().len(), 2);
    let first = &plain["numbers"][0];
    assert_eq!((first["id"].as_str(), first["side"].as_str()), (Some("hood-x"), Some("left")));
    assert!(first["against_first"][0]["stands"].is_string());
    let surveyed = json(&run(&["survey".as_ref(), "--json".as_ref(), demo("surveys/old-tape.toml").as_os_str()]));
    assert!(surveyed["tape_too_long"].as_f64().unwrap() > 5.0);
}

#[test]
fn a_bike_is_not_held_against_nothing() {
    let one = demo("builds/ilka-race-bike.toml");
    assert_eq!(run(&["compare".as_ref(), one.as_os_str()]).status.code(), Some(2));
    assert_eq!(
        run(&["carry".as_ref(), one.as_os_str(), "--to".as_ref(), "no-such-file".as_ref()]).status.code(),
        Some(2)
    );
}
