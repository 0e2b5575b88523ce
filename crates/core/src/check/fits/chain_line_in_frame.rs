//! The chain line is the one that the frame is drawn for.
//!
//! - Looks at: the cranks' chain line, and the chain line for which the frame's maker drew the stays.
//! - Why: rings that stand further in than the stays were drawn for touch them; further out, the chain runs slant and
//!   drops.
//! - Source: the frame maker's word, within 1 mm
//! - Fits: 44.5 mm, as the frame is drawn.
//! - Does not fit: Cranks of 42 mm.
//! - Not known: The frame's chain line is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare};
use crate::fact;
use crate::finding::{Severity, mm};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the frame maker's word, within 1 mm";
/// How much it weighs.
pub const WEIGHT: Weight =
    Weight::Other(Severity::Caution, "spacers move a chain line, and room at the stay is checked by itself");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["frame", "crankset"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    match all((fact!(model.frame, chain_line_mm), fact!(model.crankset, chain_line_mm))) {
        Err(missing) => out.not_known_as(Severity::Note, &missing, "whether the chain line is the frame's"),
        Ok((frame_mm, cranks_mm)) if !compare::same_within(frame_mm, cranks_mm, WITHIN_MM) => out.say(
            vec![model.crankset.at("chain_line"), model.frame.at("chain_line")],
            "The chain line is not the one that the frame is drawn for.".into(),
            format!("The cranks put it at {} and the frame's maker names {}.", mm(cranks_mm), mm(frame_mm)),
            "Check cranks and spacers against the frame's sheet, and measure the room at the stay.".into(),
        ),
        Ok(_) => {}
    }
}

/// Makers state chain lines to half a millimetre.
const WITHIN_MM: f64 = 1.0;

/// 44.5 mm, as the frame is drawn.
pub fn fits(_: &mut Build) {}

/// Cranks of 42 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").chain_line_mm = Some(42.0.into());
}

/// The frame's chain line is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.frame.make("").chain_line_mm = None;
});
