//! `cargo xtask tidy`: the walls of the house, held by a program because people forget and colleagues are new.
//!
//! Each rule is a file with its table on top; a rule reads texts and returns complaints, so that its tests show it
//! firing on small made-up files. To move a wall, edit the table and say why in ARCHITECTURE.md.

mod arrows;
mod lengths;
mod paths;
mod purity;
mod rooms;
mod tree;
mod words;

use std::fmt;
use std::path::Path;
use tree::File;

/// Something that is not as the house wants it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Complaint {
    /// From the root, with `/`.
    path: String,
    /// Counted from one; zero when the file as a whole is meant.
    line: usize,
    /// What was found and what was expected.
    says: String,
}

impl fmt::Display for Complaint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self { path, line: 0, says } => write!(f, "{path}: {says}"),
            Self { path, line, says } => write!(f, "{path}:{line}: {says}"),
        }
    }
}

/// A rule: what it holds, and how it is held against the files of the tree.
type Rule = (&'static str, fn(&[File]) -> Vec<Complaint>);

/// Every rule.
const RULES: &[Rule] = &[
    ("crates know only the crates below them", arrows::check),
    ("the mechanics stay pure", purity::check),
    ("the rooms of core know only the rooms below them", rooms::check),
    ("ARCHITECTURE.md and CONTRIBUTING.md name paths that exist", paths::check),
    ("no file speaks of one person's machine", words::check),
    ("no source file is too long to read", lengths::check),
];

/// Reads the whole tree and holds every rule against it; refuses with every complaint, sorted by file.
pub(crate) fn run(root: &Path) -> Result<(), String> {
    let files = tree::read(root)?;
    let mut complaints = Vec::new();
    for (holds, check) in RULES {
        let found = check(&files);
        println!("{} {holds}", if found.is_empty() { "✓" } else { "✗" });
        complaints.extend(found);
    }
    if complaints.is_empty() {
        return Ok(());
    }
    complaints.sort();
    complaints.dedup();
    let lines: Vec<String> = complaints.iter().map(ToString::to_string).collect();
    Err(format!("{}\n{} untidy", lines.join("\n"), lines.len()))
}
