//! The expander backs the whole clamp inside a carbon steerer.
//!
//! - Looks at: where the expander begins and ends inside the steerer, and where the stem's clamp sits.
//! - Why: a clamp crushes a carbon tube that nothing supports from inside; it shows as a crack on the day of a fall.
//! - Source: common practice, no source: the expander spans the clamp; within 1 mm.
//! - Fits: an expander of 60 mm, 1 mm down, behind a clamp of 40 mm.
//! - Does not fit: an expander of 25 mm behind the same clamp.
//! - Not known: nobody measured the expander.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare};
use crate::fact;
use crate::finding::{About, mm};
use crate::part::Material;

/// So much of the clamp may be bare at either end.
const BARE_MM: f64 = 1.0;
/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: the expander spans the whole clamp";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let question = "whether the expander backs the clamp";
    let fork = &case.model.fork;
    let Some(material) = out.need(fact!(fork, steerer_material), question) else { return };
    if material != Material::Carbon {
        return;
    }
    let Some(backing) = out.need(case.worked.steerer.backing.clone(), question) else { return };
    let mut bare = Vec::new();
    if compare::exceeds(backing.bare_above_mm, BARE_MM) {
        bare.push(format!("{} above it", mm(backing.bare_above_mm)));
    }
    if compare::exceeds(backing.bare_below_mm, BARE_MM) {
        bare.push(format!("{} below it", mm(backing.bare_below_mm)));
    }
    if bare.is_empty() {
        return;
    }
    let cure = if compare::exceeds(backing.bare_below_mm, BARE_MM) && compare::exceeds(backing.bare_above_mm, BARE_MM) {
        "Use a longer expander."
    } else if compare::exceeds(backing.bare_below_mm, BARE_MM) {
        "Set the expander deeper, or use a longer one."
    } else {
        "Set the expander higher, or leave the steerer longer."
    };
    out.say(
        vec![About::path("parts.fork.expander_length"), About::path("settings.expander_depth")],
        "The expander does not back the whole clamp.".into(),
        format!(
            "It backs {} of the clamp, and leaves {} with nothing behind the carbon.",
            mm(backing.backed_mm),
            bare.join(" and ")
        ),
        cure.into(),
    );
}

/// The sample's expander spans the clamp.
pub fn fits(_: &mut Build) {}

/// A short expander.
pub fn does_not_fit(build: &mut Build) {
    build.parts.fork.make("").expander_length_mm = Some(25.0.into());
}

/// Nobody measured the expander.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").expander_length_mm = None);
