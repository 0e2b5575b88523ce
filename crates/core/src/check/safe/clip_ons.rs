//! Clip-on bars are on a bar that allows them.
//!
//! - Looks at: whether clip-on bars are fitted, and whether the maker of the bar allows them.
//! - Why: their clamps press on two narrow rings of a tube that was laid up for a stem; a carbon bar breaks there
//!   under both arms of the rider.
//! - Source: the bar maker's word
//! - Fits: No clip-on bars.
//! - Does not fit: Clip-on bars on a bar whose maker forbids them.
//! - Not known: The maker's word was not found.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::finding::About;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the bar maker's word";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["bar", "cockpit"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let (fitted, allowed, path) = if model.one_piece() {
        (fact!(model.cockpit, clip_ons), fact!(model.cockpit, clip_ons_allowed), model.cockpit.path)
    } else {
        (fact!(model.bar, clip_ons), fact!(model.bar, clip_ons_allowed), model.bar.path)
    };
    if fitted != Ok(true) {
        return;
    }
    let Some(allowed) = out.need(allowed, "whether the bar bears clip-on bars") else { return };
    if !allowed {
        out.say(
            vec![About::path(&format!("{path}.clip_ons")), About::path(&format!("{path}.clip_ons_allowed"))],
            "This bar may not carry clip-on bars.".into(),
            "Clip-on bars are fitted, and the bar's maker forbids them.".into(),
            "Take them off and look at the bar where they were clamped, or choose a bar that is made for them.".into(),
        );
    }
}

/// No clip-on bars.
pub fn fits(_: &mut Build) {}

/// Clip-on bars on a bar whose maker forbids them.
pub fn does_not_fit(build: &mut Build) {
    let bar = build.parts.bar.make("");
    bar.clip_ons = Some(true.into());
    bar.clip_ons_allowed = Some(false.into());
}

/// The maker's word was not found.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.bar.make("").clip_ons = Some(true.into());
});
