//! Text on the terminal: colour only where a terminal shows it, and a closed pipe ends the program quietly.

use anstyle::{AnsiColor, Style};
use std::fmt::Write as _;
use std::io::{ErrorKind, Write as _};
use witnessmark_sheets::text::{Sheet, Tone};

fn style(tone: Tone) -> Style {
    match tone {
        Tone::Plain => Style::new(),
        Tone::Heading => Style::new().bold(),
        Tone::Stop => Style::new().bold().fg_color(Some(AnsiColor::Red.into())),
        Tone::Caution => Style::new().bold().fg_color(Some(AnsiColor::Yellow.into())),
        Tone::InLine => Style::new().fg_color(Some(AnsiColor::Green.into())),
        Tone::Quiet => Style::new().dimmed(),
    }
}

/// Prints a sheet.
pub(crate) fn sheet(sheet: &Sheet) {
    let mut text = String::new();
    for (tone, piece) in &sheet.0 {
        let style = style(*tone);
        let _ = write!(text, "{style}{piece}{style:#}");
    }
    out(&text);
}

/// Prints text.
pub(crate) fn out(text: &str) {
    read_enough(anstream::stdout().lock().write_all(text.as_bytes()));
}

/// Writes bytes that are no text.
pub(crate) fn bytes(bytes: &[u8]) {
    let mut out = std::io::stdout().lock();
    read_enough(out.write_all(bytes).and_then(|()| out.flush()));
}

fn read_enough(written: std::io::Result<()>) {
    // Whoever reads has read enough: `witnessmark plan … | head`.
    if written.is_err_and(|error| error.kind() == ErrorKind::BrokenPipe) {
        std::process::exit(0);
    }
}

/// Prints a value as JSON, indented for people who look.
pub(crate) fn json(value: &impl serde::Serialize) {
    match serde_json::to_string_pretty(value) {
        Ok(text) => out(&format!("{text}\n")),
        Err(error) => complain(&error.to_string()),
    }
}

/// Says what is wrong, on standard error.
pub(crate) fn complain(text: &str) {
    // Where even that cannot be written, nobody is there to be told.
    let _ = writeln!(anstream::stderr(), "{text}");
}
