//! A junction in the bar's end fits its bore.
//!
//! - Looks at: junctions that sit in an end of the bar, and the bore of that end.
//! - Why: one that is too thick does not go in; one that is loose is held by tape alone, comes out in a fall, and
//!   leaves the tube open.
//! - Source: common practice, no source: 0 to 2 mm thinner than the bore
//! - Fits: No junction in the bar.
//! - Does not fit: A junction of 15 mm in a bore of 20.5.
//! - Not known: Nobody measured the junction.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{About, Severity, mm};
use crate::model::Missing;
use crate::part::Station;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: 0 to 2 mm thinner than the bore";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "a sleeve or another junction mends it");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let bore = || if model.one_piece() { fact!(model.cockpit, end_bore_mm) } else { fact!(model.bar, end_bore_mm) };
    let mut lacking = Missing::default();
    for (place, junction) in &model.build.parts.junction.0 {
        let at = |fact: &str| format!("parts.junction.{place}.{fact}");
        let stands = junction.stands.as_ref().map(|given| given.value);
        let words = junction.place.as_ref().map(|given| given.value.to_lowercase());
        let in_the_bar = match (stands, words) {
            (Some(station), _) => matches!(station, Station::BarEndLeft | Station::BarEndRight),
            (None, Some(words)) => words.contains("bar end"),
            (None, None) => {
                lacking = lacking.and(&Missing::fact(at("stands")));
                false
            }
        };
        if !in_the_bar {
            continue;
        }
        let thick = junction.diameter_mm.as_ref().map(|given| given.value).ok_or_else(|| Missing::fact(at("diameter")));
        let Some((thick_mm, bore_mm)) = take(all((thick, bore())), &mut lacking) else { continue };
        let thin = compare::falls_short(thick_mm, bore_mm - LOOSE_MM);
        if thin || compare::exceeds(thick_mm, bore_mm) {
            out.say(
                vec![About::path(&at("diameter"))],
                format!("The junction {} the bar's end.", if thin { "is loose in" } else { "does not go into" }),
                format!("It measures {} and the bore {}.", mm(thick_mm), mm(bore_mm)),
                "Order the sleeve that makes up the difference; tape alone does not close a bar.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether a junction fits the bar's end");
}

/// More room than this is not made up by tape.
const LOOSE_MM: f64 = 2.0;

/// No junction in the bar.
pub fn fits(_: &mut Build) {}

/// A junction of 15 mm in a bore of 20.5.
pub fn does_not_fit(build: &mut Build) {
    let junction = build.parts.junction.make("end");
    junction.stands = Some(Station::BarEndRight.into());
    junction.diameter_mm = Some(15.0.into());
}

/// Nobody measured the junction.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| {
    build.parts.junction.make("end").stands = Some(Station::BarEndRight.into());
});
