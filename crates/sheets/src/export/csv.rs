//! Tables as CSV: UTF-8 with its mark so that a spreadsheet reads accents, commas, lines ended as RFC 4180 says.

use super::tables::{Cell, Table, tables};
use witnessmark_core::{Build, Plan};

/// A table as a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CsvFile {
    /// Its name: `numbers.csv`.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// Every table of a build as a file each. Refuses only where memory itself refuses.
pub fn csv(build: &Build, plan: &Plan) -> Result<Vec<CsvFile>, ::csv::Error> {
    tables(build, plan).iter().map(file).collect()
}

fn file(table: &Table) -> Result<CsvFile, ::csv::Error> {
    let mut writer = ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(Vec::from("\u{feff}"));
    writer.write_record(table.columns.iter().map(|column| column.name))?;
    for row in &table.rows {
        writer.write_record(row.iter().map(written))?;
    }
    let bytes = writer.into_inner().map_err(|error| ::csv::Error::from(error.into_error()))?;
    Ok(CsvFile { name: format!("{}.csv", table.name), bytes })
}

/// A cell as text, every digit kept: a number reads back to itself.
fn written(cell: &Cell) -> String {
    match cell {
        Cell::Empty => String::new(),
        Cell::Number(value) => value.to_string(),
        Cell::Money(cents) => cents.to_string().replace('−', "-"),
        Cell::Day(day) => day.to_string(),
        Cell::Text(text) => harmless(text),
    }
}

/// A text that no program takes for a formula.
fn harmless(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠']) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}
