//! Sheets, tables and show page of the demo's builds, asked for at the terminal.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn demo(file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/builds").join(file)
}

fn run(arguments: &[&str], file: &Path) -> Output {
    // The document stands behind the command and, for a sheet, its kind.
    let behind = if arguments[0] == "sheet" { 2 } else { 1 };
    let (first, rest) = arguments.split_at(behind);
    Command::new(env!("CARGO_BIN_EXE_witnessmark")).args(first).arg(file).args(rest).output().unwrap()
}

#[test]
fn every_build_of_the_demo_has_a_bench_sheet_on_either_paper() {
    for file in std::fs::read_dir(demo("")).unwrap().map(|entry| entry.unwrap().path()) {
        for paper in ["a4", "letter"] {
            let output = run(&["sheet", "bench", "-o", "-", "--paper", paper], &file);
            assert!(output.status.success() && output.stdout.starts_with(b"%PDF-1.7"), "{}", file.display());
        }
    }
}

#[test]
fn a_label_without_the_address_of_its_record_is_refused_with_the_reason() {
    let output = run(&["sheet", "label", "-o", "-"], &demo("ilka-race-bike.toml"));
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    assert!(String::from_utf8_lossy(&output.stderr).contains("a label needs the address"));
}

#[test]
fn the_tables_go_into_a_folder_and_a_workbook() {
    let folder = std::env::temp_dir().join(format!("witnessmark-export-{}", std::process::id()));
    let (csv, book) = (folder.join("csv"), folder.join("all.xlsx"));
    let into = ["export", "--csv", csv.to_str().unwrap(), "--xlsx", book.to_str().unwrap()];
    std::fs::create_dir_all(&folder).unwrap();
    assert!(run(&into, &demo("ilka-race-bike.toml")).status.success());
    for name in ["numbers.csv", "parts.csv", "bolts.csv", "findings.csv"] {
        assert!(std::fs::read_to_string(csv.join(name)).unwrap().lines().count() > 1, "{name}");
    }
    assert!(std::fs::read(&book).unwrap().starts_with(b"PK"));
    std::fs::remove_dir_all(&folder).unwrap();
    let nowhere = run(&["export"], &demo("ilka-race-bike.toml"));
    assert_eq!(nowhere.status.code(), Some(2), "it is not said where to");
}

#[test]
fn a_page_is_shown_of_the_bike_whose_rider_agreed_and_of_no_other() {
    let output = run(&["show", "-o", "-"], &demo("ilka-race-bike.toml"));
    let page = String::from_utf8(output.stdout).unwrap();
    assert!(output.status.success() && page.contains("saddle height") && !page.contains("58.4"), "no mass of a rider");
    let output = run(&["show", "-o", "-"], &demo("oren-new-frame.toml"));
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("show.agreed_on"));
}

#[test]
fn photos_come_out_of_a_folder_by_the_names_that_the_document_gives_them_and_what_is_no_picture_is_refused() {
    let folder = std::env::temp_dir().join(format!("witnessmark-photos-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let document = folder.join("bike.toml");
    std::fs::write(&document, "form = 1\n[job]\ntitle = \"Bike\"\n[photos.mark]\nbench = true\n").unwrap();
    let asked = ["sheet", "bench", "-o", "-", "--photos", folder.to_str().unwrap()];
    let without = run(&asked, &document);
    assert!(without.status.success(), "{}", String::from_utf8_lossy(&without.stderr));
    std::fs::write(folder.join("mark.jpg"), "no picture").unwrap();
    let refused = run(&asked, &document);
    assert_eq!(refused.status.code(), Some(2));
    let says = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(says.contains("mark.jpg") && says.contains("this is no picture"), "{says}");
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_label_of_a_roll_is_asked_for_by_its_size() {
    let label = ["sheet", "label", "-o", "-", "--record", "http://bench.example/builds/7k3m9x2a", "--paper"];
    for (paper, status) in [("62x29", 0), ("89x36", 0), ("62x1", 2), ("a3", 2)] {
        let asked: Vec<&str> = label.into_iter().chain([paper]).collect();
        let output = run(&asked, &demo("ilka-race-bike.toml"));
        assert_eq!(output.status.code(), Some(status), "{paper}: {}", String::from_utf8_lossy(&output.stderr));
    }
}
