//! The bar fits the stem's clamp.
//!
//! - Looks at: the bar diameter that the stem clamps, and the bar's diameter there; a one-piece cockpit has no such joint.
//! - Why: a bar that is thinner than its clamp slips or is crushed at the edges; 26.0 and 25.8 look the same on the bench.
//! - Source: common practice, no source: clamp and bar are one within 0.1 mm.
//! - Fits: a bar of 31.8 mm in a clamp for 31.8 mm.
//! - Does not fit: a bar of 31.8 mm in a clamp for 35 mm.
//! - Not known: the bar's clamping diameter is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{About, mm};

/// Two diameters are one within this: 31.7 and 31.8 are, 25.8 and 26.0 are not.
const WITHIN_MM: f64 = 0.1;
/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: clamp and bar alike within 0.1 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["stem", "bar"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    if model.one_piece() {
        return;
    }
    let pair = all((fact!(model.stem, bar_diameter_mm), fact!(model.bar, clamp_diameter_mm)));
    let Some((clamp_mm, bar_mm)) = out.need(pair, "whether the bar fits the stem's clamp") else { return };
    if !compare::same_within(clamp_mm, bar_mm, WITHIN_MM) {
        out.say(
            vec![About::path("parts.stem.bar_diameter"), About::path("parts.bar.clamp_diameter")],
            "The bar does not fit the stem's clamp.".into(),
            format!("The stem clamps {} and the bar is {} there.", mm(clamp_mm), mm(bar_mm)),
            format!(
                "Fit a stem for {}, or a bar of {}; where either is carbon, never a shim.",
                mm(bar_mm),
                mm(clamp_mm)
            ),
        );
    }
}

/// The sample's bar fits.
pub fn fits(_: &mut Build) {}

/// A stem for a thicker bar.
pub fn does_not_fit(build: &mut Build) {
    build.parts.stem.make("").bar_diameter_mm = Some(35.0.into());
}

/// Nobody told the bar's diameter.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.bar.make("").clamp_diameter_mm = None);
