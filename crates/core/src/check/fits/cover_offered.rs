//! The top cover is one that its maker makes.
//!
//! - Looks at: height of the fitted top cover and the heights that the headset's maker offers.
//! - Why: a cover that does not exist was typed wrongly, and with it every spacer and the cut of the steerer.
//! - Source: the heights that the headset's maker offers
//! - Fits: a cover of 9 mm, of 5, 9 and 15.
//! - Does not fit: a cover of 12 mm.
//! - Not known: the fitted cover was not measured.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, sizes};
use crate::fact;
use crate::finding::{Severity, mm};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the heights that the headset's maker offers";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "likelier a slip of the pen than a wrong part");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["headset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    // A maker that lists no heights is not held against any.
    let Ok(offered) = fact!(model.headset, covers_offered) else { return };
    let Some(cover_mm) = out.need(fact!(model.headset, cover_height_mm), "whether the top cover is one that is made")
    else {
        return;
    };
    let heights = sizes::numbers(&offered);
    if !heights.iter().any(|height_mm| compare::same_within(*height_mm, cover_mm, 0.5)) {
        out.say(
            vec![model.headset.at("cover_height"), model.headset.at("covers_offered")],
            "The headset is not made with this top cover.".into(),
            format!("The cover is {} high and its maker offers {offered}.", mm(cover_mm)),
            "Measure the cover on the bench, or choose one of those that are made.".into(),
        );
    }
}

/// A cover of 9 mm, of 5, 9 and 15.
pub fn fits(_: &mut Build) {}

/// A cover of 12 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.headset.make("").cover_height_mm = Some(12.0.into());
}

/// The fitted cover was not measured.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.headset.make("").cover_height_mm = None);
