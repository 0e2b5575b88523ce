//! `cargo xtask bench`: how long the work takes, on this machine, now.
//!
//! A benchmark is a program of the crate it measures, and prints its own figures. Listing it here is all that is needed.

use crate::shell::{cargo, run as sh};
use std::path::Path;

/// Where a benchmark stands in its crate.
#[derive(Clone, Copy)]
#[allow(dead_code, reason = "both places are ready for the first entry of the table")]
enum Place {
    /// `benches/<name>.rs`
    Bench,
    /// `examples/<name>.rs`
    Example,
}

/// What is measured: package, place, name, and what its figures mean.
const BENCHES: &[(&str, Place, &str, &str)] = &[];

/// Runs every benchmark listed; refuses at the first that fails to run.
pub(crate) fn run(root: &Path) -> Result<(), String> {
    if BENCHES.is_empty() {
        println!("no benchmark is listed yet: nothing was measured");
    }
    for (package, place, name, says) in BENCHES {
        println!("\n━━ {package}, {name}: {says} ━━");
        let arguments = match place {
            Place::Bench => ["bench", "--quiet", "--package", package, "--bench", name].to_vec(),
            Place::Example => ["run", "--quiet", "--release", "--package", package, "--example", name].to_vec(),
        };
        sh(&mut cargo(root, &arguments))?;
    }
    Ok(())
}
