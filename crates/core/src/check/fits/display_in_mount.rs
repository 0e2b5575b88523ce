//! The computer turns into its mount.
//!
//! - Looks at: the foot of the display and the socket of the mount.
//! - Why: feet of two makers look alike and differ by a tenth; forced in, the foot breaks off on the first cobbles.
//! - Source: common practice, no source: foot and socket named alike
//! - Fits: a quarter turn on both.
//! - Does not fit: a display with another foot.
//! - Not known: nobody said what socket the mount has.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: foot and socket named alike";
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
    if let Some((foot, socket)) =
        take(all((fact!(model.display, interface), fact!(model.computer_mount, interface))), &mut lacking)
        && !compare::same_name(&foot, &socket)
    {
        out.say(
            vec![model.display.at("interface"), model.computer_mount.at("interface")],
            "The computer does not turn into its mount.".into(),
            format!("Its foot is «{foot}» and the mount takes «{socket}»."),
            "Change the insert of the mount, or order the mount for this computer.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the computer turns into its mount");
}

/// A quarter turn on both.
pub fn fits(_: &mut Build) {}

/// A display with another foot.
pub fn does_not_fit(build: &mut Build) {
    build.parts.display.make("").interface = Some("slide and click".into());
}

/// Nobody said what socket the mount has.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.computer_mount.make("").interface = None);
