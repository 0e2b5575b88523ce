//! The steerer bears what its clamp is tightened to.
//!
//! - Looks at: what the maker of stem or one-piece cockpit states at the steerer, and what the fork allows there.
//! - Why: the figure on the stem is for the stem; a carbon steerer under it may bear less, and breaks at the top of
//!   the clamp.
//! - Source: common practice, no source: where two parts are clamped, the lower of their limits counts
//! - Fits: 5 N·m stated and allowed.
//! - Does not fit: a stem with 6 N·m on a steerer for 5.
//! - Not known: the fork's limit is not told.

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
pub const BETWEEN: &[&str] = &["stem", "cockpit", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let (at, stated) = if model.one_piece() {
        (model.cockpit.at("steerer_clamp_torque"), fact!(model.cockpit, steerer_clamp_torque_nm))
    } else {
        (model.stem.at("steerer_clamp_torque"), fact!(model.stem, steerer_clamp_torque_nm))
    };
    let mut lacking = Missing::default();
    let limit = fact!(model.fork, steerer_clamp_torque_nm);
    if let Some((stated_nm, allowed_nm)) = take(all((stated, limit)), &mut lacking)
        && compare::exceeds(stated_nm, allowed_nm)
    {
        out.say(
            vec![at, model.fork.at("steerer_clamp_torque")],
            "The steerer allows less torque than its clamp asks for.".into(),
            format!("At the steerer {} are stated and the steerer allows {}.", nm(stated_nm), nm(allowed_nm)),
            format!("Tighten to {} at most; if it slips there, use carbon paste, never more force.", nm(allowed_nm)),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "how far the clamp on the steerer may be tightened");
}

/// 5 N·m stated and allowed.
pub fn fits(_: &mut Build) {}

/// A stem with 6 N·m on a steerer for 5.
pub fn does_not_fit(build: &mut Build) {
    build.parts.stem.make("").steerer_clamp_torque_nm = Some(6.0.into());
}

/// The fork's limit is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").steerer_clamp_torque_nm = None);
