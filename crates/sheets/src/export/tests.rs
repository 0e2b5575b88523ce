//! What goes out, read back by other programs: a CSV reader, and a reader of workbooks that shares no code with the writer.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a file that cannot be read back is to stop the test")]

use super::*;
use calamine::{Data, Reader, Xlsx};
use std::io::Cursor;
use witnessmark_core::build::sample::sample;
use witnessmark_core::plan;
use witnessmark_core::{Build, Plan};

fn workbook(build: &Build, plan: &Plan) -> Xlsx<Cursor<Vec<u8>>> {
    Xlsx::new(Cursor::new(xlsx(build, plan).unwrap())).unwrap()
}

fn read_csv(file: &CsvFile) -> Vec<Vec<String>> {
    let mark = "\u{feff}".as_bytes();
    let bytes = file.bytes.strip_prefix(mark).unwrap();
    let mut reader = ::csv::ReaderBuilder::new().has_headers(false).from_reader(bytes);
    reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
}

#[test]
fn the_same_build_gives_the_same_bytes() {
    let build = sample();
    let plan = plan(&build);
    assert!(xlsx(&build, &plan).unwrap() == xlsx(&build, &plan).unwrap());
    assert_eq!(csv(&build, &plan).unwrap(), csv(&build, &plan).unwrap());
}

#[test]
fn an_independent_reader_finds_every_value_in_the_workbook() {
    let build = sample();
    let plan = plan(&build);
    let mut book = workbook(&build, &plan);
    for table in tables(&build, &plan) {
        let range = book.worksheet_range(table.name).unwrap();
        assert_eq!(range.height(), table.rows.len() + 1, "{}", table.name);
        for (at, column) in table.columns.iter().enumerate() {
            assert_eq!(range.get((0, at)), Some(&Data::String(column.name.into())));
        }
        for (row, cells) in table.rows.iter().enumerate() {
            for (at, cell) in cells.iter().enumerate() {
                let read = range.get((row + 1, at)).unwrap_or(&Data::Empty);
                match (cell, read) {
                    (Cell::Empty, Data::Empty) => {}
                    (Cell::Number(value), Data::Float(read)) => {
                        assert!((value - read).abs() <= value.abs() * 1e-14, "{value} became {read}");
                    }
                    (Cell::Money(cents), Data::Float(read)) => assert_eq!(crate::money::Cents::of(*read), Some(*cents)),
                    (Cell::Text(text), Data::String(read)) => assert_eq!(text, read),
                    (Cell::Day(day), Data::DateTime(read)) => {
                        let (year, month, date, ..) = read.to_ymd_hms_milli();
                        assert_eq!(day.to_string(), format!("{year:04}-{month:02}-{date:02}"));
                    }
                    _ => panic!("{}: row {row}, {}: {cell:?} became {read:?}", table.name, table.columns[at].name),
                }
            }
        }
    }
}

#[test]
fn both_files_have_the_same_columns_and_rows() {
    let build = sample();
    let plan = plan(&build);
    let mut book = workbook(&build, &plan);
    for file in csv(&build, &plan).unwrap() {
        let rows = read_csv(&file);
        let range = book.worksheet_range(file.name.trim_end_matches(".csv")).unwrap();
        assert_eq!((rows.len(), rows[0].len()), (range.height(), range.width()), "{}", file.name);
        let heads: Vec<String> = range.rows().next().unwrap().iter().map(ToString::to_string).collect();
        assert_eq!(rows[0], heads, "{}", file.name);
    }
}

#[test]
fn nothing_that_a_person_typed_is_a_formula() {
    for typed in ["=1+1", "+41 99", "-5 or so", "@SUM(A1)", "\t=2", "=HYPERLINK(\"http://x.example\",\"look\")"] {
        let mut build = sample();
        build.parts.stem.make("").name = Some(typed.into());
        let plan = plan(&build);
        let parts = csv(&build, &plan).unwrap().into_iter().find(|file| file.name == "parts.csv").unwrap();
        let rows = read_csv(&parts);
        let stem = rows.iter().find(|row| row[1] == "stem").unwrap();
        assert_eq!(stem[3], format!("'{typed}"));
        let mut book = workbook(&build, &plan);
        assert!(book.worksheet_formula("parts").unwrap().cells().all(|(_, _, formula)| formula.is_empty()));
        let range = book.worksheet_range("parts").unwrap();
        assert!(range.cells().any(|(_, _, cell)| *cell == Data::String(typed.into())), "{typed}");
    }
}

#[test]
fn no_cell_of_the_csv_but_a_number_begins_like_a_formula() {
    let build = sample();
    for file in csv(&build, &plan(&build)).unwrap() {
        for cell in read_csv(&file).into_iter().flatten() {
            let dangerous = cell.starts_with(['=', '+', '-', '@']);
            assert!(!dangerous || cell.parse::<f64>().is_ok(), "{}: {cell}", file.name);
        }
    }
}

#[test]
fn an_empty_build_goes_out_too() {
    let build = Build::default();
    let plan = plan(&build);
    assert!(!xlsx(&build, &plan).unwrap().is_empty());
    assert_eq!(csv(&build, &plan).unwrap().len(), 4);
}
