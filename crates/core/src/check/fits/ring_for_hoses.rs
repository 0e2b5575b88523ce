//! The compression ring leaves room for the hoses.
//!
//! - Looks at: the kind of compression ring, where the frame takes its hoses in through the head tube.
//! - Why: a plain split ring fills the bearing; the hoses do not pass, or are cut by its edge each time the bar is
//!   turned.
//! - Source: common practice, no source: hoses through the head tube want the ring that is made for them
//! - Fits: A ring for internal hoses.
//! - Does not fit: A split ring.
//! - Not known: Nobody said which ring it is.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: hoses through the head tube want the ring that is made for them";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "headset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let (frame, headset) = (&case.model.frame, &case.model.headset);
    let mut lacking = Missing::default();
    if take(fact!(frame, hoses_in_head_tube), &mut lacking) != Some(false)
        && let Some(ring) = take(fact!(headset, compression_ring), &mut lacking)
        && lacking == Missing::default()
        && !ring.to_lowercase().contains("hose")
    {
        out.say(
            vec![headset.at("compression_ring"), frame.at("hoses_in_head_tube")],
            "The compression ring leaves no room for the hoses.".into(),
            format!("The ring is a «{ring}», and the frame takes the hoses in through the head tube."),
            "Order the ring for internal hoses of this headset.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the compression ring leaves room for the hoses");
}

/// A ring for internal hoses.
pub fn fits(_: &mut Build) {}

/// A split ring.
pub fn does_not_fit(build: &mut Build) {
    build.parts.headset.make("").compression_ring = Some("split ring".into());
}

/// Nobody said which ring it is.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.headset.make("").compression_ring = None;
});
