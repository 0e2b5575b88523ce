//! The post is of the frame's shape.
//!
//! - Looks at: the shape id of the post that the frame takes, and that of the post.
//! - Why: a round post 0.2 mm too thin slips and cracks the collar; a shaped post of another frame does not go in at all.
//! - Source: common practice, no source: one shape id, written by both makers.
//! - Fits: a round post of 27.2 mm in a frame for round 27.2 mm.
//! - Does not fit: a round post of 31.6 mm in the same frame.
//! - Not known: the frame's post shape is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::About;

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: frame and post name one shape";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "post"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let pair = all((fact!(model.frame, post_shape), fact!(model.post, shape)));
    let Some((frame, post)) = out.need(pair, "whether the post fits the frame") else { return };
    if !compare::same_name(&frame, &post) {
        out.say(
            vec![About::path("parts.frame.post_shape"), About::path("parts.post.shape")],
            "The seat post does not fit the frame.".into(),
            format!("The frame takes {frame} and the post is {post}."),
            format!("Find a post of the shape {frame}."),
        );
    }
}

/// The sample's post is of its frame's shape.
pub fn fits(_: &mut Build) {}

/// A thicker post.
pub fn does_not_fit(build: &mut Build) {
    build.parts.post.make("").shape = Some("round 31.6".into());
}

/// Nobody told the frame's shape.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").post_shape = None);
