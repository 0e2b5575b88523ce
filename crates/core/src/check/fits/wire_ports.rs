//! Every unit has a port for every wire.
//!
//! - Looks at: the ports of each unit, the wire ends in it, and the ports that are named.
//! - Why: a wire without a port hangs in the bar until the bike is opened again.
//! - Source: the ports that the unit's maker states
//! - Fits: four wires in the shell's junction of four ports.
//! - Does not fit: a junction of three ports for four wires.
//! - Not known: nobody counted the ports of a junction.

use crate::build::Build;
use crate::check::{Case, Report, Weight};
use crate::finding::About;
use crate::model::Missing;
use std::collections::BTreeMap;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the ports that the unit's maker states";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let wiring = &case.worked.wiring;
    let mut lacking = wiring.unsaid();
    for (at, unit) in wiring.units.iter().enumerate() {
        let ends = wiring.ends_in(at);
        let Some(ports) = unit.ports else {
            if ends > 0 {
                lacking = lacking.and(&Missing::fact(format!("{}.ports", unit.path)));
            }
            continue;
        };
        if wiring.spare_ports(at).is_some_and(|spare| spare < 0) {
            out.say(
                vec![About::path(&unit.path), About::path(&format!("{}.ports", unit.path))],
                format!("The {} has too few ports.", unit.name),
                format!("{ends} wires end in it and it has {ports}."),
                "Fit a junction with more ports, or lead a wire from another unit.".into(),
            );
        }
        let mut taken: BTreeMap<u32, &str> = BTreeMap::new();
        for wire in &wiring.wires {
            for end in wire.ends.iter().filter(|end| end.unit == Some(at)) {
                let Some(port) = end.port else { continue };
                if port > ports {
                    out.say(
                        vec![About::path(&end.path)],
                        format!("The {} has no port {port}.", unit.name),
                        format!("The {} is to go there, and the unit has {ports}.", wire.name),
                        "Name a port that it has.".into(),
                    );
                }
                if let Some(first) = taken.insert(port, &wire.name) {
                    out.say(
                        vec![About::path(&end.path)],
                        format!("Port {port} of the {} is taken twice.", unit.name),
                        format!("The {first} and the {} are both to go there.", wire.name),
                        "Give one of them another port.".into(),
                    );
                }
            }
        }
    }
    out.not_known(&lacking, "whether every wire finds a port");
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// A port too few.
pub fn does_not_fit(build: &mut Build) {
    build.parts.junction.make("shell").ports = Some(3.into());
}

/// Nobody counted them.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.junction.make("shell").ports = None);
