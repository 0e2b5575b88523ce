//! Whether the frame's stack and reach count the top cover.
//!
//! - Looks at: what is said of the table, the height of the fitted cover, and which of the two lets the table close.
//! - Why: some makers quote stack and reach with the bearing cover; taken the wrong way the bar stands off by the whole
//!   cover, 5 to 25 mm along the steerer.
//! - Source: common practice, no source; 2 mm is what rounding explains in a table.
//! - Fits: the table does not count the cover, and closes.
//! - Does not fit: the table is said to count the cover, and closes only if it does not.
//! - Not known: nobody has read the drawing's note.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::compute::cover_read_otherwise;
use crate::fact;
use crate::finding::{About, Severity, mm};
use witnessmark_mechanics::frame::{ROUNDED_TABLE_MISS_MM, StatedChecks, disagreement};

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: some tables count the cover; 2 mm is what rounding explains";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "the drawing settles it before anything is ordered");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let cover = fact!(model.headset, cover_height_mm);
    // How far the table misses as it is taken, and the other way round.
    let misses = case.worked.chassis.table.as_ref().ok().and_then(|table| {
        let stated = StatedChecks {
            front_centre_mm: fact!(model.frame, front_centre_mm).ok(),
            wheelbase_mm: fact!(model.frame, wheelbase_mm).ok(),
        };
        let other = cover_read_otherwise(model, table).ok()?;
        Some((disagreement(table, stated).misses.largest_mm(), disagreement(&other, stated).misses.largest_mm()))
    });
    match fact!(model.frame, stack_counts_cover) {
        Err(missing) => {
            let harm = match (&cover, misses) {
                (Ok(cover_mm), Some((without_mm, with_mm))) => format!(
                    "; if so, the bar stands {} lower along the steerer than planned (the table misses by {} if not, by {} \
                     if so)",
                    mm(*cover_mm),
                    mm(without_mm),
                    mm(with_mm)
                ),
                (Ok(cover_mm), None) => {
                    format!("; if so, the bar stands {} lower along the steerer than planned", mm(*cover_mm))
                }
                (Err(_), _) => "; if so, the bar stands lower by the whole cover than planned".to_owned(),
            };
            out.not_known(&missing, &format!("whether the frame's stack counts the top cover{harm}"));
        }
        Ok(counted) => {
            let Some((as_said_mm, otherwise_mm)) = misses else { return };
            if as_said_mm <= ROUNDED_TABLE_MISS_MM || otherwise_mm > ROUNDED_TABLE_MISS_MM {
                return;
            }
            let (said, closes) = if counted { ("does", "does not") } else { ("does not", "does") };
            out.say(
                vec![About::path("parts.frame.stack_counts_cover"), About::path("parts.headset.cover_height")],
                format!("The frame's stack is said to {} the top cover, and the table says otherwise.", count(counted)),
                format!(
                    "If it {said}, the table misses by {}; if it {closes}, by {}; the bar stands {} along the steerer apart \
                     between the two.",
                    mm(as_said_mm),
                    mm(otherwise_mm),
                    cover.map_or_else(|_| "the cover".to_owned(), mm)
                ),
                "Read the note on the maker's drawing, or measure the stack on the frame without its cover.".into(),
            );
        }
    }
}

fn count(counted: bool) -> &'static str {
    if counted { "count" } else { "leave out" }
}

/// The sample's table closes as it is said.
pub fn fits(_: &mut Build) {}

/// Said to count the cover.
pub fn does_not_fit(build: &mut Build) {
    build.parts.frame.make("").stack_counts_cover = Some(true.into());
}

/// Nobody has said.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").stack_counts_cover = None);
