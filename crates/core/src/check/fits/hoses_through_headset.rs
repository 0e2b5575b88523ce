//! The headset lets the hoses into the frame.
//!
//! - Looks at: whether hoses enter the frame through the head tube, and whether the headset has a passage for them.
//! - Why: without a passage there is no way in; the split ring that leaves room for hoses is another part with another
//!   price.
//! - Source: common practice, no source: frames that lead hoses through the head tube want a headset made for it
//! - Fits: a headset with a passage.
//! - Does not fit: a headset without one.
//! - Not known: nobody said whether the headset has a passage.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: frames that lead hoses through the head tube want a headset made for it";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "headset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let inside = take(fact!(model.frame, hoses_in_head_tube), &mut lacking);
    if inside != Some(false)
        && let Some(passage) = take(fact!(model.headset, hose_passage), &mut lacking)
        && inside == Some(true)
        && !passage
    {
        out.say(
            vec![model.headset.at("hose_passage"), model.frame.at("hoses_in_head_tube")],
            "The headset lets no hoses through.".into(),
            "The frame takes the hoses in through its head tube, and the headset has no passage.".into(),
            "Order the headset with a passage, its compression ring and its cover, before bearings are pressed.".into(),
        );
    }
    out.not_known(&lacking, "whether the hoses come into the frame");
}

/// A headset with a passage.
pub fn fits(_: &mut Build) {}

/// A headset without one.
pub fn does_not_fit(build: &mut Build) {
    build.parts.headset.make("").hose_passage = Some(false.into());
}

/// Nobody said whether the headset has a passage.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.headset.make("").hose_passage = None);
