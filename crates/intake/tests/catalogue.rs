//! A folder of bad tables, one a file, named for what is wrong and for its kind; and the page that explains good ones.
//!
//! What is printed for each file is kept beside it, so that a person can read all messages from top to bottom and a change
//! of one is seen. After a change that is meant: `WITNESSMARK_WRITE=1 cargo test -p witnessmark-intake --test catalogue`,
//! and read the difference.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use std::fmt::Write as _;
use std::path::Path;
use witnessmark_intake::Problem;
use witnessmark_intake::catalogue::{CsvRows, guide, kind_of_file, read_toml};

#[test]
fn every_bad_file_is_refused_with_the_message_that_is_kept() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad-catalogue");
    let mut names: Vec<String> = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| name != "messages.txt")
        .collect();
    names.sort();
    assert!(names.len() > 30);
    let mut said = String::new();
    for name in &names {
        let problems = problems(name, &std::fs::read(folder.join(name)).unwrap());
        assert!(!problems.is_empty(), "{name} is read as if nothing were wrong with it");
        for problem in problems {
            let text = problem.to_string();
            assert!(text.starts_with(name.as_str()) && !text.contains(char::is_control), "{text:?}");
            let _ = writeln!(said, "{text}");
        }
    }
    kept(&folder.join("messages.txt"), &said);
}

#[test]
fn the_page_on_tables_is_made_from_the_kinds_of_part() {
    kept(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/catalogue.md"), &guide());
}

/// `ragged-rows.stem.csv` is a table of stems, `slips.toml` a catalogue of any kinds.
fn problems(name: &str, bytes: &[u8]) -> Vec<Problem> {
    if Path::new(name).extension().is_some_and(|ending| ending == "toml") {
        return read_toml(name, std::str::from_utf8(bytes).unwrap()).err().unwrap_or_default();
    }
    let kind_of = name.split('.').rev().nth(1).map(|word| format!("{word}.csv")).unwrap();
    let kind = match kind_of_file(&kind_of) {
        Ok(kind) => kind,
        Err(problem) => return vec![Problem { file: Some(name.to_owned()), ..problem }],
    };
    match CsvRows::new(name, kind, bytes) {
        Ok(rows) => rows.filter_map(Result::err).flatten().collect(),
        Err(problems) => problems,
    }
}

fn kept(path: &Path, text: &str) {
    if std::env::var_os("WITNESSMARK_WRITE").is_some() {
        std::fs::write(path, text).unwrap();
    }
    assert_eq!(text, std::fs::read_to_string(path).unwrap_or_default(), "{} is stale", path.display());
}
