//! What must hold for any bytes whatever, one function a way in; a broken promise is a panic.
//!
//! The fuzzer calls these with bytes of its own making (`targets/`), and a test of `crates/intake` calls them with the bytes
//! that are kept (`corpus/`), so that what was found once is tried in every run. Hence no dependency beyond the two crates.

#![allow(clippy::panic, clippy::unwrap_used, reason = "a broken promise is to stop the run")]

mod bytes;
mod paths;

use bytes::Bytes;
use paths::{all_paths, survey_paths};
use witnessmark_core::build::sample::sample;
use witnessmark_core::catalogue::Entry;
use witnessmark_core::field::Value;
use witnessmark_core::part::KINDS;
use witnessmark_core::{Build, stand, survey};
use witnessmark_intake::catalogue::{CsvRows, read_toml, write_csv, write_toml};
use witnessmark_intake::quantity::{Dimension, plain, read, read_list};
use witnessmark_intake::{Problem, from_leaves, leaf, write};

/// A way in: the name of its folder in `corpus/`, and what must hold there.
pub type Way = (&'static str, fn(&[u8]));

/// Every way in.
pub const WAYS: &[Way] = &[
    ("document", document),
    ("table", table),
    ("catalogue", catalogue),
    ("quantity", quantity),
    ("edit", edit),
    ("survey", surveyed),
    ("plan", planned),
];

/// A build document: read, or refused in sentences; what was read is written and reads back as the same document.
pub fn document(bytes: &[u8]) {
    match witnessmark_intake::file("a.toml", bytes) {
        Ok(build) => assert_eq!(witnessmark_intake::document("a.toml", &write(&build)).as_ref(), Ok(&build)),
        Err(problems) => in_sentences(&problems),
    }
}

/// A table of parts of one kind: the first byte says which, the rest is the file. What was read is written and reads back.
pub fn table(bytes: &[u8]) {
    let Some((first, file)) = bytes.split_first() else { return };
    let kind = &KINDS[usize::from(*first) % KINDS.len()];
    let rows = match CsvRows::new("a.csv", kind, file) {
        Ok(rows) => rows,
        Err(problems) => return in_sentences(&problems),
    };
    let mut parts: Vec<Entry> = Vec::new();
    for row in rows {
        match row {
            Ok(said) => {
                let mut part = said.incoming.entry;
                // How many there are is a number that the workshop counts on, and no text: `09` is written as 9.
                if let Some(stock) = &mut part.stock {
                    stock.typed = stock.value.to_string();
                }
                parts.push(part);
            }
            Err(problems) => in_sentences(&problems),
        }
    }
    if parts.is_empty() {
        return;
    }
    let written = write_csv(kind, &parts.iter().collect::<Vec<_>>(), b',');
    let back =
        CsvRows::new("b.csv", kind, written.as_bytes()).unwrap_or_else(|problems| panic!("{problems:?}\n{written}"));
    let back: Vec<Entry> =
        back.map(|row| row.unwrap_or_else(|problems| panic!("{problems:?}\n{written}")).incoming.entry).collect();
    assert_eq!(back, parts, "{written}");
}

/// A catalogue of any kinds: the same.
pub fn catalogue(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    match read_toml("a.toml", text) {
        Ok(said) => {
            let parts: Vec<Entry> = said.into_iter().map(|said| said.incoming.entry).collect();
            let written = write_toml(&parts);
            let back = read_toml("b.toml", &written).unwrap_or_else(|problems| panic!("{problems:?}\n{written}"));
            assert_eq!(back.len(), parts.len(), "{written}");
            for part in back.into_iter().map(|said| said.incoming.entry) {
                assert!(parts.contains(&part), "{part:?}\n{written}");
            }
        }
        Err(problems) => in_sentences(&problems),
    }
}

/// One field's text: the first two bytes say which field. A value is within its bounds, and reads back as itself.
pub fn quantity(bytes: &[u8]) {
    let mut bytes = Bytes::new(bytes);
    let paths = all_paths();
    let path = &paths[usize::from(bytes.two()) % paths.len()];
    let Ok(text) = std::str::from_utf8(bytes.rest()) else { return };
    for dimension in Dimension::ALL {
        match read(text, dimension) {
            Ok(value) => {
                assert!(dimension.sane().contains(&value), "{text:?} is {value} as {dimension:?}");
                assert_eq!(read(&plain(value, dimension), dimension), Ok(value), "{text:?} as {dimension:?}");
            }
            Err(refusal) => is_sentence(&refusal.to_string()),
        }
        match read_list(text, dimension) {
            Ok(values) => assert!(values.iter().all(|value| value.is_finite()), "{text:?} is {values:?}"),
            Err(refusal) => is_sentence(&refusal.to_string()),
        }
    }
    let field = Build::field(path).unwrap();
    match leaf(path, text) {
        Ok(leaf) => {
            assert_eq!(leaf.typed, text);
            let held = |value: &f64| value.is_finite() && field.low <= *value && *value <= field.high;
            match &leaf.value {
                Value::Number(value) => assert!(held(value), "{path} = {text:?} is {value}"),
                Value::Numbers(values) => assert!(values.iter().all(held), "{path} = {text:?} is {values:?}"),
                Value::Count(count) => assert!(held(&f64::from(*count)), "{path} = {text:?} is {count}"),
                Value::Counts(counts) => {
                    assert!(counts.iter().all(|count| held(&f64::from(*count))), "{path} = {text:?} is {counts:?}");
                }
                Value::Day(_) | Value::YesNo(_) | Value::Text(_) => {}
            }
        }
        Err(problem) => in_sentences(&[problem]),
    }
}

/// Edits, two lines each: a path and a text. Setting, getting and undoing are each other's inverse, and so are leaves and
/// document.
pub fn edit(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let mut lines = text.split('\n');
    let mut build = Build::default();
    while let Some(path) = lines.next() {
        let typed = lines.next().unwrap_or_default();
        let given = match leaf(path, typed) {
            Ok(given) => given,
            Err(problem) => {
                in_sentences(std::slice::from_ref(&problem));
                if let Err(unknown) = Build::field(path) {
                    assert!(unknown.at <= path.split('.').count(), "{path:?}: {unknown:?}");
                    assert_eq!(build.set(path, None), Err(unknown));
                }
                continue;
            }
        };
        let (before, was) = (build.clone(), build.get(path).unwrap());
        build.set(path, Some(given.clone())).unwrap_or_else(|unknown| panic!("{path} = {typed:?}: {unknown:?}"));
        match build.get(path).unwrap() {
            Some(now) if is_origin(path) => assert_eq!(now.value, given.value, "{path} = {typed:?}"),
            Some(now) => assert_eq!((&now.value, &now.typed), (&given.value, &given.typed), "{path}"),
            // An origin without a fact has nothing to belong to.
            None => assert!(is_origin(path), "{path} = {typed:?} is gone"),
        }
        let after = build.clone();
        build.set(path, was).unwrap();
        assert_eq!(build, before, "{path} = {typed:?} was not undone");
        build = after;
    }
    let leaves = build.leaves().into_iter().map(|(path, leaf)| (path, leaf.typed));
    assert_eq!(from_leaves(leaves), (build.clone(), Vec::new()));
    assert_eq!(witnessmark_intake::document("a.toml", &write(&build)), Ok(build));
}

/// A survey of arbitrary readings: it ends, and what it says of a value is a number.
pub fn surveyed(bytes: &[u8]) {
    let mut bytes = Bytes::new(bytes);
    let mut build = match bytes.one() % 4 {
        0 => Build::default(),
        1 => demo(include_str!("../../demo/surveys/seven-readings.toml")),
        2 => demo(include_str!("../../demo/surveys/old-tape.toml")),
        _ => sample(),
    };
    let in_bounds = bytes.change(&mut build, survey_paths());
    let survey = survey::survey(&build);
    if in_bounds {
        for value in survey.numbers.iter().filter_map(|number| number.value.as_ref().ok()) {
            assert!(value.value.is_finite() && !value.sd.is_nan(), "{value:?}");
        }
    }
    for finding in &survey.findings {
        says(&[&finding.what, &finding.why, &finding.action]);
    }
}

/// A plan of an arbitrary document: it ends, and what it knows is a number.
pub fn planned(bytes: &[u8]) {
    let mut bytes = Bytes::new(bytes);
    let mut build = match bytes.one() % 4 {
        0 => Build::default(),
        1 => demo(include_str!("../../demo/builds/ilka-race-bike.toml")),
        2 => demo(include_str!("../../demo/builds/oren-new-frame.toml")),
        _ => sample(),
    };
    let in_bounds = bytes.change(&mut build, all_paths());
    let plan = witnessmark_core::plan(&build);
    if in_bounds {
        for number in plan.numbers.each() {
            if let Ok(value) = number.planned {
                assert!(value.is_finite(), "{} {}: {value}", number.number.id, number.side.word());
            }
        }
    }
    for finding in &plan.findings {
        says(&[&finding.what, &finding.why, &finding.action]);
    }
    let work = stand::stand(&build, &plan);
    assert!(!work.steps.is_empty());
}

fn demo(text: &str) -> Build {
    witnessmark_intake::document("demo", text).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn is_origin(path: &str) -> bool {
    Build::field(path).is_ok_and(|field| field.name == "from")
        && path.rsplit_once('.').is_some_and(|(fact, _)| Build::field(fact).is_ok())
}

fn says(sentences: &[&str]) {
    for sentence in sentences {
        is_sentence(sentence);
        assert!(!sentence.contains("NaN") && !sentence.contains("inf mm"), "{sentence}");
    }
}

fn in_sentences(problems: &[Problem]) {
    assert!(!problems.is_empty(), "refused without a word");
    for problem in problems {
        is_sentence(&problem.to_string());
        is_sentence(&problem.says);
    }
}

/// On one line, with something on it, and not a page of it.
fn is_sentence(text: &str) {
    assert!(!text.trim().is_empty());
    assert!(!text.contains(char::is_control), "{text:?}");
}
