//! The bar's own figures make a bar.
//!
//! - Looks at: reach, drop, angles, bends and straights of the bar or one-piece cockpit, and its stated width at the ends.
//! - Why: the hoods are worked out along the bar's curve; with a wrong figure they stand somewhere else than on the bike.
//! - Source: the geometry of the curve; common practice, no source: the stated and the worked-out width at the ends agree
//!   within 5 mm.
//! - Fits: the curve closes, and its ends are as wide as stated.
//! - Does not fit: a drop is stated that is smaller than the bends alone.
//! - Not known: the bends of the bar were not measured.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, sentence};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::number::{BAR_WIDTH_ENDS, Side};

/// Flare and lever place are read to a degree and a few millimetres; together they move an end by no more than this.
const ENDS_WITHIN_MM: f64 = 5.0;
/// Where the limit comes from.
pub const SOURCE: &str = "geometry of the curve; common practice, no source: widths at the ends agree within 5 mm";
/// How much it weighs.
pub const WEIGHT: Weight =
    Weight::Other(Severity::Caution, "a doubtful figure is measured on the bar; nothing is broken");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let (path, stated) = if model.one_piece() {
        (model.cockpit.path, fact!(model.cockpit, width_ends_mm))
    } else {
        (model.bar.path, fact!(model.bar, width_ends_mm))
    };
    if let Err(missing) = &case.worked.front.curve {
        // What is cut off is no figure of the bar, and its own check speaks of it.
        if super::bar_cut::leaves_nothing(model) {
            return;
        }
        match &missing.refusal {
            Some(refusal) if missing.paths.is_empty() => out.say(
                vec![About::path(path)],
                "The figures of the bar do not make a bar.".into(),
                format!("{}.", sentence(refusal)),
                "Measure the bar, straights and bends along the middle of the tube.".into(),
            ),
            _ => out.not_known(missing, "the bar's curve, and with it where the hoods are"),
        }
        return;
    }
    // A width that is not stated, or levers without a place, leave nothing to compare.
    if let (Ok(stated_mm), Ok(worked_mm)) = (stated, &case.worked.front.end_width_mm)
        && !compare::same_within(stated_mm, *worked_mm, ENDS_WITHIN_MM)
    {
        out.say(
            vec![About::path(path), About::number(&BAR_WIDTH_ENDS, Side::None)],
            "The bar's widths and its flare do not go together.".into(),
            format!("Its ends are stated to be {} apart; hoods and flare give {}.", mm(stated_mm), mm(*worked_mm)),
            "Measure both widths on the bar, from the middle of the tube to the middle of the tube.".into(),
        );
    }
}

/// The sample's bar closes.
pub fn fits(_: &mut Build) {}

/// A drop that the bends alone exceed.
pub fn does_not_fit(build: &mut Build) {
    build.parts.bar.make("").drop_mm = Some(60.0.into());
}

/// Nobody measured the bend.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.bar.make("").front_bend_radius_mm = None);
