//! The cups are screwed or pressed the way the shell is made.
//!
//! - Looks at: how the shell holds a bottom bracket and which way its threads run; the same of the bottom bracket.
//! - Why: two thread patterns differ in nothing but the hand of the drive side; a cup forced in the wrong way ruins
//!   the shell.
//! - Source: common practice, no source: one traditional pattern has a left-handed drive side, another is right-handed
//!   on both
//! - Fits: both have a left-handed thread at the drive side.
//! - Does not fit: a bottom bracket that is right-handed on both sides.
//! - Not known: nobody looked which way the shell's threads run.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::field::Choice;
use crate::part::ShellHold;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: one traditional pattern has a left-handed drive side, another is right-handed on both";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "bottom_bracket"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let facts = all((fact!(model.frame, shell_threads), fact!(model.bottom_bracket, hold)));
    let question = "whether the cups turn the way the shell is threaded";
    let Some((shell, cups)) = out.need(facts, question) else { return };
    // Halves that are screwed into each other go into a bore that is made for pressing.
    let alike = shell == cups || (shell == ShellHold::Pressed && cups == ShellHold::ScrewedTogether);
    if !alike {
        out.say(
            vec![model.frame.at("shell_threads"), model.bottom_bracket.at("hold")],
            "The bottom bracket is not held the way the shell is made.".into(),
            format!("The shell is «{}» and the bottom bracket is «{}».", shell.name(), cups.name()),
            "Try each cup by hand for two turns before a tool touches it; it goes in freely or it is the wrong one."
                .into(),
        );
    }
}

/// Both have a left-handed thread at the drive side.
pub fn fits(_: &mut Build) {}

/// A bottom bracket that is right-handed on both sides.
pub fn does_not_fit(build: &mut Build) {
    build.parts.bottom_bracket.make("").hold = Some(ShellHold::ThreadedAlike.into());
}

/// Nobody looked which way the shell's threads run.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").shell_threads = None);
