//! The computer mount carries what hangs on it.
//!
//! - Looks at: mass of the display and the heaviest load that the mount's maker allows.
//! - Why: an overloaded mount tires and drops the computer under the wheels of the bunch.
//! - Source: the load that the mount's maker allows
//! - Fits: 78 g, where 200 are allowed.
//! - Does not fit: a mount for 60 g.
//! - Not known: the mount's load is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, take};
use crate::fact;
use crate::finding::{Severity, figure};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the load that the mount's maker allows";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "the bike rides without it");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["display", "computer_mount"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    if model.display.part.is_none() || model.computer_mount.part.is_none() {
        return;
    }
    let mut lacking = Missing::default();
    if let Some((mass_g, most_g)) =
        take(all((fact!(model.display, mass_g), fact!(model.computer_mount, load_max_g))), &mut lacking)
        && mass_g > most_g
    {
        out.say(
            vec![model.display.at("mass"), model.computer_mount.at("load_max")],
            "The computer is too heavy for its mount.".into(),
            format!("It weighs {} g and the mount's maker allows {} g.", figure(mass_g, 0), figure(most_g, 0)),
            "Choose a stronger mount, and count a light under it.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the computer mount carries what hangs on it");
}

/// 78 g, where 200 are allowed.
pub fn fits(_: &mut Build) {}

/// A mount for 60 g.
pub fn does_not_fit(build: &mut Build) {
    build.parts.computer_mount.make("").load_max_g = Some(60.0.into());
}

/// The mount's load is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.computer_mount.make("").load_max_g = None);
