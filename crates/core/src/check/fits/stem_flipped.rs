//! A stem that is planned the other way up may be fitted so.
//!
//! - Looks at: whether the stem is set to be flipped, and whether its maker allows it.
//! - Why: on a stem with one face for the cap or for the hoses, flipped, the cap does not bear and the hoses are pinched.
//! - Source: the maker's word on the stem.
//! - Fits: the stem goes on the way it is printed.
//! - Does not fit: a stem that is not reversible is planned flipped.
//! - Not known: it is planned flipped and nobody knows whether it may be.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::finding::{About, deg};

/// Where the limit comes from.
pub const SOURCE: &str = "the stem maker's word";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    if model.one_piece() || !fact!(model.settings, stem_flipped).unwrap_or(false) {
        return;
    }
    let question = "whether the stem may be fitted the other way up";
    let Some(reversible) = out.need(fact!(model.stem, reversible), question) else { return };
    if !reversible {
        let angle = fact!(model.stem, angle_deg).map_or_else(|_| String::new(), |angle| format!(" of {}", deg(-angle)));
        out.say(
            vec![About::path("settings.stem_flipped"), About::path("parts.stem.reversible")],
            "The stem is planned flipped and may not be.".into(),
            "Its maker gives it one way up only.".into(),
            format!("Plan it the way it is printed, or fit a stem{angle} that is made for it."),
        );
    }
}

/// The sample's stem goes on as printed.
pub fn fits(_: &mut Build) {}

/// A stem that is not reversible, flipped.
pub fn does_not_fit(build: &mut Build) {
    build.settings.stem_flipped = Some(true.into());
    build.parts.stem.make("").reversible = Some(false.into());
}

/// Flipped, and nobody knows.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.settings.stem_flipped = Some(true.into());
    build.parts.stem.make("").reversible = None;
});
