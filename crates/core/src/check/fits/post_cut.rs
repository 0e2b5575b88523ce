//! A post that was cut is not shorter than its maker allows.
//!
//! - Looks at: the length of the post less what is to be cut off it, and the shortest to which its maker lets it be cut.
//! - Why: a post that is cut past its reinforced end, or past its mark, breaks in the frame and takes the frame with
//!   it.
//! - Source: the post maker's word
//! - Fits: A post of 350 mm that may be cut to 300.
//! - Does not fit: The same post cut to 280.
//! - Not known: The maker's shortest length was not found.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{About, Severity, mm};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the post maker's word";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["post"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let post = &case.model.post;
    let to_be_cut_mm = case.model.build.settings.post_cut_mm.as_ref().map_or(0.0, |cut| cut.value);
    match all((fact!(post, length_mm), fact!(post, cut_min_mm))) {
        Err(missing) => out.not_known_as(Severity::Note, &missing, "whether the post may be as short as it is"),
        Ok((length_mm, least_mm)) if compare::falls_short(length_mm, least_mm) => out.say(
            vec![post.at("length"), post.at("cut_min")],
            "The post is cut shorter than its maker allows.".into(),
            format!("It is {} long and may be cut to {}.", mm(length_mm), mm(least_mm)),
            "Take another post; never ride this one.".into(),
        ),
        Ok((length_mm, least_mm)) if compare::falls_short(length_mm - to_be_cut_mm, least_mm) => out.say(
            vec![About::path("settings.post_cut"), post.at("cut_min")],
            "More is to be cut off the post than its maker allows.".into(),
            format!(
                "Of {} it would keep {}, and it may be cut to {}.",
                mm(length_mm),
                mm(length_mm - to_be_cut_mm),
                mm(least_mm)
            ),
            "Cut less, or take a post that is shorter as it comes.".into(),
        ),
        Ok(_) => {}
    }
}

/// A post of 350 mm that may be cut to 300.
pub fn fits(_: &mut Build) {}

/// The same post cut to 280.
pub fn does_not_fit(build: &mut Build) {
    build.parts.post.make("").length_mm = Some(280.0.into());
}

/// The maker's shortest length was not found.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.post.make("").cut_min_mm = None;
});
