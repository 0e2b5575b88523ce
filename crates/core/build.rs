//! Reads the rule books of `rules/` and writes them down as constants, so that the core needs no parser when it runs and
//! a slip in a row stops the build with its file, line and column.

#![allow(clippy::disallowed_methods, reason = "the rules are read from the disk once, when the crate is built")]

use serde::Deserialize;
use std::error::Error;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use toml::value::Datetime;

/// A file: its head and its rows.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Book {
    rules: String,
    covers_from: Datetime,
    covers_until: Datetime,
    limit: Vec<Row>,
}

/// A row, in the words of `rules/README.md`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    id: String,
    number: Option<String>,
    min: Option<f64>,
    max: Option<f64>,
    unit: Option<String>,
    nothing: Option<bool>,
    figure_not_found: Option<bool>,
    by_eye: Option<String>,
    measuring_tolerance: Option<f64>,
    exempt_min: Option<f64>,
    exempt_max: Option<f64>,
    exemption: Option<String>,
    ages: Option<[i16; 2]>,
    class: Option<String>,
    article: String,
    measured: String,
    from: Datetime,
    first_day_not_found: Option<bool>,
    until: Option<Datetime>,
    status: String,
    weighs: String,
    source: String,
    seen: String,
    checked_on: Datetime,
    caveat: Option<String>,
}

fn main() -> Result<(), Box<dyn Error>> {
    let here = PathBuf::from(std::env::var("CARGO_MANIFEST_DIR")?);
    let rules = here.join("../../rules");
    let declared = here.join("src/rulebook/mod.rs");
    for path in [&rules, &declared] {
        println!("cargo::rerun-if-changed={}", path.display());
    }
    let declared = std::fs::read_to_string(declared)?;
    let mut text = String::from("pub(super) const BOOKS: &[Book] = &[\n");
    for path in files(&rules, "toml")? {
        let at = |error: &dyn std::fmt::Display| format!("{}: {error}", path.display());
        let book: Book = toml::from_str(&std::fs::read_to_string(&path)?).map_err(|error| at(&error))?;
        let file = path.strip_prefix(&rules)?.with_extension("");
        write_book(&mut text, &file.to_string_lossy().replace('\\', "/"), &book, &declared)
            .map_err(|error| at(&error))?;
    }
    text.push_str("];\n");
    std::fs::write(Path::new(&std::env::var("OUT_DIR")?).join("books.rs"), text)?;
    warn_of_forgotten_checks(&here.join("src/check"))?;
    Ok(())
}

/// A check whose word is missing in `checks!` is never compiled, so the compiler cannot miss it: it is named here, each
/// time the crate is built, and a test fails over it. It is no error, because a file is written before its word.
fn warn_of_forgotten_checks(folder: &Path) -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed={}", folder.display());
    let table = std::fs::read_to_string(folder.join("mod.rs"))?;
    let table =
        table.split("\nchecks! {").nth(1).and_then(|rest| rest.split("\n}\n").next()).ok_or("no checks! table")?;
    let words: Vec<&str> = table.split(|c: char| !(c.is_alphanumeric() || c == '_')).collect();
    for file in files(folder, "rs")? {
        let name = file.file_stem().unwrap_or_default().to_string_lossy();
        if !words.contains(&name.as_ref()) {
            println!("cargo::warning={} stands in no checks! table and is never run", file.display());
        }
    }
    Ok(())
}

/// The files with this ending in the folders of a folder, in the order of their names.
fn files(folder: &Path, wanted: &str) -> Result<Vec<PathBuf>, Box<dyn Error>> {
    let mut files = Vec::new();
    for body in std::fs::read_dir(folder)? {
        let body = body?.path();
        if body.is_dir() {
            for topic in std::fs::read_dir(body)? {
                files.push(topic?.path());
            }
        }
    }
    files.retain(|path| path.extension().is_some_and(|ending| ending == wanted));
    files.sort();
    Ok(files)
}

fn write_book(text: &mut String, file: &str, book: &Book, declared: &str) -> Result<(), Box<dyn Error>> {
    let rules = variant("Rules", &book.rules, declared)?;
    let (from, until) = (day(book.covers_from)?, day(book.covers_until)?);
    writeln!(text, "Book {{ file: {file:?}, rules: {rules}, covers_from: {from}, covers_until: {until}, limits: &[")?;
    for row in &book.limit {
        write_row(text, &rules, row, declared).map_err(|error| format!("{}: {error}", row.id))?;
    }
    text.push_str("] },\n");
    Ok(())
}

fn write_row(text: &mut String, rules: &str, row: &Row, declared: &str) -> Result<(), Box<dyn Error>> {
    let (asks, scale) = asks(row)?;
    let exemption = row.exemption.as_ref().map_or("None".to_owned(), |says| {
        format!("Some(Exemption {{ within: {}, says: {says:?} }})", range(row.exempt_min, row.exempt_max, scale))
    });
    let ages = match (row.ages, &row.class) {
        (Some([low, high]), Some(class)) => format!("Some(Ages {{ low: {low}, high: {high}, class: {class:?} }})"),
        (None, None) => "None".to_owned(),
        _ => return Err("ages and class belong together".into()),
    };
    let until = row.until.map(day).transpose()?.map_or("None".to_owned(), |until| format!("Some({until})"));
    writeln!(
        text,
        "Limit {{ id: {:?}, rules: {rules}, number: {:?}, asks: {asks}, measuring_tolerance: {:?}, \
         exemption: {exemption}, ages: {ages}, article: {:?}, measured: {:?}, from: {}, first_day_known: {}, until: {until}, status: {}, \
         weighs: {}, source: {:?}, seen: {}, checked_on: {}, caveat: {:?} }},",
        row.id,
        row.number,
        row.measuring_tolerance.unwrap_or(0.0) * scale,
        row.article,
        row.measured,
        day(row.from)?,
        row.first_day_not_found != Some(true),
        variant("Status", &row.status, declared)?,
        variant("Weighs", &row.weighs, declared)?,
        row.source,
        variant("Seen", &row.seen, declared)?,
        day(row.checked_on)?,
        row.caveat.as_deref().unwrap_or_default(),
    )?;
    Ok(())
}

/// What a row asks, and how many of the house's units its own unit is.
fn asks(row: &Row) -> Result<(String, f64), Box<dyn Error>> {
    let bounded = row.min.is_some() || row.max.is_some();
    let kinds = [bounded, row.nothing == Some(true), row.figure_not_found == Some(true), row.by_eye.is_some()];
    if kinds.iter().filter(|said| **said).count() != 1 {
        return Err("one of min and max, nothing, figure_not_found or by_eye is expected".into());
    }
    if row.by_eye.is_none() != row.number.is_some() {
        return Err("a row limits a number, or is looked at by eye".into());
    }
    let scale = match (row.unit.as_deref(), bounded) {
        (Some("mm" | "deg" | "g" | "1"), true) | (None, false) => 1.0,
        (Some("kg" | "m"), true) => 1000.0,
        (unit, _) => return Err(format!("the unit {unit:?} is none of mm, m, deg, g, kg and 1").into()),
    };
    let asks = match &row.by_eye {
        Some(says) => format!("Asks::ByEye({says:?})"),
        None if bounded => format!("Asks::Within({})", range(row.min, row.max, scale)),
        None if row.nothing == Some(true) => "Asks::Nothing".to_owned(),
        None => "Asks::FigureNotFound".to_owned(),
    };
    Ok((asks, scale))
}

fn range(min: Option<f64>, max: Option<f64>, scale: f64) -> String {
    let end = |end: Option<f64>, none: &str| end.map_or(none.to_owned(), |end| format!("{:?}", rounded(end * scale)));
    format!("Range {{ low: {}, high: {} }}", end(min, "f64::NEG_INFINITY"), end(max, "f64::INFINITY"))
}

/// 6.93 m are 6930 mm, and not 6929.999 999 999 999.
fn rounded(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

fn day(day: Datetime) -> Result<String, Box<dyn Error>> {
    match day {
        Datetime { date: Some(date), time: None, offset: None } => {
            Ok(format!("date({}, {}, {})", date.year, date.month, date.day))
        }
        other => Err(format!("{other} is no calendar day").into()),
    }
}

/// The Rust word for a word of the files, from the declaration itself: `Uci = "UCI, road mass start",`.
fn variant(of: &str, word: &str, declared: &str) -> Result<String, Box<dyn Error>> {
    let start = format!("pub enum {of} {{");
    let body = declared.split_once(&start).map_or("", |(_, rest)| rest).split('}').next().unwrap_or_default();
    let mut pairs = body.lines().filter_map(|line| line.trim().trim_end_matches("\",").split_once(" = \""));
    let found = pairs.find(|(_, known)| *known == word);
    found.map(|(variant, _)| format!("{of}::{variant}")).ok_or_else(|| format!("“{word}” is no word of {of}").into())
}
