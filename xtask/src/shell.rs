//! Running other programs, always from the root of the repository and never with anyone at the keyboard.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// The root of the repository: the folder above this crate's.
pub(crate) fn root() -> Result<PathBuf, String> {
    let here = std::env::var_os("CARGO_MANIFEST_DIR").ok_or("run this as `cargo xtask …`")?;
    let root = Path::new(&here).parent().ok_or("this crate stands at the root of the disk")?;
    Ok(root.to_owned())
}

/// A command that starts in `root` and finds nothing to read on its standard input.
pub(crate) fn command(root: &Path, program: impl AsRef<OsStr>, arguments: &[&str]) -> Command {
    let mut command = Command::new(program);
    command.args(arguments).current_dir(root).stdin(Stdio::null());
    command
}

/// The same cargo that runs this chore.
pub(crate) fn cargo(root: &Path, arguments: &[&str]) -> Command {
    command(root, std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()), arguments)
}

/// Runs to the end, output shown; refuses any exit but success, in one line that can be typed again.
pub(crate) fn run(command: &mut Command) -> Result<(), String> {
    let line = line(command);
    let status = command.status().map_err(|error| format!("could not start `{line}`: {error}"))?;
    if status.success() { Ok(()) } else { Err(format!("`{line}` failed ({status})")) }
}

/// Whether it starts and succeeds; nothing is shown.
pub(crate) fn succeeds(command: &mut Command) -> bool {
    command.stdout(Stdio::null()).stderr(Stdio::null()).status().is_ok_and(|status| status.success())
}

/// The command as it can be typed at the root: a program of the repository with its path, any other by its name.
fn line(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let ours = command.get_current_dir().and_then(|root| program.strip_prefix(root).ok());
    let program = ours.map_or_else(|| program.file_name().unwrap_or(program.as_os_str()), Path::as_os_str);
    let words = std::iter::once(program).chain(command.get_args());
    words.map(|word| word.to_string_lossy().into_owned()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_command_that_fails_is_named_as_it_can_be_typed() {
        let mut failing = command(Path::new("."), "sh", &["-c", "exit 3"]);
        assert_eq!(run(&mut failing), Err("`sh -c exit 3` failed (exit status: 3)".to_owned()));
    }

    #[test]
    fn a_program_of_the_repository_keeps_its_path() {
        let root = Path::new("/repository");
        assert_eq!(line(&command(root, root.join("target/venv/bin/python"), &["a.py"])), "target/venv/bin/python a.py");
        assert_eq!(line(&command(root, "/usr/bin/cargo", &["fmt"])), "cargo fmt");
    }

    #[test]
    fn a_command_that_does_not_exist_is_named_too() {
        let refused = run(&mut command(Path::new("."), "no-such-program", &[]));
        assert!(refused.is_err_and(|why| why.starts_with("could not start `no-such-program`")));
    }

    #[test]
    fn nobody_sits_at_the_keyboard() {
        // `read` fails at once when there is nothing to read; with a keyboard it would wait.
        assert!(!succeeds(&mut command(Path::new("."), "sh", &["-c", "read line"])));
    }
}
