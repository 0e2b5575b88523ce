//! Reading the computed tables of `reference/`.

use std::collections::BTreeMap;
use std::fmt;
use std::fs;
use std::path::Path;

/// One line of a table, by column name.
pub(crate) struct Line {
    number: usize,
    cells: BTreeMap<String, String>,
}

/// All lines below the header.
pub(crate) fn lines(file: &str) -> Vec<Line> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../reference").join(file);
    let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let mut rows = text.lines().enumerate();
    let (_, header) = rows.next().expect("a header");
    let names: Vec<&str> = header.split(',').collect();
    rows.map(|(index, row)| {
        let cells: Vec<&str> = row.split(',').collect();
        assert_eq!(cells.len(), names.len(), "{file}, line {}", index + 1);
        let cells = names.iter().zip(cells).map(|(name, cell)| ((*name).to_owned(), cell.to_owned())).collect();
        Line { number: index + 1, cells }
    })
    .collect()
}

impl Line {
    /// A cell as it stands.
    pub(crate) fn text(&self, name: &str) -> &str {
        self.cells.get(name).unwrap_or_else(|| panic!("no column {name}"))
    }

    /// A cell as a number.
    pub(crate) fn get(&self, name: &str) -> f64 {
        self.text(name).parse().unwrap_or_else(|error| panic!("{self}, {name}: {error}"))
    }

    /// Compares a computed value with a cell.
    pub(crate) fn holds(&self, name: &str, computed: f64, tolerance: f64) {
        let kept = self.get(name);
        assert!((computed - kept).abs() <= tolerance, "{self}: {name} is {computed}, table {kept}");
    }
}

impl fmt::Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}", self.number)
    }
}
