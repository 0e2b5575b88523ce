//! The derailleur takes up the slack of the smallest pair.
//!
//! - Looks at: the teeth between the rings and between the ends of the cassette, the capacity that the maker
//!   states, and what the cage takes up between its stops by geometry.
//! - Why: over the capacity the chain is either too short for the largest pair or slack in the smallest.
//! - Source: the maker's stated capacity; geometry of the cage beside it
//! - Fits: 35 teeth on a derailleur for 39.
//! - Does not fit: a derailleur for 33 teeth.
//! - Not known: its maker's figure is not on hand.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::compute::Capacity;
use crate::finding::{About, Severity, figure};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the maker's stated capacity; geometry of the cage beside it";
/// How much it weighs.
pub const WEIGHT: Weight =
    Weight::Other(Severity::Caution, "makers state capacities with a reserve, and sprockets can be left alone");
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let worked = &case.worked.transmission;
    if worked.absent {
        return;
    }
    let stated =
        |capacity: &Capacity| capacity.stated_teeth.ok_or_else(|| Missing::fact("parts.rear_derailleur.capacity"));
    let known = worked.capacity.as_ref().map_err(Clone::clone);
    let (capacity, stated) = match known.and_then(|capacity| Ok((capacity, stated(capacity)?))) {
        Ok(known) => known,
        Err(missing) => {
            out.not_known_as(Severity::Note, &missing, "whether the derailleur takes up enough chain");
            return;
        }
    };
    let needed = capacity.needed_teeth;
    if needed <= stated {
        return;
    }
    let geometry = capacity.geometry_teeth.map_or_else(
        || "what the cage itself takes up is not known".to_owned(),
        |teeth| format!("by its geometry the cage takes up {}", figure(teeth, 1)),
    );
    out.say(
        vec![About::path("parts.rear_derailleur.capacity"), About::path("parts.cassette.sprockets")],
        "The gears ask for more than the derailleur's stated capacity.".into(),
        format!("Rings and sprockets differ by {needed} teeth together, its maker states {stated}; {geometry}."),
        "Fit a derailleur with a longer cage or a closer cassette, or lock the smallest pairs off and watch the chain's length.".into(),
    );
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// A short cage.
pub fn does_not_fit(build: &mut Build) {
    build.parts.rear_derailleur.make("").capacity = Some(33.into());
}

/// No figure on hand.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.rear_derailleur.make("").capacity = None);
