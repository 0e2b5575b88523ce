//! Two numbers agree before the saw moves.
//!
//! - Looks at: the cut length as planned and as measured over the dry stack.
//! - Why: a cut cannot be undone, and a steerer that ends too low in its clamp can pull out of it.
//! - Source: common practice, no source: the planned and the measured length agree within 1 mm.
//! - Fits: planned and dry stack agree.
//! - Does not fit: the dry stack is 3 mm longer than the plan, because a spacer was left out of it.
//! - Not known: the stack lacks the height of the top cover.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::finding::{About, Severity, mm};
use crate::number::{STEERER_CUT, Side};

/// Planned and measured may differ by so much.
pub const AGREE_WITHIN_MM: f64 = 1.0;
/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: planned and dry stack agree within 1 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let Some(cut) = case.numbers.of(&STEERER_CUT, Side::None) else { return };
    let Some(planned_mm) = out.need(cut.planned.clone(), "where to cut the steerer") else { return };
    let about = vec![About::number(&STEERER_CUT, Side::None)];
    match &cut.measured {
        None => out.say_as(
            Severity::Note,
            about,
            "The steerer may not be cut yet.".into(),
            format!("{} is planned, and the dry stack has not been measured.", mm(planned_mm)),
            "Build the stack dry, measure it over all, and record the length less the set-down.".into(),
        ),
        Some(read) if (read.value - planned_mm).abs() > AGREE_WITHIN_MM => out.say(
            about,
            "The steerer may not be cut: plan and dry stack disagree.".into(),
            format!(
                "{} is planned and {} was measured, {} apart.",
                mm(planned_mm),
                mm(read.value),
                mm((read.value - planned_mm).abs())
            ),
            "Find the part that the plan or the stack lacks, and measure again.".into(),
        ),
        Some(_) => {}
    }
}

/// The sample's dry stack was measured.
pub fn fits(_: &mut Build) {}

/// A spacer was left out of the plan.
pub fn does_not_fit(build: &mut Build) {
    let reading = build.measured.entry((STEERER_CUT.id, Side::None)).or_default();
    if let Some(value) = &mut reading.value {
        value.value += 3.0;
    }
}

/// Nobody measured the cover.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.headset.make("").cover_height_mm = None);
