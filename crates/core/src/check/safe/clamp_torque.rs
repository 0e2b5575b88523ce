//! The lower of two torques counts.
//!
//! - Looks at: what the stem's maker states at the bar and what the bar allows there; what each lever's maker states at its
//!   band and what the bar or cockpit allows there.
//! - Why: the figure printed on the clamp is for the clamp; the bar in it may bear less, and cracks where nobody looks.
//! - Source: common practice, no source: where two parts are clamped, the lowest of their limits counts.
//! - Fits: both makers state 5 N·m at the stem and 6 N·m at the levers.
//! - Does not fit: the stem states 6 N·m and the bar allows 5 there.
//! - Not known: the bar's limit at the levers is not told.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, all, compare, sentence, take};
use crate::fact;
use crate::finding::{About, Severity, figure};
use crate::model::Missing;

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: the lowest limit among the joined parts counts";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "no part is wrong; the wrench is to be set lower");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["stem", "bar", "lever", "cockpit"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let mut joints = Vec::new();
    let (holder, at_lever) = if model.one_piece() {
        ("cockpit", fact!(model.cockpit, lever_clamp_torque_nm))
    } else {
        let pair = all((fact!(model.stem, bar_clamp_torque_nm), fact!(model.bar, stem_clamp_torque_nm)));
        joints.extend(take(pair, &mut lacking).map(|pair| ("the stem", pair, "parts.stem.bar_clamp_torque")));
        ("bar", fact!(model.bar, lever_clamp_torque_nm))
    };
    for (name, lever, path) in [
        ("the left lever", &model.lever_left, "parts.lever.left.clamp_torque"),
        ("the right lever", &model.lever_right, "parts.lever.right.clamp_torque"),
    ] {
        let pair = all((fact!(lever, clamp_torque_nm), at_lever.clone()));
        joints.extend(take(pair, &mut lacking).map(|pair| (name, pair, path)));
    }
    joints.retain(|(_, (stated_nm, allowed_nm), _)| compare::exceeds(*stated_nm, *allowed_nm));
    if !joints.is_empty() {
        let nm = |value: f64| format!("{} N·m", figure(value, 1));
        let each: Vec<String> = joints
            .iter()
            .map(|(name, (stated, allowed), _)| {
                format!("at {name} {} are stated and the {holder} allows {}", nm(*stated), nm(*allowed))
            })
            .collect();
        let turn: Vec<String> =
            joints.iter().map(|(name, (_, allowed), _)| format!("{name} to {}", nm(*allowed))).collect();
        out.say(
            joints.iter().map(|(.., path)| About::path(path)).collect(),
            format!("The {holder} allows less torque than its clamps ask for."),
            format!("{}.", sentence(&each.join("; "))),
            format!("Tighten {} at most; if it slips there, use carbon paste, never more force.", and_list(&turn)),
        );
    }
    out.not_known(&lacking, "how far the clamps on the bar may be tightened");
}

/// The sample's makers agree.
pub fn fits(_: &mut Build) {}

/// The bar allows less than the stem states.
pub fn does_not_fit(build: &mut Build) {
    build.parts.stem.make("").bar_clamp_torque_nm = Some(6.0.into());
}

/// Nobody told what the bar bears at the levers.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.bar.make("").lever_clamp_torque_nm = None);
