//! The post bears what the seat clamp is tightened to.
//!
//! - Looks at: what the frame's maker states at the seat clamp, and what the post allows there.
//! - Why: a post that is squeezed beyond its limit breaks at the collar, under the rider.
//! - Source: common practice, no source: where two parts are clamped, the lower of their limits counts
//! - Fits: 5.5 N·m stated, 6 allowed.
//! - Does not fit: a post that allows 4 N·m.
//! - Not known: the post's limit is not told.

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
pub const BETWEEN: &[&str] = &["frame", "post"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let stated = fact!(model.frame, post_clamp_torque_nm);
    let mut lacking = Missing::default();
    let limit = fact!(model.post, clamp_torque_nm);
    if let Some((stated_nm, allowed_nm)) = take(all((stated, limit)), &mut lacking)
        && compare::exceeds(stated_nm, allowed_nm)
    {
        out.say(
            vec![model.frame.at("post_clamp_torque"), model.post.at("clamp_torque")],
            "The post allows less torque than its clamp asks for.".into(),
            format!("At the collar {} are stated and the post allows {}.", nm(stated_nm), nm(allowed_nm)),
            format!("Tighten to {} at most; if it slips there, use carbon paste, never more force.", nm(allowed_nm)),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "how far the clamp on the post may be tightened");
}

/// 5.5 N·m stated, 6 allowed.
pub fn fits(_: &mut Build) {}

/// A post that allows 4 N·m.
pub fn does_not_fit(build: &mut Build) {
    build.parts.post.make("").clamp_torque_nm = Some(4.0.into());
}

/// The post's limit is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.post.make("").clamp_torque_nm = None);
