//! `cargo xtask test`: everything that must pass before a change is kept, in the order that fails soonest.

use crate::shell::{cargo, run as sh};
use crate::{reference, supply, tidy, tools};
use std::io::Write;
use std::path::Path;
use std::time::{Duration, Instant};

/// A step: its name, and what it does with the root of the repository.
type Step = (&'static str, fn(&Path) -> Result<(), String>);

/// What is run, in order. The first that fails ends it.
const STEPS: &[Step] = &[
    ("tools the tests need", tools::provide),
    ("format", |root| sh(&mut cargo(root, &["fmt", "--all", "--check"]))),
    ("lints", |root| sh(&mut cargo(root, &["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"]))),
    ("tidy", tidy::run),
    ("supply: licences and where packages come from", supply::run),
    ("tests", |root| sh(&mut cargo(root, &["test", "--workspace"]))),
    ("reference values", |root| reference::run(root, reference::Mode::Check)),
];

/// Runs every step; refuses at the first that does not pass, with its name.
pub(crate) fn run(root: &Path) -> Result<(), String> {
    let mut taken: Vec<(&str, Duration)> = Vec::new();
    for (name, step) in STEPS {
        println!("\n━━ {name} ━━");
        // The next program writes to the same place: what was said before it must come first.
        std::io::stdout().flush().map_err(|error| error.to_string())?;
        let started = Instant::now();
        step(root).map_err(|why| format!("━━ {name}: FAILED after {} ━━\n{why}", seconds(started.elapsed())))?;
        taken.push((name, started.elapsed()));
        println!("   {name}: passed in {}", seconds(started.elapsed()));
    }
    println!("\n━━ all passed ━━");
    for (name, time) in &taken {
        println!("{:>9}  {name}", seconds(*time));
    }
    Ok(())
}

fn seconds(time: Duration) -> String {
    format!("{:.1} s", time.as_secs_f64())
}
