//! The front derailleur follows this outer ring.
//!
//! - Looks at: the outer ring, and the smallest and largest outer ring that the front derailleur's cage is made for.
//! - Why: over a larger ring the cage cannot be set high enough; over a smaller one its curve leaves a gap into which
//!   the chain drops.
//! - Source: the derailleur maker's range of outer rings
//! - Fits: an outer ring of 52 where 46 to 55 are allowed.
//! - Does not fit: an outer ring of 56.
//! - Not known: the derailleur's largest ring is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::field::Given;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the derailleur maker's range of outer rings";
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
    let facts = all((fact!(model.crankset, rings), fact!(derailleur, ring_min), fact!(derailleur, ring_max)));
    let Some((rings, least, most)) = out.need(facts, "whether the front derailleur follows the outer ring") else {
        return;
    };
    let Some(outer) = rings.iter().max() else { return };
    if !(least..=most).contains(outer) {
        out.say(
            vec![model.crankset.at("rings"), derailleur.at(if *outer > most { "ring_max" } else { "ring_min" })],
            "The front derailleur does not follow this outer ring.".into(),
            format!("The outer ring has {outer} teeth and the derailleur is made for {least} to {most}."),
            "Choose rings within its range, or the derailleur that is made for them.".into(),
        );
    }
}

/// An outer ring of 52 where 46 to 55 are allowed.
pub fn fits(_: &mut Build) {}

/// An outer ring of 56.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").rings = Some(Given { value: vec![56, 40], typed: "56; 40".into(), origin: None });
}

/// The derailleur's largest ring is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.front_derailleur.make("").ring_max = None);
