//! The pads are thicker than their least.
//!
//! - Looks at: thickness of each caliper's pads without their plates, and the thickness at which its maker wants them
//!   gone.
//! - Why: a pad worn to its plate brakes metal on metal: it stops nothing and scraps the rotor on one descent.
//! - Source: the least thickness that the brake's maker states, commonly 0.5 mm
//! - Fits: 3.9 mm, least 0.5.
//! - Does not fit: rear pads of 0.4 mm.
//! - Not known: nobody measured the front pads.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the least thickness that the brake's maker states, commonly 0.5 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["caliper"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        let facts = all((fact!(end.caliper, pad_thickness_mm), fact!(end.caliper, pad_thickness_min_mm)));
        let Some((now_mm, least_mm)) = take(facts, &mut lacking) else { continue };
        if compare::falls_short(now_mm, least_mm + NEARLY_MM) {
            let gone = compare::falls_short(now_mm, least_mm);
            out.say_as(
                if gone { Severity::Stop } else { Severity::Caution },
                vec![end.caliper.at("pad_thickness"), end.caliper.at("pad_thickness_min")],
                format!("The {} pads are {}.", end.side.word(), if gone { "worn out" } else { "nearly worn out" }),
                format!("They measure {} and their least is {}.", mm(now_mm), mm(least_mm)),
                "Fit new pads and bed them in; top no fluid up before they are in.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the pads are thick enough");
}

/// With less than this above the least, pads do not outlast the first rides.
const NEARLY_MM: f64 = 0.5;

/// 3.9 mm, least 0.5.
pub fn fits(_: &mut Build) {}

/// Rear pads of 0.4 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.caliper.make("rear").pad_thickness_mm = Some(0.4.into());
}

/// Nobody measured the front pads.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.caliper.make("front").pad_thickness_mm = None);
