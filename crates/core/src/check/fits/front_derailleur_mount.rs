//! The front derailleur goes onto this frame.
//!
//! - Looks at: the frame's mount for a front derailleur and the mount that the derailleur is made for.
//! - Why: a band of another diameter does not close, and a frame without a mount takes no front derailleur at all.
//! - Source: common practice, no source: mounts named alike
//! - Fits: both are for a braze-on mount.
//! - Does not fit: a derailleur with a band of 31.8 mm on a braze-on mount.
//! - Not known: nobody said what mount the frame has.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: mounts named alike";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "front_derailleur"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    // Without a front derailleur there is nothing to mount.
    if model.front_derailleur.part.is_none() {
        return;
    }
    let facts = all((fact!(model.frame, front_derailleur_mount), fact!(model.front_derailleur, mount)));
    let Some((frame, own)) = out.need(facts, "whether the front derailleur goes onto the frame") else { return };
    if !compare::same_name(&frame, &own) {
        out.say(
            vec![model.frame.at("front_derailleur_mount"), model.front_derailleur.at("mount")],
            "The front derailleur does not go onto the frame.".into(),
            format!("The frame has «{frame}» and the derailleur is made for «{own}»."),
            "Order the derailleur, or an adapter that its maker names, by the frame's mount.".into(),
        );
    }
}

/// Both are for a braze-on mount.
pub fn fits(_: &mut Build) {}

/// A derailleur with a band of 31.8 mm on a braze-on mount.
pub fn does_not_fit(build: &mut Build) {
    build.parts.front_derailleur.make("").mount = Some("band 31.8".into());
}

/// Nobody said what mount the frame has.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").front_derailleur_mount = None);
