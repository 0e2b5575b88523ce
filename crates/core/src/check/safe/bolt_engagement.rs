//! Caliper bolts hold by enough thread.
//!
//! - Looks at: the length of each caliper's bolts inside the thread, once mounted.
//! - Why: the bolt's length goes by the thickness of the stay: too long it bottoms and clamps nothing, too short it
//!   strips the thread.
//! - Source: from memory: an M5 bolt in light alloy holds by one and a half diameters, 7.5 mm
//! - Fits: 9 mm of thread.
//! - Does not fit: rear bolts that hold by 5 mm.
//! - Not known: nobody counted the turns of the front bolts.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "from memory: an M5 bolt in light alloy holds by one and a half diameters, 7.5 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["caliper"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        let Some(holds_mm) = take(fact!(end.caliper, bolt_engagement_mm), &mut lacking) else { continue };
        if compare::falls_short(holds_mm, LEAST_MM) {
            out.say(
                vec![end.caliper.at("bolt_engagement")],
                format!("The {} caliper's bolts hold by too little thread.", end.side.word()),
                format!("They reach {} into the thread and {} are wanted.", mm(holds_mm), mm(LEAST_MM)),
                "Order bolts by the thickness of the stay; turn them in by hand without the caliper first, to see that they do not bottom.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the caliper bolts hold by enough thread");
}

/// One and a half diameters of an M5 bolt.
const LEAST_MM: f64 = 7.5;

/// 9 mm of thread.
pub fn fits(_: &mut Build) {}

/// Rear bolts that hold by 5 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.caliper.make("rear").bolt_engagement_mm = Some(5.0.into());
}

/// Nobody counted the turns of the front bolts.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.caliper.make("front").bolt_engagement_mm = None);
