//! Every port that stays free gets a blank plug.
//!
//! - Looks at: ports that no wire takes.
//! - Why: water in an open port eats its contacts and drains the battery.
//! - Source: common practice, no source
//! - Fits: no port stays free.
//! - Does not fit: a junction of five ports for four wires.
//! - Not known: nobody counted a junction's ports.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight};
use crate::finding::{About, Severity};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Note, "a plug is on the list of small parts, or should be");
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let wiring = &case.worked.wiring;
    if wiring.wires.is_empty() {
        return;
    }
    let free: Vec<(usize, i64)> = (0..wiring.units.len())
        .filter_map(|unit| wiring.spare_ports(unit).filter(|spare| *spare > 0).map(|spare| (unit, spare)))
        .collect();
    let uncounted = wiring.units.iter().filter(|unit| unit.ports.is_none());
    let lacking =
        uncounted.fold(Missing::default(), |missing, unit| missing.and(&Missing::fact(format!("{}.ports", unit.path))));
    out.not_known_as(Severity::Note, &lacking, "which ports stay free");
    if free.is_empty() {
        return;
    }
    let each: Vec<String> = free
        .iter()
        .map(|(unit, spare)| {
            format!("the {} has {spare} free port{}", wiring.units[*unit].name, if *spare == 1 { "" } else { "s" })
        })
        .collect();
    let sum: i64 = free.iter().map(|(_, spare)| spare).sum();
    out.say(
        free.iter().map(|(unit, _)| About::path(&wiring.units[*unit].path)).collect(),
        format!("{sum} port{} free.", if sum == 1 { " stays" } else { "s stay" }),
        format!("{}.", crate::check::sentence(&and_list(&each))),
        "Close each with a blank plug, and write down where it is.".into(),
    );
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// A port too many.
pub fn does_not_fit(build: &mut Build) {
    build.parts.junction.make("shell").ports = Some(5.into());
}

/// Nobody counted them.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.junction.make("shell").ports = None);
