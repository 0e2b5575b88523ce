//! The race number has somewhere to go.
//!
//! - Looks at: whether the post takes the holder of a race number, where the bike is built for an event.
//! - Why: an aero post has neither hole nor round; it is found out with the number in hand at the start.
//! - Source: common practice, no source: a holder for the post's shape, or a hole with its screw
//! - Fits: A post that takes a holder.
//! - Does not fit: One that takes none.
//! - Not known: Nobody asked whether there is a holder for this post.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::fact;
use crate::finding::Severity;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: a holder for the post's shape, or a hole with its screw";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "tape has held many a number");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let Some(event) = &model.build.job.event else { return };
    match fact!(model.post, number_holder) {
        Err(missing) => out.not_known(&missing, "whether the post takes the holder of a race number"),
        Ok(true) => {}
        Ok(false) => out.say(
            vec![model.post.at("number_holder")],
            "The post takes no number holder.".into(),
            format!("The bike is built for «{}», and no holder goes onto this post.", event.value),
            "Ask the post's maker for its holder, or agree with the rider where the number goes.".into(),
        ),
    }
}

/// A post that takes a holder.
pub fn fits(build: &mut Build) {
    build.job.event = Some("a race".into());
}

/// One that takes none.
pub fn does_not_fit(build: &mut Build) {
    build.job.event = Some("a race".into());
    build.parts.post.make("").number_holder = Some(false.into());
}

/// Nobody asked whether there is a holder for this post.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.job.event = Some("a race".into());
    build.parts.post.make("").number_holder = None;
});
