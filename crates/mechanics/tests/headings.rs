//! Every public function of the mechanics says where it comes from.
//!
//! The test reads the source files: a public function without a doc comment, or whose doc comment has no line that
//! starts with `Source:`, is named.

#![allow(clippy::panic, reason = "a test fails by panicking")]

use std::fs;
use std::path::Path;

/// Name, and doc comment above it, of each public function in a source text.
fn public_functions(text: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut doc = String::new();
    for line in text.lines().map(str::trim) {
        if line.starts_with("#[cfg(test)]") {
            break;
        }
        if let Some(words) = line.strip_prefix("///") {
            doc.push_str(words.trim());
            doc.push('\n');
        } else if !line.starts_with("#[") {
            let signature = line.strip_prefix("pub const fn ").or_else(|| line.strip_prefix("pub fn "));
            if let Some(signature) = signature {
                let name = signature.split(['(', '<']).next().unwrap_or(signature);
                found.push((name.to_owned(), doc.clone()));
            }
            doc.clear();
        }
    }
    found
}

fn has_source(doc: &str) -> bool {
    doc.lines().any(|line| line.strip_prefix("Source: ").is_some_and(|source| source.len() > 3))
}

#[test]
fn every_public_function_names_its_source() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut count = 0;
    let mut without = Vec::new();
    for entry in fs::read_dir(&folder).expect("the source folder") {
        let path = entry.expect("an entry").path();
        let text = fs::read_to_string(&path).expect("a source file");
        for (name, doc) in public_functions(&text) {
            count += 1;
            if !has_source(&doc) {
                without.push(format!("{}: {name}", path.display()));
            }
        }
    }
    assert!(without.is_empty(), "no `Source:` line above\n{}", without.join("\n"));
    assert!(count > 80, "only {count} functions seen: does the reader still know how a function begins?");
}

#[test]
fn the_reader_finds_a_function_without_a_source() {
    let text = "/// Adds.\n#[must_use]\npub const fn add(a: f64) -> f64 {\n/// Source: algebra.\npub fn sub<T>(a: T) {";
    let found = public_functions(text);
    assert_eq!(found.len(), 2);
    assert_eq!((found[0].0.as_str(), has_source(&found[0].1)), ("add", false));
    assert_eq!((found[1].0.as_str(), has_source(&found[1].1)), ("sub", true));
}
