//! `cargo xtask reference`: the reference values that are computed by a second program, not by ours.
//!
//! Each `reference/generate/*.py` writes one file of values, or with `--check` compares it and fails when it is stale.
//! They run in their own Python environment, `target/venv`, made from `reference/requirements.txt`.

use crate::shell::{command, run as sh};
use std::fs;
use std::path::{Path, PathBuf};

/// What the generators need, one package a line; the file may be absent.
pub(crate) const REQUIREMENTS: &str = "reference/requirements.txt";
const GENERATORS: &str = "reference/generate";
const ENVIRONMENT: &str = "target/venv";
/// What makes a Python file a program.
const MAIN_PART: &str = "__name__ == \"__main__\"";
/// Holds the requirements that were installed; written last, so that a half-made environment is made anew.
const MADE_FROM: &str = "made-from.txt";

/// Whether the files are written or only compared.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Mode {
    /// Compute and write.
    Rewrite,
    /// Compute and compare; a difference is a failure.
    Check,
}

/// Runs every generator; refuses if one fails or, when checking, finds its file stale. All are run before it refuses.
pub(crate) fn run(root: &Path, mode: Mode) -> Result<(), String> {
    let generators = generators(root)?;
    if generators.is_empty() {
        println!("no generator in {GENERATORS}: nothing was checked or computed");
        return Ok(());
    }
    let python = environment(root)?;
    let mut failed = Vec::new();
    for generator in &generators {
        let mut arguments = vec![generator.as_str()];
        if mode == Mode::Check {
            arguments.push("--check");
        }
        println!("{}", arguments.join(" "));
        if let Err(why) = sh(command(root, &python, &arguments).env("PYTHONDONTWRITEBYTECODE", "1")) {
            failed.push(why);
        }
    }
    if failed.is_empty() {
        return Ok(());
    }
    Err(format!("{}\nto compute the values again: cargo xtask reference", failed.join("\n")))
}

/// The Python of the environment; made, or made anew when the requirements have changed.
pub(crate) fn environment(root: &Path) -> Result<PathBuf, String> {
    let environment = root.join(ENVIRONMENT);
    let python = environment.join("bin/python");
    let requirements = root.join(REQUIREMENTS);
    let wanted = if requirements.exists() { read(&requirements)? } else { String::new() };
    let made_from = environment.join(MADE_FROM);
    if python.exists() && fs::read_to_string(&made_from).is_ok_and(|made_from| made_from == wanted) {
        return Ok(python);
    }

    println!("making {ENVIRONMENT}");
    sh(&mut command(root, "python3", &["-m", "venv", "--clear", ENVIRONMENT]))?;
    if !wanted.is_empty() {
        let pip = ["-m", "pip", "install", "--quiet", "--no-input", "--disable-pip-version-check"];
        sh(command(root, &python, &pip).args(["--requirement", REQUIREMENTS]))?;
    }
    fs::write(&made_from, wanted).map_err(|error| format!("{}: {error}", made_from.display()))?;
    Ok(python)
}

/// The generators, in the order of their names. A file without a main part only helps them: running it would do nothing
/// and look like a check that passed.
fn generators(root: &Path) -> Result<Vec<String>, String> {
    let folder = root.join(GENERATORS);
    if !folder.exists() {
        return Ok(Vec::new());
    }
    let entries = fs::read_dir(&folder).map_err(|error| format!("{GENERATORS}: {error}"))?;
    let mut names = Vec::new();
    for entry in entries {
        let name = entry.map_err(|error| format!("{GENERATORS}: {error}"))?.file_name();
        let name = name.to_string_lossy();
        if name.ends_with(".py") && read(&folder.join(&*name))?.contains(MAIN_PART) {
            names.push(format!("{GENERATORS}/{name}"));
        }
    }
    names.sort();
    Ok(names)
}

fn read(path: &Path) -> Result<String, String> {
    fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a folder that cannot be made is the test failing")]
    use super::*;

    /// A folder of this test's own, removed when it is done.
    struct Folder(PathBuf);

    impl Folder {
        fn new(name: &str) -> Self {
            let folder = std::env::temp_dir().join(format!("xtask-{name}-{}", std::process::id()));
            fs::create_dir_all(folder.join(GENERATORS)).unwrap();
            Self(folder)
        }
    }

    impl Drop for Folder {
        fn drop(&mut self) {
            // A folder left behind in the temporary directory harms nobody.
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    #[test]
    fn generators_run_in_the_order_of_their_names_and_helpers_do_not_run() {
        let folder = Folder::new("order");
        let program = "if __name__ == \"__main__\":\n    pass\n";
        for (name, text) in
            [("b.py", program), ("a.py", program), ("shared.py", "def f(): ...\n"), ("notes.md", program)]
        {
            fs::write(folder.0.join(GENERATORS).join(name), text).unwrap();
        }
        let expected = vec![format!("{GENERATORS}/a.py"), format!("{GENERATORS}/b.py")];
        assert_eq!(generators(&folder.0), Ok(expected));
    }

    #[test]
    fn no_generator_is_no_failure() {
        let folder = Folder::new("none");
        assert_eq!(run(&folder.0, Mode::Check), Ok(()));
        fs::remove_dir_all(folder.0.join("reference")).unwrap();
        assert_eq!(run(&folder.0, Mode::Check), Ok(()));
    }

    #[test]
    fn a_stale_value_fails_and_every_generator_is_still_asked() {
        let folder = Folder::new("stale");
        // An environment that stands already: `sh` in the place of Python, so that this test needs no Python.
        let bin = folder.0.join(ENVIRONMENT).join("bin");
        fs::create_dir_all(&bin).unwrap();
        std::os::unix::fs::symlink("/bin/sh", bin.join("python")).unwrap();
        fs::write(folder.0.join(ENVIRONMENT).join(MADE_FROM), "").unwrap();
        let put = |name: &str, script: &str| {
            fs::write(folder.0.join(GENERATORS).join(name), script).unwrap();
        };
        put("a.py", "# __name__ == \"__main__\"\ntest \"$1\" != --check");
        put("b.py", "# __name__ == \"__main__\"\necho \"asked $1\" > asked.txt");

        let refused = run(&folder.0, Mode::Check);
        assert!(refused.is_err_and(|why| why.contains("a.py --check` failed") && !why.contains("b.py")));
        assert_eq!(fs::read_to_string(folder.0.join("asked.txt")).unwrap(), "asked --check\n");

        assert_eq!(run(&folder.0, Mode::Rewrite), Ok(()));
        assert_eq!(fs::read_to_string(folder.0.join("asked.txt")).unwrap(), "asked \n");
    }
}
