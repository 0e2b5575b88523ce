//! The steerer reaches far enough into the stem's clamp.
//!
//! - Looks at: where the cut steerer ends against the top of the clamp, the stem's least insertion, and what the steerer is
//!   made of.
//! - Why: a clamp that holds air at its top crushes the steerer's edge, or slides off it, and the bar comes away.
//! - Source: the stem maker's least insertion; ISO 4210-2:2015 4.7.4, at most 5 mm from the top of the clamp to the top of
//!   the steerer; common practice, no source: a carbon steerer passes through the whole clamp.
//! - Fits: the steerer ends 2 mm above the clamp, under a spacer.
//! - Does not fit: no spacer over the stem and a set-down of 6 mm.
//! - Not known: the steerer ends inside the clamp and the stem's least insertion is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::number::{STEERER_PROUD, Side};
use crate::part::Material;

/// From the top of the clamp down to the top of the steerer.
const MOST_BELOW_MM: f64 = 5.0;
/// Where the limit comes from.
pub const SOURCE: &str = "the stem maker's least insertion; ISO 4210-2:2015 4.7.4: at most 5 mm below the clamp's top";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let question = "whether the steerer reaches far enough into the clamp";
    let model = case.model;
    let Some(stack) = out.need(case.worked.steerer.stack.clone(), question) else { return };
    let below_mm = -stack.proud_of_clamp_mm();
    // A steerer that passes through the whole clamp is held by all of it.
    if !compare::exceeds(below_mm, 0.0) {
        return;
    }
    let about = || vec![About::number(&STEERER_PROUD, Side::None), About::path(model.steerer_clamp_path())];
    let cure = format!("Leave the steerer {} longer, and put a spacer over the clamp.", mm(below_mm + 1.0));
    let held_mm = stack.clamp_height_mm - below_mm;
    if compare::exceeds(below_mm, MOST_BELOW_MM) {
        out.say(
            about(),
            "The steerer ends too low in the clamp.".into(),
            format!("It ends {} below the top of the clamp, and {} is the most.", mm(below_mm), mm(MOST_BELOW_MM)),
            cure,
        );
        return;
    }
    // A one-piece cockpit states no least insertion of its own; the standard's limit above holds for it.
    if !model.one_piece() {
        let Some(least_mm) = out.need(fact!(model.stem, steerer_insertion_min_mm), question) else { return };
        if compare::falls_short(held_mm, least_mm) {
            out.say(
                about(),
                "The clamp holds too little of the steerer.".into(),
                format!("{} are inside the clamp and the stem's maker asks for {}.", mm(held_mm), mm(least_mm)),
                cure,
            );
            return;
        }
    }
    let carbon = fact!(model.fork, steerer_material).is_ok_and(|material| material == Material::Carbon);
    // A fork that forbids a spacer over the stem backs its end by the expander.
    let forbids = fact!(model.fork, spacer_over_max_mm).is_ok_and(|most| most <= 0.0);
    if carbon && !forbids {
        out.say_as(
            Severity::Caution,
            about(),
            "A carbon steerer ends inside the clamp.".into(),
            format!("It ends {} below the top of the clamp, whose edge then bears on the cut.", mm(below_mm)),
            cure,
        );
    }
}

/// The sample's steerer ends above the clamp.
pub fn fits(_: &mut Build) {}

/// Cut low, and no spacer over the stem.
pub fn does_not_fit(build: &mut Build) {
    build.settings.spacers_over_mm = Some(0.0.into());
    build.settings.set_down_mm = Some(6.0.into());
}

/// Ends inside the clamp, and nobody knows the stem's least.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.settings.spacers_over_mm = Some(0.0.into());
    build.parts.stem.make("").steerer_insertion_min_mm = None;
});
