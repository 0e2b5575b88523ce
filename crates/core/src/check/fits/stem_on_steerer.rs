//! The stem, or one-piece cockpit, clamps this steerer.
//!
//! - Looks at: the steerer that the clamp is made for, and the steerer's upper diameter.
//! - Why: a clamp for a thicker steerer closes on two lines; it crushes carbon before it holds.
//! - Source: common practice, no source: clamp and steerer are one within 0.1 mm.
//! - Fits: a clamp for 28.6 mm on a steerer of 28.6 mm.
//! - Does not fit: a clamp for 31.8 mm.
//! - Not known: the steerer's diameter is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{About, mm};

/// Two diameters are one within this.
const WITHIN_MM: f64 = 0.1;
/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: clamp and steerer alike within 0.1 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["stem", "cockpit", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let (name, clamp) = if model.one_piece() {
        ("cockpit", fact!(model.cockpit, steerer_diameter_mm))
    } else {
        ("stem", fact!(model.stem, steerer_diameter_mm))
    };
    let pair = all((clamp, fact!(model.fork, steerer_upper_diameter_mm)));
    let Some((clamp_mm, steerer_mm)) = out.need(pair, &format!("whether the {name} clamps this steerer")) else {
        return;
    };
    if !compare::same_within(clamp_mm, steerer_mm, WITHIN_MM) {
        let cure = if clamp_mm > steerer_mm {
            format!("Fit a {name} for {}, or ask its maker for a reducing sleeve.", mm(steerer_mm))
        } else {
            format!("Fit a {name} for {}; never open a clamp to make it fit.", mm(steerer_mm))
        };
        out.say(
            vec![About::path(model.steerer_clamp_path()), About::path("parts.fork.steerer_upper_diameter")],
            format!("The {name} does not fit the steerer."),
            format!("Its clamp is made for {} and the steerer has {}.", mm(clamp_mm), mm(steerer_mm)),
            cure,
        );
    }
}

/// The sample's stem is made for its steerer.
pub fn fits(_: &mut Build) {}

/// A stem for a thicker steerer.
pub fn does_not_fit(build: &mut Build) {
    build.parts.stem.make("").steerer_diameter_mm = Some(31.8.into());
}

/// Nobody told the steerer's diameter.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").steerer_upper_diameter_mm = None);
