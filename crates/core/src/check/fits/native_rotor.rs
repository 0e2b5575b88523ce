//! The mount takes this rotor without or with an adapter.
//!
//! - Looks at: the rotor for which the mount of fork and frame is made, each rotor, and the adapter under its caliper.
//! - Why: a mount made for 160 has no room for 140, and adapters are made for mounts of 140 alone.
//! - Source: common practice, no source: on a flat mount made for 140 an adapter makes 160; on one made for 160 there
//!   is only 160
//! - Fits: 160 on a mount made for 160, 140 on one made for 140.
//! - Does not fit: a front rotor of 140 on a mount made for 160.
//! - Not known: nobody said for which rotor the frame's mount is made.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, sizes, take};
use crate::fact;
use crate::finding::{About, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: on a flat mount made for 140 an adapter makes 160; on one made for 160 there is only 160";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["caliper", "rotor", "frame", "fork"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let [front, rear] = &model.ends;
    let mut lacking = Missing::default();
    for (end, mount, place, holder) in [
        (front, fact!(model.fork, brake_mount), model.fork.path, "fork"),
        (rear, fact!(model.frame, brake_mount), model.frame.path, "frame"),
    ] {
        let at = format!("{place}.brake_mount");
        let native = mount.and_then(|text| sizes::brake_mount(&text).rotor_mm.ok_or_else(|| Missing::fact(at.clone())));
        let facts = all((native, fact!(end.rotor, diameter_mm), fact!(end.caliper, adapter)));
        let Some((native_mm, rotor_mm, adapter)) = take(facts, &mut lacking) else { continue };
        let adapted = !compare::same_name(&adapter, "none");
        let why = if compare::falls_short(rotor_mm, native_mm) {
            Some("a mount takes no smaller rotor than it is made for")
        } else if compare::exceeds(rotor_mm, native_mm) && !adapted {
            Some("a larger one wants an adapter, and none is listed")
        } else if adapted && compare::exceeds(native_mm, 140.0) {
            Some("adapters are made for mounts of 140")
        } else {
            None
        };
        if let Some(why) = why {
            out.say(
                vec![About::path(&at), end.rotor.at("diameter"), end.caliper.at("adapter")],
                format!("The {holder}'s brake mount does not take the {} rotor so.", end.side.word()),
                format!("The mount is made for {}, the rotor measures {}; {why}.", mm(native_mm), mm(rotor_mm)),
                format!("Fit a rotor of {} without an adapter, or ask the {holder}'s maker.", mm(native_mm)),
            );
        }
    }
    out.not_known(&lacking, "whether the brake mounts take these rotors");
}

/// 160 on a mount made for 160, 140 on one made for 140.
pub fn fits(_: &mut Build) {}

/// A front rotor of 140 on a mount made for 160.
pub fn does_not_fit(build: &mut Build) {
    build.parts.rotor.make("front").diameter_mm = Some(140.0.into());
}

/// Nobody said for which rotor the frame's mount is made.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.parts.frame.make("").brake_mount = Some("flat".into()));
