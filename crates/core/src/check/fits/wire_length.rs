//! Every wire is long enough for its way, and not far too long.
//!
//! - Looks at: the way of each wire along the bike, with slack for steering, loops and plugs, and its length or the
//!   lengths that are made.
//! - Why: a wire that is too short is found when the head tube is closed; one that is far too long rattles.
//! - Source: route from the frame's own lengths; 100 mm more where the plug comes out of the frame and 50
//!   elsewhere: a page on measuring such wires; loops and steering common practice, no source
//! - Fits: a wire of 1000 mm for 891 and its slack.
//! - Does not fit: a main wire of 850 mm.
//! - Not known: nobody said where a junction sits.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::compute::{Way, WireRun};
use crate::finding::{About, Severity, mm};
use crate::model::Missing;

/// So much more than is needed rattles.
pub const FAR_TOO_LONG_MM: f64 = 200.0;
/// Where the limit or the custom comes from.
pub const SOURCE: &str = "route from the frame's own lengths; 100 mm more where the plug comes out of the frame and 50 elsewhere: a page on measuring such wires; loops and steering common practice, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let mut lacking = Missing::default();
    for wire in &case.worked.wiring.wires {
        match &wire.way {
            Ok(way) => judge(out, wire, way),
            Err(missing) => lacking = lacking.and(missing),
        }
    }
    out.not_known_as(Severity::Note, &lacking, "how long every wire must be");
}

fn judge(out: &mut Report, wire: &WireRun, way: &Way) {
    let about = vec![About::path(&format!("{}.length", wire.path))];
    let choice = wire.choice_mm.map_or_else(
        || "No single wire is made that long: put a junction on the way.".to_owned(),
        |choice_mm| format!("Take one of {}.", mm(choice_mm)),
    );
    let needed = format!(
        "Its way is {} ± {}, and {} with slack and plugs",
        mm(way.along_mm.round()),
        mm(way.plus_minus_mm.round()),
        mm(way.needed_mm.round())
    );
    match wire.length_mm {
        Some(length_mm) if length_mm < way.along_mm => {
            out.say(
                about,
                format!("The {} is too short.", wire.name),
                format!("{needed}; it has {}.", mm(length_mm)),
                choice,
            );
        }
        Some(length_mm) if length_mm + way.plus_minus_mm < way.needed_mm => out.say_as(
            Severity::Caution,
            about,
            format!("The {} leaves little slack.", wire.name),
            format!("{needed}; it has {}.", mm(length_mm)),
            format!("Lay a string along its way before the frame is closed. {choice}"),
        ),
        Some(length_mm) if length_mm > way.needed_mm + FAR_TOO_LONG_MM => out.say_as(
            Severity::Note,
            about,
            format!("The {} is far too long.", wire.name),
            format!("{needed}; it has {}.", mm(length_mm)),
            format!("{choice} Otherwise lay the rest in foam where it cannot rattle."),
        ),
        Some(_) => {}
        None => out.say_as(
            Severity::Note,
            about,
            format!("The {} has no length yet.", wire.name),
            format!("{needed}."),
            if wire.lengths_known { choice } else { format!("{choice} Ask which lengths are made.") },
        ),
    }
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// Too short for the way down.
pub fn does_not_fit(build: &mut Build) {
    build.parts.wire.make("main").length_mm = Some(850.0.into());
}

/// Nobody said where it sits.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.junction.make("shell").stands = None);
