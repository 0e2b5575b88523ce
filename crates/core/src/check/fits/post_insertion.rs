//! Enough of the post is in the frame.
//!
//! - Looks at: the length of post inside the frame, against the mark on the post and the frame's minimum, whichever asks
//!   for more.
//! - Why: a post that sits too high levers the seat tube open, and breaks frame or post under the rider.
//! - Source: the larger of the post's mark and the frame maker's minimum; 16 CFR 1512.15(b): never less than two
//!   diameters of a round post
//! - Fits: 174 mm are inside where 90 are asked for.
//! - Does not fit: a post of 250 mm at the same height.
//! - Not known: the frame's minimum is not told, and the post's mark alone does not settle it.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, sizes, take};
use crate::fact;
use crate::finding::{About, mm};
use crate::model::Missing;
use crate::number::{POST_INSERTION, Side};

/// Where the limit comes from.
pub const SOURCE: &str = "the larger of the post's mark and the frame maker's minimum; 16 CFR 1512.15(b): never less than two diameters of a round post";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let question = "whether enough of the post is in the frame";
    let model = case.model;
    let mut lacking = Missing::default();
    let inside = take(case.planned(&POST_INSERTION, Side::None), &mut lacking);
    let mark = take(fact!(model.post, insertion_min_mm), &mut lacking);
    let frame = take(fact!(model.frame, post_insertion_min_mm), &mut lacking);
    let round_mm = fact!(model.post, shape).ok().filter(|shape| shape.trim().to_lowercase().starts_with("round"));
    let two_diameters = round_mm.and_then(|shape| sizes::numbers(&shape).first().map(|diameter_mm| 2.0 * diameter_mm));
    if let Some(inside_mm) = inside {
        let asked = [
            (mark, "the mark on the post asks for", "parts.post.insertion_min"),
            (frame, "the frame's maker asks for", "parts.frame.post_insertion_min"),
            (two_diameters, "a round post wants two diameters,", "parts.post.shape"),
        ];
        let strictest = asked
            .into_iter()
            .filter_map(|(limit, whose, path)| limit.map(|limit_mm| (limit_mm, whose, path)))
            .max_by(|(a, ..), (b, ..)| a.total_cmp(b));
        if let Some((least_mm, whose, path)) = strictest.filter(|(least, ..)| compare::falls_short(inside_mm, *least)) {
            let lack = mm(least_mm - inside_mm);
            out.say(
                vec![About::number(&POST_INSERTION, Side::None), About::path(path)],
                format!("The post stands {lack} too far out of the frame."),
                format!("{} are inside and {whose} {}.", mm(inside_mm), mm(least_mm)),
                format!("Find a post that is {lack} longer, or a taller saddle; never ride it so."),
            );
        }
    }
    out.not_known(&lacking, question);
}

/// The sample's post is deep enough.
pub fn fits(_: &mut Build) {}

/// A short post.
pub fn does_not_fit(build: &mut Build) {
    build.parts.post.make("").length_mm = Some(250.0.into());
}

/// The frame's minimum is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").post_insertion_min_mm = None);
