//! The rear derailleur goes onto this hanger.
//!
//! - Looks at: the frame's hanger and the hanger that the rear derailleur is made for.
//! - Why: hangers look alike and differ by a hole; a wrong one is found on the eve of a race, and none is in stock.
//! - Source: common practice, no source: named alike
//! - Fits: both say hanger 12.
//! - Does not fit: a derailleur that is mounted directly.
//! - Not known: the frame's hanger is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: named alike";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "rear_derailleur"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let facts = all((fact!(model.frame, hanger), fact!(model.rear_derailleur, mount)));
    let Some((hanger, mount)) = out.need(facts, "whether the rear derailleur goes onto the hanger") else { return };
    if !compare::same_name(&hanger, &mount) {
        out.say(
            vec![model.frame.at("hanger"), model.rear_derailleur.at("mount")],
            "The rear derailleur does not go onto the hanger.".into(),
            format!("The frame has «{hanger}» and the derailleur is made for «{mount}»."),
            "Order the hanger by the code on it, and a spare with it.".into(),
        );
    }
}

/// Both say hanger 12.
pub fn fits(_: &mut Build) {}

/// A derailleur that is mounted directly.
pub fn does_not_fit(build: &mut Build) {
    build.parts.rear_derailleur.make("").mount = Some("direct mount".into());
}

/// The frame's hanger is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").hanger = None);
