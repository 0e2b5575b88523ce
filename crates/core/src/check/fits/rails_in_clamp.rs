//! The post's clamp takes the saddle's rails.
//!
//! - Looks at: the section of the rails and the sections that the clamp takes.
//! - Why: a clamp for round rails bears on oval carbon along two lines and crushes it; the saddle comes off its rails.
//! - Source: the sections that the post's maker names.
//! - Fits: oval rails in a clamp with jaws for oval and round.
//! - Does not fit: the same rails in a clamp for round ones only.
//! - Not known: nobody knows what the clamp takes.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::About;

/// Where the limit comes from.
pub const SOURCE: &str = "the rail sections that the post's maker names";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["saddle", "post"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let pair = all((fact!(model.saddle, rail_shape), fact!(model.post, rail_shapes)));
    let Some((rails, taken)) = out.need(pair, "whether the clamp takes the saddle's rails") else { return };
    if !compare::named_in(&rails, &taken) {
        out.say(
            vec![About::path("parts.saddle.rail_shape"), About::path("parts.post.rail_shapes")],
            "The post's clamp does not take the saddle's rails.".into(),
            format!("The rails are {rails} and the clamp takes {taken}."),
            format!("Order the jaws for {rails} from the post's maker, or choose another saddle."),
        );
    }
}

/// The sample's clamp takes its rails.
pub fn fits(_: &mut Build) {}

/// A clamp for round rails only.
pub fn does_not_fit(build: &mut Build) {
    build.parts.post.make("").rail_shapes = Some("round 7".into());
}

/// Nobody knows what the clamp takes.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.post.make("").rail_shapes = None);
