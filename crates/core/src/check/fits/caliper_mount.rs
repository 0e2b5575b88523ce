//! The calipers are made for these mounts.
//!
//! - Looks at: the kind of mount of each caliper, and of fork and frame.
//! - Why: a caliper for another kind of mount has its bolts elsewhere, and there is no adapter on a road bike.
//! - Source: common practice, no source: kinds of mount named alike; flat mounts on road bikes
//! - Fits: flat on both sides.
//! - Does not fit: a front caliper for post mounts.
//! - Not known: nobody said which mount the fork has.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, sizes, take};
use crate::fact;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: kinds of mount named alike; flat mounts on road bikes";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["caliper", "frame", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let [front, rear] = &model.ends;
    let mut lacking = Missing::default();
    for (end, mount, at, holder) in [
        (front, fact!(model.fork, brake_mount), model.fork.at("brake_mount"), "fork"),
        (rear, fact!(model.frame, brake_mount), model.frame.at("brake_mount"), "frame"),
    ] {
        let Some((own, mount)) = take(all((fact!(end.caliper, mount), mount)), &mut lacking) else { continue };
        if sizes::brake_mount(&own).kind != sizes::brake_mount(&mount).kind {
            out.say(
                vec![end.caliper.at("mount"), at],
                format!("The {} caliper is not made for the {holder}'s mount.", end.side.word()),
                format!("The caliper is for «{own}» and the {holder} has «{mount}»."),
                "Order the caliper for the mount.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether the calipers are made for their mounts");
}

/// Flat on both sides.
pub fn fits(_: &mut Build) {}

/// A front caliper for post mounts.
pub fn does_not_fit(build: &mut Build) {
    build.parts.caliper.make("front").mount = Some("post".into());
}

/// Nobody said which mount the fork has.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.fork.make("").brake_mount = None);
