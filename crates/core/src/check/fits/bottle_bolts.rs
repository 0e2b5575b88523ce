//! The bottle screws end before what runs behind their bosses.
//!
//! - Looks at: length of each cage's screws and the longest that the frame's bosses take.
//! - Why: a screw that is 5 mm long pierces the battery's wire or a hose, inside the tube and out of sight.
//! - Source: the longest screw that the frame's maker names, or as felt with a rod
//! - Fits: 12 mm, where 15 are allowed.
//! - Does not fit: screws of 20 mm.
//! - Not known: nobody felt how deep the bosses are free.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the longest screw that the frame's maker names, or as felt with a rod";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["bottle_cage", "frame"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let longest = fact!(model.frame, bottle_bolt_longest_mm);
    for (name, cage) in &model.build.parts.bottle_cage.0 {
        let path = format!("parts.bottle_cage.{name}.bolt_length");
        let own = cage.bolt_length_mm.as_ref().map(|length| length.value).ok_or_else(|| Missing::fact(path.clone()));
        let Some((own_mm, most_mm)) = take(all((own, longest.clone())), &mut lacking) else { continue };
        if compare::exceeds(own_mm, most_mm) {
            out.say(
                vec![About::path(&path), model.frame.at("bottle_bolt_longest")],
                format!("The screws of the cage “{name}” are too long."),
                format!("They are {} long under the head and the bosses take {}.", mm(own_mm), mm(most_mm)),
                format!("Use screws of {} or shorter, or put washers under their heads.", mm(most_mm)),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the bottle screws end before what runs behind their bosses");
}

/// 12 mm, where 15 are allowed.
pub fn fits(_: &mut Build) {}

/// Screws of 20 mm.
pub fn does_not_fit(build: &mut Build) {
    build.parts.bottle_cage.make("down-tube").bolt_length_mm = Some(20.0.into());
}

/// Nobody felt how deep the bosses are free.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").bottle_bolt_longest_mm = None);
