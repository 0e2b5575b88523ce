//! The wheel maker allows this width of tyre.
//!
//! - Looks at: each tyre's nominal width, and the narrowest and widest that the wheel's maker allows.
//! - Why: the maker tested the bead with these widths and no others; beyond them there is neither warranty nor
//!   insurance.
//! - Source: the tyre widths that the wheel's maker allows
//! - Fits: 28 where 25 to 35 are allowed.
//! - Does not fit: a rear tyre of 23.
//! - Not known: the rear wheel's narrowest tyre is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, sizes, take};
use crate::fact;
use crate::finding::{Severity, figure, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the tyre widths that the wheel's maker allows";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tyre", "wheel"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        let size = take(fact!(end.tyre, etrto).and_then(|text| sizes::tyre(&text)), &mut lacking);
        let range = all((fact!(end.wheel, tyre_width_min_mm), fact!(end.wheel, tyre_width_max_mm)));
        let (Some(size), Some((least_mm, most_mm))) = (size, take(range, &mut lacking)) else { continue };
        let wide = compare::exceeds(size.width_mm, most_mm);
        if wide || compare::falls_short(size.width_mm, least_mm) {
            out.say(
                vec![end.tyre.at("etrto"), end.wheel.at(if wide { "tyre_width_max" } else { "tyre_width_min" })],
                format!("The {} wheel's maker does not allow this width of tyre.", end.side.word()),
                format!(
                    "The tyre is {} wide by its size, and {} to {} are allowed.",
                    mm(size.width_mm),
                    figure(least_mm, 0),
                    mm(most_mm)
                ),
                "Choose a tyre within the range.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the wheel makers allow this width of tyre");
}

/// 28 where 25 to 35 are allowed.
pub fn fits(_: &mut Build) {}

/// A rear tyre of 23.
pub fn does_not_fit(build: &mut Build) {
    build.parts.tyre.make("rear").etrto = Some("23-622".into());
}

/// The rear wheel's narrowest tyre is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("rear").tyre_width_min_mm = None);
