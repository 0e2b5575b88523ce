//! The post, and what lives under it, has room in the frame.
//!
//! - Looks at: the length of post inside the frame and what reaches below its end, against the depth to the first obstacle.
//! - Why: a post that meets a bottle boss or a bend does not go to its height, and a battery is crushed unseen.
//! - Source: the depth that the frame's maker states, or that was felt with a rod.
//! - Fits: 174 mm are inside where there is room for 240.
//! - Does not fit: a frame with room for 150 mm.
//! - Not known: nobody felt how deep the seat tube is free.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{About, mm};
use crate::number::{POST_INSERTION, Side};

/// Where the limit comes from.
pub const SOURCE: &str = "the depth that the frame's maker states, or as felt with a rod";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let facts = all((
        case.planned(&POST_INSERTION, Side::None),
        fact!(model.post, inside_below_mm),
        fact!(model.frame, post_depth_max_mm),
    ));
    let Some((inside_mm, below_mm, room_mm)) = out.need(facts, "whether the post has room in the frame") else {
        return;
    };
    if compare::exceeds(inside_mm + below_mm, room_mm) {
        let under = if below_mm > 0.0 { format!(", and {} reach below its end", mm(below_mm)) } else { String::new() };
        let more = mm(inside_mm + below_mm - room_mm);
        out.say(
            vec![About::number(&POST_INSERTION, Side::None), About::path("parts.frame.post_depth_max")],
            format!("The post goes {more} deeper than the frame has room."),
            format!("{} are inside{under}; the seat tube is free to {}.", mm(inside_mm), mm(room_mm)),
            format!("Cut {more} off the post if its maker and the insertion mark allow it, or find a shorter one."),
        );
    }
}

/// The sample's post has room.
pub fn fits(_: &mut Build) {}

/// A frame with a boss high up.
pub fn does_not_fit(build: &mut Build) {
    build.parts.frame.make("").post_depth_max_mm = Some(150.0.into());
}

/// Nobody felt how deep it is free.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").post_depth_max_mm = None);
