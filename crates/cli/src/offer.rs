//! Parts on offer: a catalogue on the disk, as one TOML or CSV file or a folder of them.

use crate::print;
use std::fs::{self, File};
use std::io::{BufReader, Read};
use std::path::{Path, PathBuf};
use witnessmark_core::catalogue::Entry;
use witnessmark_intake::Problem;
use witnessmark_intake::catalogue::{CsvRows, LARGEST_TOML, kind_of_file, read_toml};

/// The parts of a catalogue; `None` when it cannot be used, which has then been said, every slip of every file at once.
pub(crate) fn parts(path: &Path) -> Option<Vec<Entry>> {
    let files = match files(path) {
        Ok(files) if files.is_empty() => {
            print::complain(&format!(
                "{}: no file of parts is there; stem.csv or parts.toml was expected",
                path.display()
            ));
            return None;
        }
        Ok(files) => files,
        Err(error) => {
            print::complain(&format!("{}: {error}", path.display()));
            return None;
        }
    };
    let mut parts = Vec::new();
    let mut problems = Vec::new();
    for file in files {
        let name = file.display().to_string();
        match read(&name, &file) {
            Ok(mut read) => parts.append(&mut read),
            Err(mut found) => problems.append(&mut found),
        }
    }
    for problem in &problems {
        print::complain(&problem.to_string());
    }
    problems.is_empty().then_some(parts)
}

/// The file, or the files of a folder that hold parts, in the order of their names.
fn files(path: &Path) -> std::io::Result<Vec<PathBuf>> {
    if !path.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let mut files = Vec::new();
    for entry in fs::read_dir(path)? {
        let file = entry?.path();
        let ending = file.extension().and_then(|ending| ending.to_str()).unwrap_or_default();
        if ["csv", "toml"].contains(&ending) {
            files.push(file);
        }
    }
    files.sort();
    Ok(files)
}

fn read(name: &str, file: &Path) -> Result<Vec<Entry>, Vec<Problem>> {
    let whole = |says: String| vec![Problem { file: Some(name.to_owned()), says, ..Problem::default() }];
    if file.extension().is_some_and(|ending| ending == "toml") {
        let mut text = String::new();
        // One byte more than is read, so that the reader can say that a file is too large.
        let read = File::open(file).and_then(|file| file.take(LARGEST_TOML + 1).read_to_string(&mut text));
        read.map_err(|error| whole(error.to_string()))?;
        return Ok(read_toml(name, &text)?.into_iter().map(|said| said.incoming.entry).collect());
    }
    let kind = kind_of_file(name).map_err(|problem| vec![problem])?;
    let reader = File::open(file).map_err(|error| whole(error.to_string()))?;
    let mut parts = Vec::new();
    let mut problems = Vec::new();
    for row in CsvRows::new(name, kind, BufReader::new(reader))? {
        match row {
            Ok(said) => parts.push(said.incoming.entry),
            Err(mut found) => problems.append(&mut found),
        }
    }
    if problems.is_empty() { Ok(parts) } else { Err(problems) }
}
