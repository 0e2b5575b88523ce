//! The catalogue at the terminal, through the binary itself: what is imported is there, what is refused is not.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// A workshop's file in a folder that goes away.
struct Workshop(PathBuf);

impl Workshop {
    fn new(name: &str) -> Self {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("parts-{name}-{}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        Workshop(folder)
    }

    fn path(&self, name: &str) -> String {
        self.0.join(name).to_str().unwrap().to_owned()
    }

    fn write(&self, name: &str, text: &str) -> String {
        fs::write(self.0.join(name), text).unwrap();
        self.path(name)
    }

    fn parts(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_witnessmark"))
            .arg("parts")
            .args(arguments)
            .args(["--data", &self.path("workshop.sqlite")])
            .stdin(Stdio::null())
            .output()
            .unwrap()
    }

    /// What is printed, where nothing is wrong.
    fn says(&self, arguments: &[&str]) -> String {
        let output = self.parts(arguments);
        let complaint = String::from_utf8(output.stderr).unwrap();
        assert!(output.status.success() && complaint.is_empty(), "{arguments:?}: {complaint}");
        String::from_utf8(output.stdout).unwrap()
    }

    /// What is complained of, where something is.
    fn refuses(&self, arguments: &[&str]) -> String {
        let output = self.parts(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", String::from_utf8_lossy(&output.stdout));
        String::from_utf8(output.stderr).unwrap()
    }
}

impl Drop for Workshop {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn demo() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/catalogue");
    let mut files: Vec<String> =
        fs::read_dir(folder).unwrap().map(|file| file.unwrap().path().to_str().unwrap().to_owned()).collect();
    files.sort();
    files
}

fn with<'a>(first: &[&'a str], files: &'a [String]) -> Vec<&'a str> {
    first.iter().copied().chain(files.iter().map(String::as_str)).collect()
}

#[test]
fn the_demo_catalogue_comes_in_and_goes_out_as_it_was() {
    let one = Workshop::new("round");
    let demo = demo();
    let first = one.says(&with(&["import", "--yes"], &demo));
    assert!(first.contains(" new\n") && first.ends_with("Written.\n"), "{first}");
    let again = one.says(&with(&["import", "--yes"], &demo));
    assert!(again.ends_with("as they are\nNothing was to be written.\n"), "{again}");

    let toml = one.says(&["export"]);
    one.says(&["export", "--into", &one.path("tables")]);
    let tables: Vec<String> = fs::read_dir(one.0.join("tables"))
        .unwrap()
        .map(|file| file.unwrap().path().to_str().unwrap().to_owned())
        .collect();
    assert_eq!(tables.len(), demo.len());

    // Both ways into a workshop of its own give the same catalogue again.
    let by_table = Workshop::new("by-table");
    by_table.says(&with(&["import", "--yes"], &tables));
    assert_eq!(by_table.says(&["export"]), toml);
    let by_toml = Workshop::new("by-toml");
    by_toml.says(&["import", "--yes", &by_toml.write("all.toml", &toml)]);
    assert_eq!(by_toml.says(&["export"]), toml);
    let semicolons = one.says(&["export", "--kind", "bar", "--semicolons"]);
    by_toml.says(&["import", "--yes", &by_toml.write("bar.csv", &semicolons)]);
    assert_eq!(by_toml.says(&["export"]), toml);
}

#[test]
fn one_slip_in_the_last_row_leaves_everything_as_it_was() {
    let workshop = Workshop::new("slip");
    workshop.says(&["import", "--yes", &workshop.write("stem.csv", "id,length\nkept,110\n")]);
    let before = workshop.says(&["export"]);
    let mut rows = "id,length\nkept,120\n".to_owned();
    for at in 0..2_000 {
        let _ = writeln!(rows, "s{at},{}", 60 + at % 100);
    }
    rows += "last,9 kg\nkept,100\n";
    let complaint = workshop.refuses(&["import", "--yes", &workshop.write("stem.csv", &rows)]);
    assert!(complaint.contains(":2003:2: length: “9 kg” is a mass"), "{complaint}");
    assert!(complaint.contains(":2004:1: id: “kept” stands on line 2 already"), "{complaint}");
    assert!(complaint.ends_with("2 slips were found. Nothing was written.\n"), "{complaint}");
    assert_eq!(workshop.says(&["export"]), before);
}

#[test]
fn slips_are_all_counted_and_some_are_printed() {
    let workshop = Workshop::new("many-slips");
    let rows = format!("id,length\n{}", "x,heavy\n".repeat(500));
    let complaint = workshop.refuses(&["import", "--yes", &workshop.write("stem.csv", &rows)]);
    assert_eq!(complaint.lines().count(), 41);
    // The first row has one slip; the id of each further one stands twice if the first was good, which it was not.
    assert!(
        complaint.ends_with("500 slips were found (460 more than are printed). Nothing was written.\n"),
        "{complaint}"
    );
}

#[test]
fn nothing_is_written_unasked() {
    let workshop = Workshop::new("unasked");
    let file = workshop.write("stem.csv", "id,length\none,110\n");
    assert!(workshop.says(&["import", "--dry-run", &file]).ends_with("Nothing was written.\n"));
    assert!(workshop.refuses(&["import", &file]).contains("Say --yes"));
    assert_eq!(workshop.says(&["export"]), "form = 1\n");
}

#[test]
fn what_changes_is_shown_and_a_build_is_told() {
    let workshop = Workshop::new("told");
    workshop.says(&["import", "--yes", &workshop.write("stem.csv", "id,length,stock\none,110,2\n")]);
    let changed =
        workshop.says(&["import", "--yes", &workshop.write("stem.csv", "id,length,stock\none,\"112,5\",2\n")]);
    assert!(changed.contains("stem one: length 110 → 112,5"), "{changed}");
    let restocked = workshop.says(&["import", "--yes", &workshop.write("stem.csv", "id,stock\none,7\n")]);
    assert!(restocked.contains("1  with another number on the shelf"), "{restocked}");

    let build = "form = 1\n[parts.stem]\nlength = 110\ncatalogue_id = \"one\"\ncatalogue_version = 1\n";
    let told = workshop.says(&["newer", &workshop.write("build.toml", build)]);
    assert!(told.contains("built with version 1, now 2"), "{told}");
    assert!(told.contains("stem one: length 110 → 112,5"), "{told}");
}

#[test]
fn a_fact_that_is_better_known_stays() {
    let workshop = Workshop::new("better");
    let measured = "id,length,length from\none,109.4,measured here\n";
    workshop.says(&["import", "--yes", &workshop.write("stem.csv", measured)]);
    let said = workshop.says(&["import", "--yes", &workshop.write("stem.csv", "id,length\none,110\n")]);
    assert!(said.contains("1  facts stay as they are"), "{said}");
    assert!(workshop.says(&["export"]).contains("value = 109.4"));
}

#[test]
fn parts_are_found_by_words_and_figures() {
    let workshop = Workshop::new("find");
    workshop.says(&with(&["import", "--yes"], &demo()));
    let found = workshop.says(&["find", "stem", "110", "-6"]);
    assert!(found.contains("plain-110") && found.ends_with("1 part\n"), "{found}");
    let json: serde_json::Value = serde_json::from_str(&workshop.says(&["find", "--json", "sadle", "145"])).unwrap();
    assert_eq!(json["all"], 1);
    assert_eq!(json["parts"][0]["facts"]["nose_to_reference.from"], "measured here");
    assert!(workshop.says(&["find", "nosuchpart"]).starts_with("no part meets"));
}

#[test]
fn a_part_in_two_files_is_refused() {
    let workshop = Workshop::new("two-files");
    let one = workshop.write("stem.csv", "id,length\none,110\n");
    let two = workshop.write("stem-more.csv", "id,length\none,120\n");
    assert!(workshop.refuses(&["import", "--yes", &one, &two]).contains("“one” stands in another of these files"));
    assert_eq!(workshop.says(&["export"]), "form = 1\n");
}

#[test]
fn a_file_that_names_no_kind_or_cannot_be_read_is_told() {
    let workshop = Workshop::new("no-kind");
    let file = workshop.write("list.csv", "id,length\none,110\n");
    assert!(workshop.refuses(&["import", "--yes", &file]).contains("does not say which kind"));
    assert!(workshop.says(&["import", "--yes", "--kind", "stem", &file]).ends_with("Written.\n"));
    assert!(workshop.refuses(&["import", "--yes", &workshop.path("stem-lost.csv")]).contains("stem-lost.csv"));
}
