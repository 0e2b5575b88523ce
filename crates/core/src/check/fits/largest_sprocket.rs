//! The rear derailleur is made for the largest sprocket.
//!
//! - Looks at: the cassette's largest sprocket and what the rear derailleur's maker allows there.
//! - Why: over a larger sprocket the upper wheel runs on its teeth; over a much smaller one the derailleur hangs too
//!   far away and shifts badly.
//! - Source: the derailleur maker's range for the largest sprocket
//! - Fits: 30 teeth where 28 to 34 are allowed.
//! - Does not fit: a largest sprocket of 36.
//! - Not known: the derailleur's range is not told.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::field::Given;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the derailleur maker's range for the largest sprocket";
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
        fact!(derailleur, largest_sprocket_min),
        fact!(derailleur, largest_sprocket_max),
    ));
    let question = "whether the rear derailleur is made for the largest sprocket";
    let Some((sprockets, least, most)) = out.need(facts, question) else { return };
    let Some(teeth) = sprockets.iter().max() else { return };
    if !(least..=most).contains(teeth) {
        let limit = if *teeth > most { "largest_sprocket_max" } else { "largest_sprocket_min" };
        out.say(
            vec![model.cassette.at("sprockets"), derailleur.at(limit)],
            "The rear derailleur is not made for the largest sprocket.".into(),
            format!("The largest sprocket has {teeth} teeth and the derailleur is made for {least} to {most}."),
            "Choose a cassette within its range, or the derailleur with the cage for this one.".into(),
        );
    }
}

/// 30 teeth where 28 to 34 are allowed.
pub fn fits(_: &mut Build) {}

/// A largest sprocket of 36.
pub fn does_not_fit(build: &mut Build) {
    build.parts.cassette.make("").sprockets =
        Some(Given { value: vec![11, 13, 15, 17, 19, 21, 23, 25, 28, 30, 33, 36], typed: String::new(), origin: None });
}

/// The derailleur's range is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.parts.rear_derailleur.make("").largest_sprocket_max = None);
