//! The cassette has as many sprockets as it has speeds.
//!
//! - Looks at: the list of sprockets and the number of speeds of the cassette.
//! - Why: a list with a sprocket too many or too few was typed wrongly, and every gear and chain length comes out of
//!   that list.
//! - Source: identity: a speed is a sprocket
//! - Fits: twelve sprockets and 12 speeds.
//! - Does not fit: 12 speeds and eleven sprockets.
//! - Not known: the sprockets are not listed.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::field::Given;
use crate::finding::Severity;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "identity: a speed is a sprocket";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a slip of the pen and no wrong part");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["cassette"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let facts = all((fact!(model.cassette, sprockets), fact!(model.cassette, speeds)));
    let Some((sprockets, speeds)) = out.need(facts, "whether the list of sprockets is complete") else { return };
    if sprockets.len() != speeds as usize || !sprockets.is_sorted() {
        let order = if sprockets.is_sorted() { "" } else { ", and they do not stand in their order" };
        out.say(
            vec![model.cassette.at("sprockets"), model.cassette.at("speeds")],
            "The list of sprockets is not that of this cassette.".into(),
            format!("It names {} sprockets{order}; the cassette has {speeds} speeds.", sprockets.len()),
            "Count the sprockets and read the teeth stamped on them, smallest first.".into(),
        );
    }
}

/// Twelve sprockets and 12 speeds.
pub fn fits(_: &mut Build) {}

/// 12 speeds and eleven sprockets.
pub fn does_not_fit(build: &mut Build) {
    build.parts.cassette.make("").sprockets =
        Some(Given { value: vec![11, 12, 13, 14, 15, 17, 19, 21, 24, 27, 30], typed: String::new(), origin: None });
}

/// The sprockets are not listed.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.cassette.make("").sprockets = None);
