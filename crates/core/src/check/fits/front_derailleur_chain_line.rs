//! The front derailleur swings where the rings are.
//!
//! - Looks at: the crankset's chain line and the range that the front derailleur's maker names.
//! - Why: outside the range the cage rubs on one ring or cannot push the chain onto the other, whatever its screws are
//!   set to.
//! - Source: the derailleur maker's range of chain lines
//! - Fits: a chain line of 44.5 mm where 43.5 to 45 are named.
//! - Does not fit: a chain line of 47.5 mm.
//! - Not known: the chain line of the crankset is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the derailleur maker's range of chain lines";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["crankset", "front_derailleur"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let derailleur = &model.front_derailleur;
    if derailleur.part.is_none() {
        return;
    }
    let mut lacking = Missing::default();
    let line = take(fact!(model.crankset, chain_line_mm), &mut lacking);
    let range = all((fact!(derailleur, chain_line_min_mm), fact!(derailleur, chain_line_max_mm)));
    if let (Some(line_mm), Some((least_mm, most_mm))) = (line, take(range, &mut lacking))
        && (compare::falls_short(line_mm, least_mm) || compare::exceeds(line_mm, most_mm))
    {
        out.say(
            vec![model.crankset.at("chain_line"), derailleur.at("chain_line_max")],
            "The front derailleur does not swing where the rings are.".into(),
            format!("The chain line is {} and the derailleur is made for {} to {}.", mm(line_mm), mm(least_mm), mm(most_mm)),
            "Choose a derailleur for this chain line, or a crankset with another; spacers move both rings and the spindle.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the front derailleur swings where the rings are");
}

/// A chain line of 44.5 mm where 43.5 to 45 are named.
pub fn fits(_: &mut Build) {}

/// A chain line of 47.5 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").chain_line_mm = Some(47.5.into());
}

/// The chain line of the crankset is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.crankset.make("").chain_line_mm = None);
