//! The spacers under the stem stay within what fork and cockpit allow.
//!
//! - Looks at: the spacers under the stem, the top cover where the fork's maker counts it, and the maximum of the fork and
//!   of a one-piece cockpit.
//! - Why: every spacer lengthens the lever that bends the steerer where the upper bearing holds it; carbon breaks there.
//! - Source: the maximum that the maker of fork or cockpit states.
//! - Fits: 15 mm under the stem where the fork allows 30.
//! - Does not fit: 35 mm under the stem of the same fork.
//! - Not known: the fork's maximum is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, take};
use crate::fact;
use crate::finding::{About, mm};
use crate::model::Missing;
use crate::number::{SPACERS_UNDER, Side};

/// Where the limit comes from.
pub const SOURCE: &str = "the maximum that the maker of fork or cockpit states";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let question = "whether the spacers under the stem are within the maker's maximum";
    let mut lacking = Missing::default();
    let Some(under_mm) = take(fact!(model.settings, spacers_under_mm), &mut lacking) else {
        out.not_known(&lacking, question);
        return;
    };
    if let Some(most_mm) = take(fact!(model.fork, spacers_max_mm), &mut lacking) {
        let cover = fact!(model.headset, cover_height_mm);
        let counts = fact!(model.fork, spacers_max_counts_cover);
        // Over the maximum without the cover is over it either way; under it with the cover is under it either way.
        if compare::exceeds(under_mm, most_mm) {
            too_tall(out, "fork", Stack { under_mm, cover_mm: 0.0 }, most_mm);
        } else if !cover.as_ref().is_ok_and(|cover_mm| !compare::exceeds(under_mm + cover_mm, most_mm))
            && take(counts, &mut lacking) == Some(true)
            && let Some(cover_mm) = take(cover, &mut lacking)
        {
            too_tall(out, "fork", Stack { under_mm, cover_mm }, most_mm);
        }
    }
    if model.one_piece()
        && let Some(most_mm) = take(fact!(model.cockpit, spacers_max_mm), &mut lacking)
        && compare::exceeds(under_mm, most_mm)
    {
        too_tall(out, "cockpit", Stack { under_mm, cover_mm: 0.0 }, most_mm);
    }
    out.not_known(&lacking, question);
}

#[derive(Clone, Copy)]
struct Stack {
    under_mm: f64,
    cover_mm: f64,
}

fn too_tall(out: &mut Report, maker_of: &str, stack: Stack, most_mm: f64) {
    let total_mm = stack.under_mm + stack.cover_mm;
    let counted =
        if stack.cover_mm > 0.0 { format!(" with {} of top cover", mm(stack.cover_mm)) } else { String::new() };
    out.say(
        vec![About::number(&SPACERS_UNDER, Side::None), About::path(&format!("parts.{maker_of}.spacers_max"))],
        format!("The stack under the stem is {} taller than the {maker_of} allows.", mm(total_mm - most_mm)),
        format!("It is {}{counted}, and the {maker_of}'s maker allows {}.", mm(total_mm), mm(most_mm)),
        format!("Take {} out and use a stem that rises more, or a taller frame.", mm(total_mm - most_mm)),
    );
}

/// The sample stays within its fork's maximum.
pub fn fits(_: &mut Build) {}

/// A taller stack.
pub fn does_not_fit(build: &mut Build) {
    build.settings.spacers_under_mm = Some(35.0.into());
}

/// The maximum is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").spacers_max_mm = None);
