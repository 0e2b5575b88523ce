//! The cover goes over the compression ring.
//!
//! - Looks at: how far the compression ring stands out of the head tube, and the recess under the cover or base
//!   spacer.
//! - Why: a cover of another kit rides on the ring instead of closing on the head tube: the bearing cannot be
//!   adjusted, and dirt goes in by the gap.
//! - Source: common practice, no source: the recess is as deep as the ring stands out, or deeper; rings commonly
//!   stand out by 3 mm
//! - Fits: A recess of 3.5 mm over a ring of 3.
//! - Does not fit: A flat base spacer on the same ring.
//! - Not known: Nobody measured the recess.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{Severity, mm};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: the recess is as deep as the ring stands out, or deeper; rings commonly stand out by 3 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "the right cover or base spacer mends it");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["headset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let headset = &case.model.headset;
    let facts = all((fact!(headset, ring_proud_mm), fact!(headset, cover_recess_mm)));
    match facts {
        Err(missing) => out.not_known_as(Severity::Note, &missing, "whether the cover goes over the compression ring"),
        Ok((ring_mm, recess_mm)) if compare::exceeds(ring_mm, recess_mm) => out.say(
            vec![headset.at("ring_proud"), headset.at("cover_recess")],
            "The cover rides on the compression ring.".into(),
            format!("The ring stands out by {} and the recess is {} deep.", mm(ring_mm), mm(recess_mm)),
            "Use the cover or base spacer of the same kit as the ring.".into(),
        ),
        Ok(_) => {}
    }
}

/// A recess of 3.5 mm over a ring of 3.
pub fn fits(_: &mut Build) {}

/// A flat base spacer on the same ring.
pub fn does_not_fit(build: &mut Build) {
    build.parts.headset.make("").cover_recess_mm = Some(0.5.into());
}

/// Nobody measured the recess.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.headset.make("").cover_recess_mm = None;
});
