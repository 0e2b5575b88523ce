//! Which crate may know which: arrows point down only, and neighbours do not know each other.

use super::Complaint;
use super::tree::File;
use toml::{Table, Value};

/// Each crate by its folder, and the crates it may know. Tests and build scripts are held to the same.
const MAY_KNOW: &[(&str, &[&str])] = &[
    ("mechanics", &[]),
    ("core", &["mechanics"]),
    ("intake", &["core"]),
    ("store", &["core"]),
    ("sheets", &["core"]),
    ("web", &["sheets", "store", "intake", "core"]),
    ("cli", &["web", "sheets", "store", "intake", "core"]),
];

/// What the mechanics may lean on from outside, so that every machine gives the same digits.
const MECHANICS_MAY_USE: &[&str] = &["libm"];

/// Holds every `crates/*/Cargo.toml` against the tables.
pub(super) fn check(files: &[File]) -> Vec<Complaint> {
    let mut complaints = Vec::new();
    for file in files {
        let Some(folder) = crate_folder(&file.path) else {
            continue;
        };
        let complain = |name: &str, says: String| Complaint {
            path: file.path.clone(),
            line: file.text().lines().position(|line| line.contains(name)).map_or(0, |at| at + 1),
            says,
        };
        let Some((_, may_know)) = MAY_KNOW.iter().find(|(name, _)| *name == folder) else {
            complaints.push(complain(
                "",
                format!("the crate {folder} has no place in the table of xtask/src/tidy/arrows.rs"),
            ));
            continue;
        };
        let manifest = match file.text().parse::<Table>() {
            Ok(manifest) => manifest,
            Err(error) => {
                complaints.push(complain("", format!("cannot be read: {}", error.message())));
                continue;
            }
        };
        for Dependency { package, for_tests } in dependencies(&manifest) {
            match folder_of(&package) {
                Some(known) if !may_know.contains(&known) => complaints.push(complain(
                    &package,
                    format!(
                        "{folder} may not know {known}: arrows point down only, {folder} knows {}",
                        listed(may_know)
                    ),
                )),
                None if folder == "mechanics" && !for_tests && !MECHANICS_MAY_USE.contains(&package.as_str()) => {
                    complaints.push(complain(
                        &package,
                        format!("mechanics may not use {package}: it leans on {} alone", listed(MECHANICS_MAY_USE)),
                    ));
                }
                _ => {}
            }
        }
    }
    complaints
}

struct Dependency {
    package: String,
    for_tests: bool,
}

/// The dependencies of a manifest, those for one target or for tests and build scripts included.
fn dependencies(manifest: &Table) -> Vec<Dependency> {
    let mut tables = vec![manifest];
    let targets = manifest.get("target").and_then(Value::as_table);
    tables.extend(targets.into_iter().flat_map(Table::values).filter_map(Value::as_table));
    let mut found = Vec::new();
    for table in tables {
        for kind in ["dependencies", "dev-dependencies", "build-dependencies"] {
            for (name, value) in table.get(kind).and_then(Value::as_table).into_iter().flatten() {
                let package = value.get("package").and_then(Value::as_str).unwrap_or(name);
                found.push(Dependency { package: package.to_owned(), for_tests: kind == "dev-dependencies" });
            }
        }
    }
    found
}

/// `core` of `crates/core/Cargo.toml`.
fn crate_folder(path: &str) -> Option<&str> {
    path.strip_prefix("crates/")?.strip_suffix("/Cargo.toml").filter(|folder| !folder.contains('/'))
}

/// The folder of one of our own packages.
fn folder_of(package: &str) -> Option<&str> {
    if package == "witnessmark" { Some("cli") } else { package.strip_prefix("witnessmark-") }
}

fn listed(names: &[&str]) -> String {
    if names.is_empty() { "no other crate".to_owned() } else { names.join(", ") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn complaints(folder: &str, manifest: &str) -> Vec<String> {
        check(&[File::new(&format!("crates/{folder}/Cargo.toml"), manifest)]).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_crate_may_know_those_below_it() {
        assert!(
            complaints("core", "[dependencies]\nwitnessmark-mechanics.workspace = true\ntoml = \"1\"\n").is_empty()
        );
        assert!(complaints("cli", "[dependencies]\nwitnessmark-web.workspace = true\n").is_empty());
    }

    #[test]
    fn an_arrow_upwards_is_found_with_its_line() {
        assert_eq!(
            complaints("core", "[dependencies]\nlibm.workspace = true\nwitnessmark-web.workspace = true\n"),
            ["crates/core/Cargo.toml:3: core may not know web: arrows point down only, core knows mechanics"]
        );
        assert_eq!(complaints("web", "[dependencies]\nwitnessmark = { path = \"../cli\" }\n").len(), 1);
    }

    #[test]
    fn neighbours_do_not_know_each_other() {
        for (from, to) in [("store", "sheets"), ("sheets", "intake"), ("intake", "store")] {
            let manifest = format!("[dependencies]\nwitnessmark-{to}.workspace = true\n");
            assert_eq!(complaints(from, &manifest).len(), 1, "{from} → {to}");
        }
    }

    #[test]
    fn an_arrow_does_not_hide_in_another_table_or_under_another_name() {
        for manifest in [
            "[dev-dependencies]\nwitnessmark-web.workspace = true\n",
            "[build-dependencies.witnessmark-web]\nworkspace = true\n",
            "[target.'cfg(unix)'.dependencies]\nwitnessmark-web.workspace = true\n",
            "[dependencies]\nquiet = { package = \"witnessmark-web\", path = \"../web\" }\n",
        ] {
            assert_eq!(complaints("core", manifest).len(), 1, "{manifest}");
        }
    }

    #[test]
    fn the_mechanics_lean_on_libm_alone_save_in_tests() {
        assert!(
            complaints("mechanics", "[dependencies]\nlibm = \"0.2\"\n[dev-dependencies]\nproptest = \"1\"\n")
                .is_empty()
        );
        assert_eq!(
            complaints("mechanics", "[dependencies]\nserde = \"1\"\n"),
            ["crates/mechanics/Cargo.toml:2: mechanics may not use serde: it leans on libm alone"]
        );
    }

    #[test]
    fn a_new_crate_asks_for_its_place() {
        assert!(complaints("attic", "")[0].contains("attic has no place in the table"));
    }

    #[test]
    fn a_manifest_that_cannot_be_read_is_no_pass() {
        assert!(complaints("core", "[dependencies\n")[0].contains("cannot be read"));
    }
}
