//! Reading the reference rows: inputs by name, expected values as printed.

use std::fs;
use std::path::{Path, PathBuf};
use toml::{Table, Value};

/// Where the reference rows are kept.
pub(crate) fn reference_dir() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../reference")
}

/// One reference row, which notes what was compared so that a forgotten value is found out.
pub(crate) struct Row {
    table: Table,
    seen: std::cell::RefCell<Vec<String>>,
}

/// All rows of a file that belong to one mechanism; at least one.
pub(crate) fn rows(file: &str, of: &str) -> Vec<Row> {
    let path = reference_dir().join(file);
    let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let document: Table = text.parse().unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let all = document["value"].as_array().expect("a list of rows");
    let rows: Vec<Row> = all
        .iter()
        .map(|row| row.as_table().expect("a row"))
        .filter(|row| row["of"].as_str() == Some(of))
        .map(|row| Row { table: row.clone(), seen: Vec::new().into() })
        .collect();
    assert!(!rows.is_empty(), "{file} has no row of {of}");
    rows
}

impl Row {
    /// The row's name.
    pub(crate) fn id(&self) -> &str {
        self.table["id"].as_str().expect("an id")
    }

    /// An input by its name.
    pub(crate) fn input(&self, name: &str) -> f64 {
        number(&self.table["inputs"][name])
    }

    /// An input that is a list.
    pub(crate) fn inputs(&self, name: &str) -> Vec<f64> {
        self.table["inputs"][name].as_array().expect("a list").iter().map(number).collect()
    }

    /// An expected value, as a number.
    pub(crate) fn expected(&self, name: &str) -> f64 {
        self.printed(name).parse().expect("a printed number")
    }

    fn printed(&self, name: &str) -> &str {
        self.seen.borrow_mut().push(name.to_owned());
        self.table["expected"][name].as_str().expect("a value as printed")
    }

    /// Compares one computed value with what is printed, if the row has it.
    pub(crate) fn holds(&self, name: &str, computed: f64) {
        if !self.table["expected"].as_table().expect("a table").contains_key(name) {
            return;
        }
        let printed = self.printed(name);
        let expected: f64 = printed.parse().expect("a printed number");
        let tolerance = self.table.get("tolerance").map_or_else(|| half_last_digit(printed), number);
        assert!(
            (computed - expected).abs() <= tolerance,
            "{}: {name} is {computed}, printed {printed} (± {tolerance})",
            self.id()
        );
    }

    /// Every expected value of the row has been looked at.
    pub(crate) fn all_seen(&self) {
        let seen = self.seen.borrow();
        for name in self.table["expected"].as_table().expect("a table").keys() {
            assert!(seen.contains(name), "{}: nobody compared {name}", self.id());
        }
    }
}

fn number(value: &Value) -> f64 {
    value.as_float().expect("a number with a decimal point")
}

/// Half of the last printed digit, and a hair for the binary rounding of the decimal itself.
fn half_last_digit(printed: &str) -> f64 {
    let (mantissa, exponent) = printed.split_once('e').unwrap_or((printed, "0"));
    let decimals = mantissa.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let exponent: i32 = exponent.parse().expect("an exponent");
    let last = 10_f64.powi(exponent - i32::try_from(decimals).expect("a short number"));
    last * (0.5 + 1e-6)
}
