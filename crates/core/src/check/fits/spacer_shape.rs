//! The spacers sit flush under the stem.
//!
//! - Looks at: the shape that stem or one-piece cockpit asks for, and the shape of each listed spacer.
//! - Why: a round spacer under a shaped stem bears on an edge: it creaks, it marks the steerer, and the cap never sits.
//! - Source: common practice, no source: spacers of the family that the stem's maker names.
//! - Fits: round spacers under a stem for round ones.
//! - Does not fit: round spacers under a cockpit for its maker's own shape.
//! - Not known: nobody knows what shape the stem asks for.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, compare, take};
use crate::fact;
use crate::finding::About;
use crate::model::Missing;

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: spacers of the shape that the stem's maker names";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["spacer", "stem", "cockpit"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let spacers = &model.build.parts.spacer.0;
    if spacers.is_empty() {
        return;
    }
    let (name, path, wanted) = if model.one_piece() {
        ("cockpit", "parts.cockpit.spacer_shape", fact!(model.cockpit, spacer_shape))
    } else {
        ("stem", "parts.stem.spacer_shape", fact!(model.stem, spacer_shape))
    };
    let mut lacking = Missing::default();
    let wanted = take(wanted, &mut lacking);
    let mut about = vec![About::path(path)];
    let mut others = Vec::new();
    for (place, spacer) in spacers {
        let own = format!("parts.spacer.{place}.shape");
        match (&spacer.shape, &wanted) {
            (None, _) => lacking = lacking.and(&Missing::fact(own)),
            (Some(shape), Some(wanted)) if !compare::same_name(&shape.value, wanted) => {
                others.push(format!("{place} ({})", shape.value));
                about.push(About::path(&own));
            }
            _ => {}
        }
    }
    if let (Some(wanted), false) = (&wanted, others.is_empty()) {
        out.say(
            about,
            format!("The spacers do not sit flush with the {name}."),
            format!("The {name} asks for {wanted} and there are: {}.", and_list(&others)),
            format!("Order spacers of the shape {wanted}."),
        );
    }
    out.not_known(&lacking, "whether the spacers sit flush with the stem");
}

/// The sample's spacers are round, as the stem wants them.
pub fn fits(_: &mut Build) {}

/// A stem for shaped spacers.
pub fn does_not_fit(build: &mut Build) {
    build.parts.stem.make("").spacer_shape = Some("oval, the maker's own".into());
}

/// Nobody knows what the stem wants.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.stem.make("").spacer_shape = None);
