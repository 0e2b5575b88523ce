//! The rails bear what their clamp is tightened to.
//!
//! - Looks at: what the post's maker states at the rail clamp, and what the saddle's rails allow.
//! - Why: carbon rails crack in the clamp where nobody looks, and break on a pothole.
//! - Source: common practice, no source: where two parts are clamped, the lower of their limits counts
//! - Fits: 8 N·m stated, 9 allowed.
//! - Does not fit: rails that allow 6 N·m.
//! - Not known: the saddle's limit is not told.

use crate::build::Build;
use crate::check::words::nm;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: where two parts are clamped, the lower of their limits counts";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "no part is wrong; the wrench is to be set lower");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["post", "saddle"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let stated = fact!(model.post, rail_clamp_torque_nm);
    let mut lacking = Missing::default();
    let limit = fact!(model.saddle, rail_clamp_torque_nm);
    if let Some((stated_nm, allowed_nm)) = take(all((stated, limit)), &mut lacking)
        && compare::exceeds(stated_nm, allowed_nm)
    {
        out.say(
            vec![model.post.at("rail_clamp_torque"), model.saddle.at("rail_clamp_torque")],
            "The saddle allows less torque than its clamp asks for.".into(),
            format!("At the rails {} are stated and the saddle allows {}.", nm(stated_nm), nm(allowed_nm)),
            format!("Tighten to {} at most; if it slips there, use carbon paste, never more force.", nm(allowed_nm)),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "how far the clamp on the saddle may be tightened");
}

/// 8 N·m stated, 9 allowed.
pub fn fits(_: &mut Build) {}

/// Rails that allow 6 N·m.
pub fn does_not_fit(build: &mut Build) {
    build.parts.saddle.make("").rail_clamp_torque_nm = Some(6.0.into());
}

/// The saddle's limit is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.saddle.make("").rail_clamp_torque_nm = None);
