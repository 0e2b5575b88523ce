//! An extender goes where the valve's core was.
//!
//! - Looks at: the length that an extender adds to each valve, and whether its core can be taken out.
//! - Why: an extender screwed over a closed core either leaks or cannot be let down; the core must be able to come
//!   out.
//! - Source: common practice, no source: extenders between valve and core
//! - Fits: no extender.
//! - Does not fit: an extender of 30 mm on a valve whose core stays in.
//! - Not known: nobody looked whether the core comes out.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: extenders between valve and core";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a longer valve puts it right");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tube"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        let extended = fact!(end.tube, extender_mm).is_ok_and(|extender_mm| extender_mm > 0.0);
        if !extended {
            continue;
        }
        if take(fact!(end.tube, valve_core_out), &mut lacking) == Some(false) {
            out.say(
                vec![end.tube.at("extender"), end.tube.at("valve_core_out")],
                format!("The {} valve takes no extender.", end.side.word()),
                "An extender is listed; it goes between valve and core, and this core cannot be taken out.".into(),
                "Fit a tube whose core comes out, or a longer valve.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether the extenders can be fitted");
}

/// No extender.
pub fn fits(_: &mut Build) {}

/// An extender of 30 mm on a valve whose core stays in.
pub fn does_not_fit(build: &mut Build) {
    let tube = build.parts.tube.make("front");
    tube.extender_mm = Some(30.0.into());
    tube.valve_core_out = Some(false.into());
}

/// Nobody looked whether the core comes out.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    let tube = build.parts.tube.make("front");
    tube.extender_mm = Some(30.0.into());
    tube.valve_core_out = None;
});
