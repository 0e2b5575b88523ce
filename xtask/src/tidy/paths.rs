//! Every path that ARCHITECTURE.md and CONTRIBUTING.md name exists, so that the map does not outlive the house.

use super::Complaint;
use super::tree::File;

/// The map of the house, which must be there.
const MAP: &str = "ARCHITECTURE.md";

/// Texts whose paths are walked.
const TEXTS: &[&str] = &[MAP, "CONTRIBUTING.md"];

/// Endings that make a word a file even without a `/`.
const FILE_ENDINGS: &[&str] = &[".rs", ".md", ".toml", ".py", ".json"];

/// The map is there, and each path in backticks leads, from the root, to a file or a folder.
pub(super) fn check(files: &[File]) -> Vec<Complaint> {
    let mut complaints = Vec::new();
    if !files.iter().any(|file| file.path == MAP) {
        let says = "is missing: it says what each room knows and does not know".to_owned();
        complaints.push(Complaint { path: MAP.to_owned(), line: 0, says });
    }
    let tops: Vec<&str> = files.iter().filter_map(|file| file.path.split('/').next()).collect();
    let exists = |path: &str| {
        let path = path.trim_end_matches('/');
        let leads_to =
            |file: &File| file.path.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'));
        files.iter().any(leads_to)
    };
    for file in files.iter().filter(|file| TEXTS.contains(&file.path.as_str())) {
        for (at, line) in file.text().lines().enumerate() {
            // Between the first and the second backtick, the third and the fourth …
            for word in line.split('`').skip(1).step_by(2) {
                if is_path(word, &tops) && !exists(word) {
                    let says = format!("`{word}` does not exist; paths are written from the root");
                    complaints.push(Complaint { path: file.path.clone(), line: at + 1, says });
                }
            }
        }
    }
    complaints
}

/// Whether a word in backticks is meant as a path: it ends like a file, ends in `/`, or begins with a folder that is there.
///
/// Patterns (`crates/*/src`, `part/<kind>.rs`) are not, nor routes (`/builds`), nor names of checks (`fits/shell`).
fn is_path(word: &str, tops: &[&str]) -> bool {
    let is_plain = !word.is_empty() && word.chars().all(|c| c.is_ascii_alphanumeric() || "._-/".contains(c));
    let first = word.split('/').next().unwrap_or_default();
    let looks_like_one = FILE_ENDINGS.iter().any(|ending| word.ends_with(ending) && word != *ending)
        || word.ends_with('/')
        || (word.contains('/') && tops.contains(&first));
    is_plain && !word.starts_with('/') && looks_like_one
}

#[cfg(test)]
mod tests {
    use super::*;

    fn complaints(map: &str) -> Vec<String> {
        let files = [
            File::new(MAP, map),
            File::new("crates/core/src/plan.rs", ""),
            File::new("rules/road/bars.toml", ""),
            File::new(".ci/run", ""),
        ];
        check(&files).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn paths_that_lead_somewhere_are_kept() {
        let map =
            "`crates/core/src/plan.rs`, `crates/core` and `crates/core/`, `rules/road/`, `.ci/run`, `ARCHITECTURE.md`";
        assert!(complaints(map).is_empty());
    }

    #[test]
    fn a_path_that_leads_nowhere_is_found_with_its_line() {
        assert_eq!(
            complaints("# Map\n\nsee `crates/core/src/plan.rs` and `crates/core/src/plans.rs`\n"),
            ["ARCHITECTURE.md:3: `crates/core/src/plans.rs` does not exist; paths are written from the root"]
        );
        for lost in ["plan.rs", "cellar/", "crates/cellar", "crates/core/src/pla", "core/src/plan.rs"] {
            assert_eq!(complaints(&format!("`{lost}`")).len(), 1, "{lost}");
        }
    }

    #[test]
    fn what_is_no_path_is_left_alone() {
        for word in [
            "plan()",
            "crates/*/src",
            "part/<kind>.rs",
            "fits/shell",
            "application/json",
            "/builds",
            "cargo xtask tidy",
            ".rs",
        ] {
            assert!(complaints(&format!("`{word}`")).is_empty(), "{word}");
        }
        assert!(complaints("crates/cellar without backticks").is_empty());
    }

    #[test]
    fn the_other_texts_are_walked_too() {
        let files = [File::new(MAP, ""), File::new("CONTRIBUTING.md", "see `cellar/`\n")];
        assert_eq!(check(&files).len(), 1);
    }

    #[test]
    fn a_house_without_a_map_is_told_so() {
        assert!(check(&[File::new("README.md", "")])[0].says.contains("is missing"));
    }
}
