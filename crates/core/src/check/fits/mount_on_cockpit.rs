//! The computer mount's bolts meet those of the cockpit.
//!
//! - Looks at: the spacing of the mount's bolts and of the bolts that the one-piece cockpit has for one.
//! - Why: a mount with another spacing is found out when the bike is wrapped and the customer waits.
//! - Source: common practice, no source: spacing alike within 0.5 mm
//! - Fits: a mount with a band, on a bar.
//! - Does not fit: bolts 29 mm apart for a cockpit with 20.
//! - Not known: a cockpit of which nobody knows the spacing.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare};
use crate::fact;
use crate::finding::{Severity, mm};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: spacing alike within 0.5 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "the bike rides without it");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["computer_mount", "cockpit"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    if !model.one_piece() {
        return;
    }
    let Ok(own_mm) = fact!(model.computer_mount, bolt_spacing_mm) else { return };
    let question = "whether the computer mount's bolts meet those of the cockpit";
    let Some(cockpit_mm) = out.need(fact!(model.cockpit, mount_bolt_spacing_mm), question) else { return };
    if !compare::same_within(own_mm, cockpit_mm, 0.5) {
        out.say(
            vec![model.computer_mount.at("bolt_spacing"), model.cockpit.at("mount_bolt_spacing")],
            "The computer mount does not go onto the cockpit.".into(),
            format!("Its bolts are {} apart and the cockpit's {}.", mm(own_mm), mm(cockpit_mm)),
            "Order the mount that the cockpit's maker names.".into(),
        );
    }
}

/// A mount with a band, on a bar.
pub fn fits(_: &mut Build) {}

/// Bolts 29 mm apart for a cockpit with 20.
pub fn does_not_fit(build: &mut Build) {
    let cockpit = build.parts.cockpit.make("");
    cockpit.mass_g = Some(400.0.into());
    cockpit.mount_bolt_spacing_mm = Some(20.0.into());
    build.parts.computer_mount.make("").bolt_spacing_mm = Some(29.0.into());
}

/// A cockpit of which nobody knows the spacing.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.cockpit.make("").mass_g = Some(400.0.into());
    build.parts.computer_mount.make("").bolt_spacing_mm = Some(29.0.into());
});
