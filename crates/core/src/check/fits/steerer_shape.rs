//! The clamp is shaped as the steerer is.
//!
//! - Looks at: shape of the steerer, and the shape that the clamp of stem or one-piece cockpit takes.
//! - Why: a round clamp on a steerer with a flat side bears on two lines and crushes it where nobody sees.
//! - Source: common practice, no source: shapes named alike
//! - Fits: both are round.
//! - Does not fit: a steerer with a flat side in a round clamp.
//! - Not known: nobody said what the stem clamps.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: shapes named alike";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["stem", "cockpit", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let (name, at, clamp) = if model.one_piece() {
        ("cockpit", model.cockpit.at("steerer_shape"), fact!(model.cockpit, steerer_shape))
    } else {
        ("stem", model.stem.at("steerer_shape"), fact!(model.stem, steerer_shape))
    };
    let mut lacking = Missing::default();
    if let Some((clamp, steerer)) = take(all((clamp, fact!(model.fork, steerer_shape))), &mut lacking)
        && !compare::same_name(&clamp, &steerer)
    {
        out.say(
            vec![at, model.fork.at("steerer_shape")],
            format!("The {name} does not clamp a steerer of this shape."),
            format!("The steerer is «{steerer}» and the {name} is made for «{clamp}»."),
            format!("Choose a {name} that the fork's maker names."),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the clamp is shaped as the steerer is");
}

/// Both are round.
pub fn fits(_: &mut Build) {}

/// A steerer with a flat side in a round clamp.
pub fn does_not_fit(build: &mut Build) {
    build.parts.fork.make("").steerer_shape = Some("flat at the rear".into());
}

/// Nobody said what the stem clamps.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.stem.make("").steerer_shape = None);
