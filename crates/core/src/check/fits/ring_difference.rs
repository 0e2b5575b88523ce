//! The derailleurs bridge the difference of the rings.
//!
//! - Looks at: the difference of outer and inner ring, and the largest that front and rear derailleur allow.
//! - Why: with more the front cage lets the chain fall past the small ring, and the rear one cannot keep it tight
//!   there.
//! - Source: the derailleur makers' largest difference
//! - Fits: 52 and 36 where both allow 16.
//! - Does not fit: 52 and 34.
//! - Not known: the front derailleur's largest difference is not told.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Given;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the derailleur makers' largest difference";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["crankset", "front_derailleur", "rear_derailleur"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let Some(rings) = take(fact!(model.crankset, rings), &mut lacking) else {
        out.not_known(&lacking, QUESTION);
        return;
    };
    let (Some(outer), Some(inner)) = (rings.iter().max(), rings.iter().min()) else { return };
    // A single ring has no difference.
    let difference = outer - inner;
    if difference == 0 {
        return;
    }
    let mut about = vec![model.crankset.at("rings")];
    let mut each = Vec::new();
    if model.front_derailleur.part.is_some()
        && let Some(most) = take(fact!(model.front_derailleur, difference_max), &mut lacking)
        && difference > most
    {
        about.push(model.front_derailleur.at("difference_max"));
        each.push(format!("the front derailleur allows {most}"));
    }
    if let Some(most) = take(fact!(model.rear_derailleur, ring_difference_max), &mut lacking)
        && difference > most
    {
        about.push(model.rear_derailleur.at("ring_difference_max"));
        each.push(format!("the rear derailleur allows {most}"));
    }
    if !each.is_empty() {
        out.say(
            about,
            "The rings differ by more teeth than the derailleurs allow.".into(),
            format!("{outer} and {inner} differ by {difference} teeth; {}.", and_list(&each)),
            "Choose rings that are closer together, or derailleurs for this pair.".into(),
        );
    }
    out.not_known(&lacking, QUESTION);
}

/// What cannot be judged when a fact is missing.
const QUESTION: &str = "whether the derailleurs bridge the difference of the rings";

/// 52 and 36 where both allow 16.
pub fn fits(_: &mut Build) {}

/// 52 and 34.
pub fn does_not_fit(build: &mut Build) {
    build.parts.crankset.make("").rings = Some(Given { value: vec![52, 34], typed: "52; 34".into(), origin: None });
}

/// The front derailleur's largest difference is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.front_derailleur.make("").difference_max = None);
