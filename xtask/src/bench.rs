//! `cargo xtask bench`: how long the work takes, on this machine, now.
//!
//! A benchmark is a program of the crate it measures, and prints its own figures. Listing it here is all that is needed.

use crate::reference::environment;
use crate::shell::{cargo, run as sh};
use std::path::Path;

/// Where a benchmark stands in its crate.
#[derive(Clone, Copy)]
enum Place {
    /// `benches/<name>.rs`
    Bench,
    /// `examples/<name>.rs`
    Example,
}

/// What is measured: package, place, name, and what its figures mean.
const BENCHES: &[(&str, Place, &str, &str)] = &[
    ("witnessmark-core", Place::Bench, "reach", "the plan, and the search backwards beside NumPy"),
    ("witnessmark-core", Place::Bench, "survey", "a survey of forty readings beside SciPy"),
    ("witnessmark-core", Place::Bench, "chain", "the chain in every gear at every length beside SciPy"),
    ("witnessmark-core", Place::Bench, "choose", "what would fit, and the exact choice of a list beside CP-SAT"),
    ("witnessmark-core", Place::Bench, "find", "search as you type over 100 000 parts"),
    (
        "witnessmark-sheets",
        Place::Bench,
        "paper",
        "sheets as PDF, the workbook and the show page, beside a browser that prints",
    ),
    ("witnessmark", Place::Bench, "catalogue", "import and export of 100 000 parts"),
    ("witnessmark-store", Place::Example, "durable", "durable edits beside the bare engine"),
    (
        "witnessmark",
        Place::Bench,
        "stand",
        "a reading at the stand, from the tap to the whole answer, beside the floor",
    ),
    (
        "witnessmark",
        Place::Bench,
        "load",
        "fifty clients in a workshop of 50 000 builds, on both engines, beside the floor",
    ),
];

/// Runs every benchmark listed, or those of one name; refuses at the first that fails to run.
pub(crate) fn run(root: &Path, only: Option<&str>) -> Result<(), String> {
    if let Some(name) = only
        && !BENCHES.iter().any(|(_, _, listed, _)| *listed == name)
    {
        let names: Vec<&str> = BENCHES.iter().map(|(_, _, name, _)| *name).collect();
        return Err(format!("“{name}” is none of the benchmarks: {}", names.join(", ")));
    }
    // The other side of a comparison runs in the same environment as the generators of the reference values.
    let python = environment(root)?;
    for (package, place, name, says) in BENCHES.iter().filter(|(_, _, name, _)| only.is_none_or(|only| only == *name)) {
        println!("\n━━ {package}, {name}: {says} ━━");
        let arguments = match place {
            Place::Bench => ["bench", "--quiet", "--package", package, "--bench", name].to_vec(),
            Place::Example => ["run", "--quiet", "--release", "--package", package, "--example", name].to_vec(),
        };
        sh(cargo(root, &arguments).env("WITNESSMARK_PYTHON", &python))?;
    }
    Ok(())
}
