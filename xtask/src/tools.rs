//! The tools the tests need beside Rust: a browser that can be driven, a database server, and Python for the reference
//! values.
//!
//! On Debian, as root (a CI machine), what is missing is installed. Anywhere else nothing is ever installed: what is
//! missing is named, with the command that gets it.

use crate::reference;
use crate::shell::{command, run as sh, succeeds};
use std::path::Path;

/// A tool, how to see that it is there, and the Debian package that brings it.
struct Tool {
    name: &'static str,
    /// Any one of these succeeding is enough: the same browser goes by two names.
    there_if: &'static [&'static [&'static str]],
    package: &'static str,
}

const TOOLS: &[Tool] = &[
    Tool {
        name: "a browser for the page tests",
        there_if: &[&["chromium", "--version"], &["chromium-browser", "--version"]],
        package: "chromium",
    },
    Tool { name: "the browser's driver", there_if: &[&["chromedriver", "--version"]], package: "chromium-driver" },
    Tool {
        name: "a PostgreSQL server",
        // Debian keeps its programs off the path, one folder a version.
        there_if: &[&["sh", "-c", "ls /usr/lib/postgresql/*/bin/initdb"], &["initdb", "--version"]],
        package: "postgresql",
    },
    Tool {
        name: "Python with virtual environments",
        there_if: &[&["python3", "-c", "import venv, ensurepip"]],
        package: "python3-venv",
    },
    Tool { name: "a reader of PDF", there_if: &[&["pdftotext", "-v"]], package: "poppler-utils" },
];

/// Sees that every tool is there, on Debian as root by installing it; otherwise refuses with the command to type.
pub(crate) fn provide(root: &Path) -> Result<(), String> {
    let missing = missing(root);
    if !missing.is_empty() {
        let os_release = std::fs::read_to_string("/etc/os-release").unwrap_or_default();
        if !is_debian(&os_release) || !is_root(root) {
            return Err(what_to_type(&missing, is_debian(&os_release)));
        }
        install(root, &missing)?;
        let missing = self::missing(root);
        if !missing.is_empty() {
            return Err(format!("installed, and still not there: {}", names(&missing)));
        }
    }
    if root.join(reference::REQUIREMENTS).exists() {
        reference::environment(root)?;
    }
    println!("all there");
    Ok(())
}

fn missing(root: &Path) -> Vec<&'static Tool> {
    let is_there = |tool: &&Tool| tool.there_if.iter().any(|line| succeeds(&mut command(root, line[0], &line[1..])));
    TOOLS.iter().filter(|tool| !is_there(tool)).collect()
}

fn install(root: &Path, missing: &[&Tool]) -> Result<(), String> {
    println!("installing {}", packages(missing));
    let get = |arguments: &[&str]| sh(command(root, "apt-get", arguments).env("DEBIAN_FRONTEND", "noninteractive"));
    let mut install = vec!["install", "--yes", "--quiet", "--no-install-recommends"];
    install.extend(missing.iter().map(|tool| tool.package));
    // The lists on a fresh machine are empty, on an old one stale: they are fetched only when the first try fails.
    get(&install).or_else(|_| {
        println!("fetching the package lists first");
        get(&["update", "--quiet"])?;
        get(&install)
    })
}

fn what_to_type(missing: &[&Tool], on_debian: bool) -> String {
    let packages = packages(missing);
    if on_debian {
        format!("missing: {}; get it with: sudo apt-get install --yes {packages}", names(missing))
    } else {
        format!(
            "missing: {}; install it with this system's own package manager (on Debian: apt-get install {packages})",
            names(missing)
        )
    }
}

fn names(tools: &[&Tool]) -> String {
    tools.iter().map(|tool| tool.name).collect::<Vec<_>>().join(", ")
}

fn packages(tools: &[&Tool]) -> String {
    tools.iter().map(|tool| tool.package).collect::<Vec<_>>().join(" ")
}

/// Debian itself: its relatives name their packages otherwise.
fn is_debian(os_release: &str) -> bool {
    os_release.lines().any(|line| matches!(line.trim(), "ID=debian" | "ID=\"debian\""))
}

fn is_root(root: &Path) -> bool {
    command(root, "id", &["-u"]).output().is_ok_and(|output| output.stdout.trim_ascii() == b"0")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_debian_itself_is_debian() {
        assert!(is_debian("PRETTY_NAME=\"Debian\"\nID=debian\n"));
        assert!(!is_debian("ID=other\nID_LIKE=debian\n"));
        assert!(!is_debian("VERSION_ID=debian\n"));
        assert!(!is_debian(""));
    }

    #[test]
    fn what_is_missing_is_told_in_one_line_with_the_command_to_type() {
        let missing = [&TOOLS[1], &TOOLS[3]];
        let told = what_to_type(&missing, true);
        assert_eq!(
            told,
            "missing: the browser's driver, Python with virtual environments; \
             get it with: sudo apt-get install --yes chromium-driver python3-venv"
        );
        assert!(!what_to_type(&missing, false).contains('\n'));
        assert!(what_to_type(&missing, false).contains("own package manager"));
    }
}
