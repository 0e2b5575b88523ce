//! `cargo xtask kills`: the long run of what the tests do briefly. It takes the better part of an hour.
//!
//! The store alone, and the program with clients that tap twice, walk away and are cut off, are killed a thousand times
//! each while they write. `WITNESSMARK_KILLS` asks for another number; each test prints its seed, and `WITNESSMARK_SEED`
//! gives it again.

use crate::shell::{cargo, run as sh};
use std::path::Path;

const KILLS: &str = "1000";

/// Package, test file, and which tests of it.
const RUNS: &[(&str, &str, &str)] =
    &[("witnessmark-store", "kill", "no_acknowledged"), ("witnessmark", "faults", "killed_again_and_again")];

/// Runs each; refuses at the first that loses an edit.
pub(crate) fn run(root: &Path) -> Result<(), String> {
    let kills = std::env::var("WITNESSMARK_KILLS").unwrap_or_else(|_| KILLS.to_owned());
    for (package, test, which) in RUNS {
        let arguments = ["test", "--package", package, "--test", test, "--", which, "--nocapture", "--test-threads=1"];
        sh(cargo(root, &arguments).env("WITNESSMARK_KILLS", &kills))?;
    }
    Ok(())
}
