//! The binary as a person at the terminal meets it: what it prints, and how it ends.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use std::io::Write as _;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

fn witnessmark(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_witnessmark")).args(arguments).output().unwrap()
}

fn demo(name: &str) -> String {
    format!("{}/../../demo/builds/{name}.toml", env!("CARGO_MANIFEST_DIR"))
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// A file for one test, gone with it.
struct Scratch(PathBuf);

impl Scratch {
    fn new(name: &str, bytes: &[u8]) -> Self {
        let path = std::env::temp_dir().join(format!("witnessmark-{}-{name}", std::process::id()));
        std::fs::write(&path, bytes).unwrap();
        Scratch(path)
    }
    fn path(&self) -> &str {
        self.0.to_str().unwrap()
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.0);
    }
}

#[test]
fn a_finished_build_ends_with_0_and_one_that_may_not_go_on_with_1() {
    let finished = witnessmark(&["plan", &demo("ilka-race-bike")]);
    assert_eq!(finished.status.code(), Some(0), "{}", text(&finished.stdout));
    let stopped = witnessmark(&["plan", &demo("oren-new-frame")]);
    assert_eq!(stopped.status.code(), Some(1));
    let said = text(&stopped.stdout);
    assert!(said.contains("STOP") && said.contains("The steerer is"), "{said}");
    for line in said.lines() {
        assert!(line.chars().count() <= 80, "{line}");
        assert!(!line.contains('\u{1b}'), "no colour into a pipe: {line}");
    }
}

#[test]
fn json_has_the_promised_fields() {
    let output = witnessmark(&["plan", &demo("oren-new-frame"), "--json"]);
    let plan: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let number = &plan["numbers"][0];
    for field in ["id", "side", "unit", "asked", "planned", "measured", "difference", "tolerance", "verdict"] {
        assert!(number.get(field).is_some(), "a number has no {field}");
    }
    let finding = &plan["findings"][0];
    for field in ["check", "severity", "about", "what", "why", "do", "source"] {
        assert!(finding.get(field).is_some(), "a finding has no {field}");
    }
    let described = include_str!("../../../docs/json.md");
    for (name, object) in [("number", number), ("finding", finding), ("plan", &plan)] {
        for field in object.as_object().unwrap().keys() {
            assert!(described.contains(&format!("`{field}`")), "docs/json.md does not describe {name}'s {field}");
        }
    }
}

#[test]
fn what_cannot_be_used_gets_one_clear_message_and_ends_with_2() {
    let empty = Scratch::new("empty.toml", b"");
    let binary = Scratch::new("binary.toml", &[0, 159, 146, 150, 255]);
    let mut endless = vec![b'#'; 100 * 1024 * 1024];
    endless[0] = b'\n';
    let large = Scratch::new("large.toml", &endless);
    let nested =
        Scratch::new("nested.toml", format!("form = 1\nx = {}{}", "[".repeat(100_000), "]".repeat(100_000)).as_bytes());
    let angle = Scratch::new("angle.toml", b"form = 1\n[parts.frame]\nhead_angle = 900\n");
    for (file, said) in [
        (empty.path(), "the file is empty"),
        (binary.path(), "not a text in UTF-8"),
        (large.path(), "at most 4 MB"),
        (nested.path(), "recurs"),
        (angle.path(), "an angle between 55° and 85° was expected"),
        ("/no/such/file.toml", "No such file"),
        (env!("CARGO_MANIFEST_DIR"), "directory"),
    ] {
        let output = witnessmark(&["plan", file]);
        let complaint = text(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{file}: {complaint}");
        assert!(complaint.contains(said), "{file}: {complaint}");
        assert_eq!(complaint.lines().count(), 1, "{file}: {complaint}");
        assert!(output.stdout.is_empty(), "{file}");
    }
}

#[test]
fn every_slip_of_a_file_is_told_at_once() {
    let file = Scratch::new("slips.toml", b"form = 1\n[settings]\nspacers_undr = 35\nbar_roll = \"2 kg\"\n");
    let output = witnessmark(&["check-file", file.path()]);
    assert_eq!(output.status.code(), Some(2));
    let said = text(&output.stderr);
    assert_eq!(said.lines().count(), 2, "{said}");
    assert!(said.contains(":3:1:") && said.contains("did you mean “spacers_under”?"), "{said}");
}

#[test]
fn standard_input_is_read_for_a_dash() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_witnessmark"))
        .args(["check-file", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(b"form = 1\n[job]\ntitle = \"from a pipe\"\n").unwrap();
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(text(&output.stdout).contains("Fields filled in: 1;"), "{}", text(&output.stdout));
}

#[test]
fn the_search_backwards_lists_the_best_way_first() {
    let output = witnessmark(&["reach", &demo("oren-new-frame"), "--json"]);
    assert_eq!(output.status.code(), Some(0));
    let reach: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let front = &reach["front"];
    assert!(front["tried"].as_u64().unwrap() > 1000, "{}", front["tried"]);
    assert!(!front["ways"].as_array().unwrap().is_empty());
    let text = text(&witnessmark(&["reach", &demo("oren-new-frame")]).stdout);
    assert!(text.contains("combinations come within"), "{text}");
}

#[test]
fn the_demo_bike_that_is_not_to_be_built_so_is_told_each_of_its_mistakes_and_the_finished_one_none_of_them() {
    let findings = |name: &str| {
        let output = witnessmark(&["plan", &demo(name), "--json"]);
        let plan: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        let found: Vec<String> = plan["findings"]
            .as_array()
            .unwrap()
            .iter()
            .filter(|finding| finding["not_known"] != true && finding["severity"] != "note")
            .map(|finding| finding["check"].as_str().unwrap().to_owned())
            .collect();
        found
    };
    let (oren, ilka) = (findings("oren-new-frame"), findings("ilka-race-bike"));
    for check in [
        "fits/bottom_bracket_in_shell",
        "fits/cassette_on_freehub",
        "fits/rotor_on_hub",
        "fits/worn_chain",
        "safe/rotor_thickness",
        "safe/brake_fluid",
    ] {
        assert!(oren.iter().any(|found| found == check), "{check}: {oren:#?}");
        assert!(ilka.iter().all(|found| found != check), "{check}: {ilka:#?}");
    }
}

#[test]
fn the_demo_makes_its_workshop_and_prints_a_verdict() {
    let file = std::env::temp_dir().join(format!("witnessmark-{}-demo.sqlite", std::process::id()));
    let output = witnessmark(&["demo", "--once", "--fresh", "--data", file.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let said = text(&output.stdout);
    assert!(said.contains("builds of the demo workshop") && said.contains("numbers in line"), "{said}");
    for ending in ["", "-wal", "-shm"] {
        let _ = std::fs::remove_file(format!("{}{ending}", file.display()));
    }
}
