//! What was read off the bike is what it should be.
//!
//! - Looks at: every reading, against what was asked or, where nothing was asked, against what was planned.
//! - Why: a saddle that slipped 4 mm in its clamp, or a bar that was set by eye, is found here or by the rider's knee.
//! - Source: common practice, no source: the tolerances of the numbers, or those that the rider asked for.
//! - Fits: the readings lie within their tolerance.
//! - Does not fit: the saddle was read 4 mm low.
//! - Not known: a reading has neither an asked nor a planned value to be held against; worth a note.

use crate::build::Build;
use crate::check::words::{and_list, spoken, with_unit};
use crate::check::{Case, Report, Weight, compare, sentence};
use crate::compute::Verdict;
use crate::finding::{About, Severity};
use crate::number::{SADDLE_HEIGHT, SADDLE_TILT, STEERER_CUT, Side};

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: the tolerance of the number";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut about = Vec::new();
    let mut names = Vec::new();
    let mut each = Vec::new();
    for line in case.numbers.each() {
        // The cut has a check of its own, because it cannot be undone.
        if line.number.id == STEERER_CUT.id {
            continue;
        }
        let Some(read) = &line.measured else { continue };
        let name = spoken(line.number, line.side);
        let Some(off) = line.difference else {
            let missing = line.planned.as_ref().err().cloned().unwrap_or_default();
            out.not_known_as(Severity::Note, &missing, &format!("what the {name} that was read should be"));
            continue;
        };
        if line.verdict != Verdict::Moved {
            continue;
        }
        let value = |value: f64| with_unit(line.number.kind, value);
        let (wanted, by_whom) = match line.asked {
            Some(asked) => (asked.value, "asked"),
            None => (read.value - off, "planned"),
        };
        // A reading whose own doubt reaches into the tolerance may still be right.
        let doubtful = read.plus_minus.is_some_and(|doubt| !compare::exceeds(off.abs() - doubt, line.tolerance));
        let doubt = if doubtful { ", but not read closely enough to be sure" } else { "" };
        about.push(About::number(line.number, line.side));
        each.push(format!(
            "the {name} was read as {} where {} is {by_whom}, {} {}{doubt}",
            value(read.value),
            value(wanted),
            value(off.abs()),
            if off > 0.0 { "more" } else { "less" }
        ));
        names.push(name);
    }
    if names.is_empty() {
        return;
    }
    out.say(
        about,
        format!("The {} {} not as it should be.", and_list(&names), crate::check::words::is_or_are(names.len())),
        format!("{}.", sentence(&each.join("; "))),
        "Read it again; if it stands, set it right, or agree the new value with the rider.".into(),
    );
}

/// The sample was read in line.
pub fn fits(build: &mut Build) {
    build.measured.entry((SADDLE_HEIGHT.id, Side::None)).or_default().value = Some(728.5.into());
}

/// The saddle slipped.
pub fn does_not_fit(build: &mut Build) {
    build.measured.entry((SADDLE_HEIGHT.id, Side::None)).or_default().value = Some(724.0.into());
}

/// A reading with nothing to be held against.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.asked.remove(&(SADDLE_TILT.id, Side::None));
    build.settings.saddle_tilt_deg = None;
    build.measured.entry((SADDLE_TILT.id, Side::None)).or_default().value = Some((-2.0).into());
});
