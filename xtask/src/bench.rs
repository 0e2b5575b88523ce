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
    ("witnessmark", Place::Bench, "catalogue", "import and export of 100 000 parts"),
    ("witnessmark-store", Place::Example, "durable", "durable edits beside the bare engine"),
];

/// Runs every benchmark listed; refuses at the first that fails to run.
pub(crate) fn run(root: &Path) -> Result<(), String> {
    // The other side of a comparison runs in the same environment as the generators of the reference values.
    let python = environment(root)?;
    for (package, place, name, says) in BENCHES {
        println!("\n━━ {package}, {name}: {says} ━━");
        let arguments = match place {
            Place::Bench => ["bench", "--quiet", "--package", package, "--bench", name].to_vec(),
            Place::Example => ["run", "--quiet", "--release", "--package", package, "--example", name].to_vec(),
        };
        sh(cargo(root, &arguments).env("WITNESSMARK_PYTHON", &python))?;
    }
    Ok(())
}
