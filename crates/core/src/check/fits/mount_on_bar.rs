//! The computer mount goes round this bar.
//!
//! - Looks at: the diameter that the mount's band is made for, and the bar's diameter beside the stem.
//! - Why: a band on a thinner bar turns at the first pothole; on a thicker one it does not close.
//! - Source: common practice, no source: band and bar alike within 0.5 mm
//! - Fits: both 31.8 mm.
//! - Does not fit: a band for 25.4 mm.
//! - Not known: nobody said how thick the bar is beside the stem.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare};
use crate::fact;
use crate::finding::{Severity, mm};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: band and bar alike within 0.5 mm";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "the bike rides without it");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["computer_mount", "bar", "cockpit"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    // A mount that is bolted to stem or cockpit has no band.
    let Ok(band_mm) = fact!(model.computer_mount, bar_diameter_mm) else { return };
    let (at, bar) = if model.one_piece() {
        (model.cockpit.at("tube_diameter"), fact!(model.cockpit, tube_diameter_mm))
    } else {
        (model.bar.at("clamp_diameter"), fact!(model.bar, clamp_diameter_mm))
    };
    let Some(bar_mm) = out.need(bar, "whether the computer mount goes round the bar") else { return };
    if !compare::same_within(band_mm, bar_mm, 0.5) {
        out.say(
            vec![model.computer_mount.at("bar_diameter"), at],
            "The computer mount does not go round the bar.".into(),
            format!("Its band is made for {} and the bar measures {}.", mm(band_mm), mm(bar_mm)),
            "Choose a mount for this bar, or the maker's own shim.".into(),
        );
    }
}

/// Both 31.8 mm.
pub fn fits(_: &mut Build) {}

/// A band for 25.4 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.computer_mount.make("").bar_diameter_mm = Some(25.4.into());
}

/// Nobody said how thick the bar is beside the stem.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.bar.make("").clamp_diameter_mm = None);
