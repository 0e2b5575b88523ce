//! The files of the repository, and what of a Rust file the rules look at.

use std::fs;
use std::path::Path;

/// A file of the repository.
#[derive(Clone, Debug)]
pub(super) struct File {
    /// From the root, with `/`.
    pub(super) path: String,
    /// `None` when it is not text (a picture, a font).
    pub(super) text: Option<String>,
}

/// Folders that are made, not written.
const MADE: &[&str] = &["target", ".git", ".venv", "__pycache__", "node_modules"];

/// Every file under `root`, sorted by path; links are not followed.
pub(super) fn read(root: &Path) -> Result<Vec<File>, String> {
    let mut files = Vec::new();
    // Each folder is visited once and links are not followed, so the list of folders runs out.
    let mut folders = vec![String::new()];
    while let Some(folder) = folders.pop() {
        let at = |error: std::io::Error| format!("{folder}: {error}");
        for entry in fs::read_dir(root.join(&folder)).map_err(at)? {
            let entry = entry.map_err(at)?;
            let name = entry.file_name().to_string_lossy().into_owned();
            let path = if folder.is_empty() { name.clone() } else { format!("{folder}/{name}") };
            let kind = entry.file_type().map_err(at)?;
            if kind.is_dir() && !MADE.contains(&name.as_str()) {
                folders.push(path);
            } else if kind.is_file() {
                let bytes = fs::read(entry.path()).map_err(at)?;
                files.push(File { path, text: String::from_utf8(bytes).ok() });
            }
        }
    }
    files.sort_by(|a, b| a.path.cmp(&b.path));
    Ok(files)
}

impl File {
    #[cfg(test)]
    pub(super) fn new(path: &str, text: &str) -> Self {
        Self { path: path.to_owned(), text: Some(text.to_owned()) }
    }

    /// Whether it is Rust source.
    pub(super) fn is_rust(&self) -> bool {
        Path::new(&self.path).extension().is_some_and(|ending| ending == "rs")
    }

    /// Its text; empty when it is none.
    pub(super) fn text(&self) -> &str {
        self.text.as_deref().unwrap_or_default()
    }

    /// Its Rust code without comments, and without the tests at its end; lines stay where they are.
    pub(super) fn code(&self) -> String {
        let mut code = String::new();
        let mut lines = self.text().lines().peekable();
        while let Some(line) = lines.next() {
            let opens_tests = line == "#[cfg(test)]"
                && lines.peek().is_some_and(|next| next.starts_with("mod ") && next.ends_with('{'));
            if opens_tests {
                break;
            }
            // A `//` inside a text literal ends the line too early; what follows it there is no code either.
            code.push_str(line.split_once("//").map_or(line, |(before, _)| before));
            code.push('\n');
        }
        code
    }
}

/// The line, counted from one, that holds the byte at `offset`.
pub(super) fn line_at(text: &str, offset: usize) -> usize {
    text[..offset].matches('\n').count() + 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_and_the_tests_at_the_end_are_no_code() {
        let file = File::new(
            "a.rs",
            "//! crate::plan\nuse crate::part; // crate::plan\n#[cfg(test)]\nfn kept() {}\n#[cfg(test)]\nmod tests {\n    use crate::plan;\n}\n",
        );
        assert_eq!(file.code(), "\nuse crate::part; \n#[cfg(test)]\nfn kept() {}\n");
    }

    #[test]
    fn lines_are_counted_from_one() {
        assert_eq!(line_at("a\nb\nc", 0), 1);
        assert_eq!(line_at("a\nb\nc", 4), 3);
    }
}
