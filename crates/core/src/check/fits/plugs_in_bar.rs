//! The end plugs hold in this bar.
//!
//! - Looks at: bore of the bar's ends, and the bores that each plug holds in.
//! - Why: a plug that falls out leaves an open tube, which punches a disc out of whoever falls on it.
//! - Source: the bores that the plug's maker names
//! - Fits: plugs for 19.5 to 21.5 mm in a bore of 20.5.
//! - Does not fit: a bar with a bore of 22.5 mm.
//! - Not known: nobody measured the bar's bore.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the bores that the plug's maker names";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "plugs are changed in a minute");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["end_plug", "bar", "cockpit"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let (at, bore) = if model.one_piece() {
        (model.cockpit.at("end_bore"), fact!(model.cockpit, end_bore_mm))
    } else {
        (model.bar.at("end_bore"), fact!(model.bar, end_bore_mm))
    };
    let mut lacking = Missing::default();
    for (side, plug) in [("left", &model.end_plug_left), ("right", &model.end_plug_right)] {
        if plug.part.is_none() {
            continue;
        }
        let bore = take(bore.clone(), &mut lacking);
        let range = all((fact!(plug, bar_bore_min_mm), fact!(plug, bar_bore_max_mm)));
        let (Some(bore_mm), Some((least_mm, most_mm))) = (bore, take(range, &mut lacking)) else { continue };
        if compare::falls_short(bore_mm, least_mm) || compare::exceeds(bore_mm, most_mm) {
            out.say(
                vec![plug.at("bar_bore_max"), at.clone()],
                format!("The {side} end plug does not hold in the bar."),
                format!("The bar's bore is {} and the plug holds in {} to {}.", mm(bore_mm), mm(least_mm), mm(most_mm)),
                "Choose plugs for this bore; a plug that expands holds best.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the end plugs hold in the bar");
}

/// Plugs for 19.5 to 21.5 mm in a bore of 20.5.
pub fn fits(_: &mut Build) {}

/// A bar with a bore of 22.5 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.bar.make("").end_bore_mm = Some(22.5.into());
}

/// Nobody measured the bar's bore.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.bar.make("").end_bore_mm = None);
