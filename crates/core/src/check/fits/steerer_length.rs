//! The steerer is long enough for all it must pass through.
//!
//! - Looks at: the fork's steerer as it is now; bearings, head tube, cover, spacers, clamp, set-down.
//! - Why: a steerer that is too short cannot be made longer; it takes another fork.
//! - Source: the sum of the stack, common practice, no source.
//! - Fits: the steerer is longer than the cut that is planned.
//! - Does not fit: a carried-over fork, cut before, lacks 21 mm.
//! - Not known: nobody measured the steerer of the fork.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{About, mm};
use crate::number::{STEERER_CUT, Side};

/// Where the custom comes from.
pub const SOURCE: &str = "sum of the stack; common practice, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let pair = all((case.worked.steerer.stack.clone(), fact!(case.model.fork, steerer_uncut_mm)));
    let Some((stack, steerer_mm)) = out.need(pair, "whether the steerer is long enough") else { return };
    let cut_mm = stack.cut_length_mm();
    if !compare::falls_short(steerer_mm, cut_mm) {
        return;
    }
    let lack_mm = cut_mm - steerer_mm;
    let spacers_mm = stack.spacers_under_mm + stack.spacers_over_mm;
    let cure = if compare::falls_short(spacers_mm, lack_mm) {
        format!("Find another fork: even without its {} of spacers the stack is too tall.", mm(spacers_mm))
    } else {
        format!("Take {} of spacers out, use a stem with a lower clamp, or find another fork.", mm(lack_mm))
    };
    out.say(
        vec![About::path("parts.fork"), About::number(&STEERER_CUT, Side::None)],
        format!("The steerer is {} too short.", mm(lack_mm)),
        format!("The stack asks for {} from the crown-race seat and the steerer has {}.", mm(cut_mm), mm(steerer_mm)),
        cure,
    );
}

/// The sample's steerer is uncut.
pub fn fits(_: &mut Build) {}

/// A fork that was cut for a smaller frame.
pub fn does_not_fit(build: &mut Build) {
    build.parts.fork.make("").steerer_uncut_mm = Some(190.0.into());
}

/// Nobody measured the steerer.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").steerer_uncut_mm = None);
