//! The levers' bands fit the bar.
//!
//! - Looks at: the bar diameter that each lever's band is made for, and the bar's tube where they sit.
//! - Why: a band on a thinner tube turns under a pull, one on a thicker tube presses on two lines.
//! - Source: common practice, no source: band and tube are one within 0.5 mm.
//! - Fits: bands for 23.8 mm on a tube of 23.8 mm.
//! - Does not fit: a bar with a tube of 22.2 mm under bands for 23.8 mm.
//! - Not known: the tube's diameter is not told.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, compare, sentence, take};
use crate::fact;
use crate::finding::{About, mm};
use crate::model::Missing;

/// A band gives by so much.
const WITHIN_MM: f64 = 0.5;
/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: band and tube alike within 0.5 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["lever", "bar", "cockpit"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let (path, tube) = if model.one_piece() {
        ("parts.cockpit.tube_diameter", fact!(model.cockpit, tube_diameter_mm))
    } else {
        ("parts.bar.tube_diameter", fact!(model.bar, tube_diameter_mm))
    };
    let mut lacking = Missing::default();
    let tube = take(tube, &mut lacking);
    let mut about = vec![About::path(path)];
    let mut each = Vec::new();
    for (side, lever) in [("left", &model.lever_left), ("right", &model.lever_right)] {
        let band = take(fact!(lever, clamp_diameter_mm), &mut lacking);
        let (Some(band_mm), Some(tube_mm)) = (band, tube) else { continue };
        if !compare::same_within(band_mm, tube_mm, WITHIN_MM) {
            about.push(About::path(&format!("{}.clamp_diameter", lever.path)));
            each.push(format!("the {side} lever's band is made for {}", mm(band_mm)));
        }
    }
    if let (Some(tube_mm), false) = (tube, each.is_empty()) {
        out.say(
            about,
            "The levers do not fit the bar.".into(),
            format!("{}; the tube is {} there.", sentence(&and_list(&each)), mm(tube_mm)),
            format!("Fit bands for {}, or another bar.", mm(tube_mm)),
        );
    }
    out.not_known(&lacking, "whether the levers fit the bar");
}

/// The sample's levers fit.
pub fn fits(_: &mut Build) {}

/// A bar with a thin tube.
pub fn does_not_fit(build: &mut Build) {
    build.parts.bar.make("").tube_diameter_mm = Some(22.2.into());
}

/// Nobody told the tube's diameter.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.bar.make("").tube_diameter_mm = None);
