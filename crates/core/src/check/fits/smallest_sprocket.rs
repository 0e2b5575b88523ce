//! The rear derailleur is made for the smallest sprocket.
//!
//! - Looks at: the cassette's smallest sprocket and what the rear derailleur's maker allows there.
//! - Why: on a smaller sprocket the cage cannot follow down; on a larger one the chain is slack in the fastest gears.
//! - Source: the derailleur maker's range for the smallest sprocket
//! - Fits: 11 teeth where 11 to 12 are allowed.
//! - Does not fit: a smallest sprocket of 9.
//! - Not known: the derailleur's range is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::field::Given;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the derailleur maker's range for the smallest sprocket";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["cassette", "rear_derailleur"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let derailleur = &model.rear_derailleur;
    let facts = all((
        fact!(model.cassette, sprockets),
        fact!(derailleur, smallest_sprocket_min),
        fact!(derailleur, smallest_sprocket_max),
    ));
    let question = "whether the rear derailleur is made for the smallest sprocket";
    let Some((sprockets, least, most)) = out.need(facts, question) else { return };
    let Some(teeth) = sprockets.iter().min() else { return };
    if !(least..=most).contains(teeth) {
        let limit = if *teeth > most { "smallest_sprocket_max" } else { "smallest_sprocket_min" };
        out.say(
            vec![model.cassette.at("sprockets"), derailleur.at(limit)],
            "The rear derailleur is not made for the smallest sprocket.".into(),
            format!("The smallest sprocket has {teeth} teeth and the derailleur is made for {least} to {most}."),
            "Choose a cassette within its range, or the derailleur with the cage for this one.".into(),
        );
    }
}

/// 11 teeth where 11 to 12 are allowed.
pub fn fits(_: &mut Build) {}

/// A smallest sprocket of 9.
pub fn does_not_fit(build: &mut Build) {
    build.parts.cassette.make("").sprockets =
        Some(Given { value: vec![9, 10, 11, 12, 13, 15, 17, 19, 22, 25, 28, 32], typed: String::new(), origin: None });
}

/// The derailleur's range is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.parts.rear_derailleur.make("").smallest_sprocket_max = None);
