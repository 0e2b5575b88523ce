//! What the program is made of besides its own code: every package comes from the registry, under a licence that lets a
//! workshop do with the program what its own licence promises.
//!
//! Known holes in a package are told in a public database of advisories. Its facts about our packages are kept
//! (`advisories.rs`); where a tool is installed that fetches the database of the day (`cargo audit`), it is asked as well.

use crate::advisories;
use crate::shell::{cargo, run as sh, succeeds};
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::Path;

/// Licences that ask for no more than to be named.
const ALLOWED: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "MPL-2.0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Holds every package against both rules, and against the advisories that are known.
pub(crate) fn run(root: &Path) -> Result<(), String> {
    let asked = cargo(root, &["metadata", "--format-version", "1", "--locked"]).output();
    let asked = asked.map_err(|error| format!("cargo metadata: {error}"))?;
    if !asked.status.success() {
        return Err(String::from_utf8_lossy(&asked.stderr).into_owned());
    }
    let told: Value = serde_json::from_slice(&asked.stdout).map_err(|error| format!("cargo metadata: {error}"))?;
    let (count, complaints) = held(&told);
    if !complaints.is_empty() {
        return Err(complaints.into_iter().collect::<Vec<_>>().join("\n"));
    }
    println!("{count} packages, each from the registry and under an allowed licence");
    advisories::check(root)?;
    if succeeds(&mut cargo(root, &["audit", "--version"])) {
        return sh(&mut cargo(root, &["audit"]));
    }
    println!("newer ones were not asked after: cargo audit is not installed here (cargo install cargo-audit --locked)");
    Ok(())
}

/// How many packages there are besides our own, and what is wrong with which.
fn held(metadata: &Value) -> (usize, BTreeSet<String>) {
    let packages = metadata["packages"].as_array().map_or(&[][..], Vec::as_slice);
    let (mut count, mut complaints) = (0, BTreeSet::new());
    for package in packages {
        let name = format!("{} {}", text(&package["name"]), text(&package["version"]));
        let Some(source) = package["source"].as_str() else { continue };
        count += 1;
        if !source.starts_with("registry+") {
            complaints.insert(format!("{name}: comes from {source} and not from the registry"));
        }
        match package["license"].as_str() {
            Some(licence) if is_allowed(licence) => {}
            Some(licence) => {
                complaints.insert(format!("{name}: its licence, {licence}, is not one of {}", ALLOWED.join(", ")));
            }
            None => {
                complaints.insert(format!("{name}: says nothing of its licence"));
            }
        }
    }
    (count, complaints)
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or("?")
}

/// Whether an expression is met by allowed licences: of an OR one, of an AND each. An old slash means OR. What cannot be
/// read is not met.
fn is_allowed(expression: &str) -> bool {
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut at = 0;
    any(&words, &mut at) == Some(true) && at == words.len()
}

fn any(words: &[&str], at: &mut usize) -> Option<bool> {
    let mut met = all(words, at)?;
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        // Both sides are read, whatever the first one says: the place must move on.
        met |= all(words, at)?;
    }
    Some(met)
}

fn all(words: &[&str], at: &mut usize) -> Option<bool> {
    let mut met = one(words, at)?;
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        met &= one(words, at)?;
    }
    Some(met)
}

fn one(words: &[&str], at: &mut usize) -> Option<bool> {
    let first = *words.get(*at)?;
    *at += 1;
    if first == "(" {
        let met = any(words, at)?;
        let closed = words.get(*at) == Some(&")");
        *at += 1;
        return closed.then_some(met);
    }
    let mut name = first.to_owned();
    if let (Some(&"WITH"), Some(exception)) = (words.get(*at), words.get(*at + 1)) {
        name = format!("{name} WITH {exception}");
        *at += 2;
    }
    Some(ALLOWED.contains(&name.as_str()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_expression_is_met_by_one_of_an_or_and_each_of_an_and() {
        for met in
            ["MIT", "GPL-3.0 OR MIT", "Apache-2.0/MIT", "(MIT OR GPL-3.0) AND ISC", "Apache-2.0 WITH LLVM-exception"]
        {
            assert!(is_allowed(met), "{met}");
        }
        for not in ["", "GPL-3.0", "MIT AND GPL-3.0", "(MIT", "MIT OR", "MIT ISC", "(GPL-3.0 OR AGPL-3.0) AND MIT"] {
            assert!(!is_allowed(not), "{not}");
        }
    }

    #[test]
    fn a_package_from_elsewhere_or_under_no_licence_is_named() {
        let told = serde_json::json!({"packages": [
            {"name": "ours", "version": "1.0.0", "source": null, "license": null},
            {"name": "sound", "version": "1.0.0", "source": "registry+x", "license": "MIT"},
            {"name": "bare", "version": "1.0.0", "source": "registry+x", "license": null},
            {"name": "odd", "version": "2.0.0", "source": "git+x", "license": "GPL-3.0"},
        ]});
        let (count, complaints) = held(&told);
        assert_eq!(count, 3);
        let named: Vec<&str> = complaints.iter().filter_map(|line| line.split(' ').next()).collect();
        assert_eq!(named, ["bare", "odd", "odd"]);
    }
}
