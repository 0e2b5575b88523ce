//! The scale agrees with the list of parts.
//!
//! - Looks at: the mass as weighed, the masses of the parts that were on the bike, and how well each is known.
//! - Why: a difference is a part that is not the one on the list, one that is missing, or a scale that was not set to
//!   nothing; each is found in a minute now and never again.
//! - Source: common practice, no source: paste, grease, fluid and film make 40 to 150 g more than the list
//! - Fits: weighed 90 g above the list.
//! - Does not fit: weighed a kilogram below it.
//! - Not known: the saddle's mass is not on the list.

use crate::build::{Build, Reading};
use crate::check::words::{and_list, kg};
use crate::check::{Case, Report, Weight};
use crate::compute::Mass;
use crate::finding::{About, Severity, figure};
use crate::number::{MASS, Side};

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: paste, grease, fluid and film make 40 to 150 g more than the list";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "the bike may well be right and the list wrong");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// So many explanations are told.
const MOST_TOLD: usize = 3;

/// The check. A bike that was not weighed is not asked for it.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mass = &case.worked.mass;
    let Some(scale) = mass.scale.clone() else { return };
    let Some(scale) = out.need(scale, "whether the scale agrees with the list") else { return };
    if scale.agrees() {
        return;
    }
    let light = scale.difference_g < scale.agrees_from_g;
    let told: Vec<String> = scale.explanations.iter().take(MOST_TOLD).map(|one| names(mass, &one.items)).collect();
    let action = match (light, told.is_empty()) {
        (true, false) => format!("Look whether this is on the bike, and is the part on the list: {}.", told.join("; or ")),
        (false, false) => format!("Look whether this was on the bike although it is said not to be: {}.", told.join("; or ")),
        (_, true) => "No one, two or three parts of the list explain it: set the scale to nothing, weigh again, then weigh the parts with the widest doubt.".into(),
    };
    out.say(
        vec![About::number(&MASS, Side::None)],
        format!("The scale reads {} than the list.", if light { "less" } else { "more" }),
        format!(
            "It reads {}, {} g {} the parts that were on; from {} to {} g more would agree.",
            kg2(scale.read_g),
            figure(scale.difference_g.abs(), 0),
            if scale.difference_g < 0.0 { "less than" } else { "more than" },
            figure(scale.agrees_from_g, 0),
            figure(scale.agrees_to_g, 0)
        ),
        action,
    );
}

/// A mass to ten grams.
fn kg2(value_g: f64) -> String {
    if value_g < 1000.0 { kg(value_g) } else { format!("{} kg", figure(value_g / 1000.0, 2)) }
}

fn names(mass: &Mass, items: &[usize]) -> String {
    let names: Vec<String> = items.iter().map(|at| mass.items[*at].name.clone()).collect();
    and_list(&names)
}

fn weighed(build: &mut Build, read_g: f64) {
    build.measured.insert((MASS.id, Side::None), Reading { value: Some(read_g.into()), ..Reading::default() });
}

/// What the sample's list adds up to.
fn listed_g(build: &Build) -> f64 {
    build.parts.each().into_iter().filter_map(|(_, _, record)| record.number("mass_g")).sum()
}

/// Weighed 90 g above the list.
pub fn fits(build: &mut Build) {
    let read_g = listed_g(build) + 90.0;
    weighed(build, read_g);
}

/// Weighed a kilogram below it.
pub fn does_not_fit(build: &mut Build) {
    let read_g = listed_g(build) - 1000.0;
    weighed(build, read_g);
}

/// The saddle's mass is not on the list.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    weighed(build, 7300.0);
    build.parts.saddle.make("").mass_g = None;
});
