//! Every plug fits the port it goes into.
//!
//! - Looks at: the kind of each wire's ends and of the ports of the units they go to.
//! - Why: thick plugs of one generation do not go into thin ports of another, and an adapter is a wire of its own.
//! - Source: the kinds that the makers of wire and unit name
//! - Fits: small plugs in small ports.
//! - Does not fit: a battery of an older generation.
//! - Not known: nobody said which plug a lever takes.

use crate::build::Build;
use crate::check::{Case, Report, Weight, compare};
use crate::finding::{About, Severity};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the kinds that the makers of wire and unit name";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let wiring = &case.worked.wiring;
    let mut lacking = wiring.unsaid();
    for wire in &wiring.wires {
        for end in &wire.ends {
            let Some(unit) = end.unit.map(|at| &wiring.units[at]) else { continue };
            match (&end.kind, &unit.end_kind) {
                (Some(plug), Some(port)) if !compare::same_name(plug, port) => out.say(
                    vec![About::path(&end.path), About::path(&format!("{}.end_kind", unit.path))],
                    format!("The {} does not go into the {}.", wire.name, unit.name),
                    format!("Its end is a «{plug}», the port takes a «{port}»."),
                    "Take a wire with that end, or an adapter wire, listed as a wire of its own.".into(),
                ),
                (None, _) => lacking = lacking.and(&Missing::fact(format!("{}.end_kind", wire.path))),
                (_, None) => lacking = lacking.and(&Missing::fact(format!("{}.end_kind", unit.path))),
                _ => {}
            }
        }
    }
    out.not_known_as(Severity::Caution, &lacking, "whether every plug fits its port");
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// An older generation.
pub fn does_not_fit(build: &mut Build) {
    build.parts.battery.make("").end_kind = Some("large plug".into());
}

/// Nobody said.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.lever.make("left").end_kind = None);
