//! Every end of every wire leads to a unit.
//!
//! - Looks at: the names of the units at both ends of each wire, and the units that the document lists.
//! - Why: a wire that leads nowhere is one too many or one in the wrong place, and the tree cannot be judged.
//! - Source: the document's own names; common practice, no source
//! - Fits: six wires between seven units.
//! - Does not fit: a wire to a junction that is not listed, and one with both ends in one lever.
//! - Not known: nobody said where a wire goes.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::finding::About;
use witnessmark_mechanics::wiring::Role;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the document's own names; common practice, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let wiring = &case.worked.wiring;
    if wiring.absent() {
        return;
    }
    if wiring.net.is_err() {
        out.say(
            vec![About::path("parts.wire")],
            "There are too many wires or units for one bike.".into(),
            format!("{} wires and {} units are listed.", wiring.wires.len(), wiring.units.len()),
            "Take away what is not on this bike.".into(),
        );
        return;
    }
    let units: Vec<&str> = wiring.units.iter().map(|unit| unit.name.as_str()).collect();
    for wire in &wiring.wires {
        for end in &wire.ends {
            if let (Some(said), None) = (&end.said, end.unit) {
                out.say(
                    vec![About::path(&end.path)],
                    format!("The {} leads to a unit that is not there.", wire.name),
                    format!("One end says «{said}»; the bike has: {}.", units.join(", ")),
                    "Correct the name, or list the unit with its ports.".into(),
                );
            }
        }
        if wire.role == Some(Role::UponItself) {
            let unit = wire.ends[0].unit.map_or("", |at| units[at]);
            out.say(
                wire.ends.iter().map(|end| About::path(&end.path)).collect(),
                format!("Both ends of the {} are in the {unit}.", wire.name),
                "A wire joins two units; plugged into one it does nothing and takes two ports.".into(),
                "Say where its other end goes.".into(),
            );
        }
    }
    out.not_known(&wiring.unsaid(), "where every wire goes");
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// One end nowhere, one wire upon itself.
pub fn does_not_fit(build: &mut Build) {
    build.parts.wire.make("front").other_end = Some("junction seat".into());
    build.parts.wire.make("lever-left").other_end = Some("left lever".into());
}

/// Nobody said where it goes.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wire.make("rear").other_end = None);
