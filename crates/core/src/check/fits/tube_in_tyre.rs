//! The tube is of the tyre's size.
//!
//! - Looks at: each tyre's nominal width, and the narrowest and widest tyre that its tube is made for.
//! - Why: too large a tube folds and chafes through, too small a one is stretched thin and bursts at the first stone.
//! - Source: the tube maker's range of tyre widths
//! - Fits: 28, and what is for 23 to 40.
//! - Does not fit: a tube for 18 to 25 in a tyre of 28.
//! - Not known: the tube's range is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, sizes, take};
use crate::fact;
use crate::finding::{figure, mm};
use crate::model::Missing;
use crate::part::AirSeal;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the tube maker's range of tyre widths";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tube", "tyre"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        // Sealant is of no size; a tube that is not listed is chosen at the stand.
        if end.tube.part.is_none() || fact!(end.tube, kind).is_ok_and(|kind| kind == AirSeal::Sealant) {
            continue;
        }
        let size = take(fact!(end.tyre, etrto).and_then(|text| sizes::tyre(&text)), &mut lacking);
        let range = all((fact!(end.tube, tyre_width_min_mm), fact!(end.tube, tyre_width_max_mm)));
        let (Some(size), Some((least_mm, most_mm))) = (size, take(range, &mut lacking)) else { continue };
        if compare::falls_short(size.width_mm, least_mm) || compare::exceeds(size.width_mm, most_mm) {
            out.say(
                vec![end.tube.at("tyre_width_max"), end.tyre.at("etrto")],
                format!("The {} tube is not of the tyre's size.", end.side.word()),
                format!(
                    "It is made for tyres of {} to {} and the tyre has {}.",
                    figure(least_mm, 0),
                    mm(most_mm),
                    mm(size.width_mm)
                ),
                "Choose a tube whose range holds the tyre's width.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether the tubes are of the tyres' size");
}

/// 28, and what is for 23 to 40.
pub fn fits(_: &mut Build) {}

/// A tube for 18 to 25 in a tyre of 28.
pub fn does_not_fit(build: &mut Build) {
    let tube = build.parts.tube.make("front");
    tube.kind = Some(AirSeal::Butyl.into());
    tube.tyre_width_min_mm = Some(18.0.into());
    tube.tyre_width_max_mm = Some(25.0.into());
}

/// The tube's range is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    let tube = build.parts.tube.make("front");
    tube.kind = Some(AirSeal::Butyl.into());
    tube.tyre_width_max_mm = None;
});
