//! The valve goes through its hole and does not rattle in it.
//!
//! - Looks at: the kind of each valve and the diameter of its hole in the rim.
//! - Why: a wide valve does not go through a narrow hole; a narrow one in a wide hole tilts, tears at its foot and
//!   rattles.
//! - Source: common practice, no source: holes of 6.2 to 7 mm for the narrow valve, 8.2 to 9 for the wide one
//! - Fits: narrow valves in holes of 6.6 mm.
//! - Does not fit: a wide valve.
//! - Not known: nobody measured the rear valve hole.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::{Severity, mm};
use crate::model::Missing;
use crate::part::ValveKind;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: holes of 6.2 to 7 mm for the narrow valve, 8.2 to 9 for the wide one";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["tube", "wheel"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        if end.tube.part.is_none() {
            continue;
        }
        let facts = all((fact!(end.tube, valve), fact!(end.wheel, valve_hole_mm)));
        let Some((valve, hole_mm)) = take(facts, &mut lacking) else { continue };
        let (least_mm, most_mm) = match valve {
            ValveKind::Narrow => (6.2, 7.0),
            ValveKind::Wide => (8.2, 9.0),
        };
        let tight = compare::falls_short(hole_mm, least_mm);
        if tight || compare::exceeds(hole_mm, most_mm) {
            let (what, action) = if tight {
                (
                    "does not go through its hole",
                    "Fit a tube or valve of the other kind; a carbon rim is never drilled.",
                )
            } else {
                ("is loose in its hole", "Put a sleeve for the narrow valve into the hole.")
            };
            out.say_as(
                if tight { Severity::Stop } else { Severity::Caution },
                vec![end.tube.at("valve"), end.wheel.at("valve_hole")],
                format!("The {} valve {what}.", end.side.word()),
                format!("The valve is «{}» and the hole measures {}.", valve.name(), mm(hole_mm)),
                action.into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the valves go through their holes");
}

/// Narrow valves in holes of 6.6 mm.
pub fn fits(_: &mut Build) {}

/// A wide valve.
pub fn does_not_fit(build: &mut Build) {
    build.parts.tube.make("front").valve = Some(ValveKind::Wide.into());
}

/// Nobody measured the rear valve hole.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("rear").valve_hole_mm = None);
