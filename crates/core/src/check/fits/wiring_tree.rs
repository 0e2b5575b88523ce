//! Every unit is joined to the battery by exactly one way.
//!
//! - Looks at: the net that the wires make: which units are joined, and which wire closes a ring.
//! - Why: a unit that is not joined is dead; a ring hides a broken wire and can confuse the units.
//! - Source: a net of n units has n − 1 wires and no ring: definition of a tree; common practice of such systems,
//!   no source
//! - Fits: seven units and six wires.
//! - Does not fit: a second wire from the stem's junction to the shell's, and no wire to the front derailleur.
//! - Not known: nobody said where a wire goes.

use crate::build::Build;
use crate::check::words::{and_list, is_or_are};
use crate::check::{Case, Report, Weight};
use crate::compute::{WireRun, Wiring};
use crate::finding::About;
use witnessmark_mechanics::wiring::{Net, Role};

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "a net of n units has n − 1 wires and no ring: definition of a tree; common practice of such systems, no source";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs what is worked out.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let wiring = &case.worked.wiring;
    let Ok(net) = &wiring.net else { return };
    if wiring.absent() {
        return;
    }
    for wire in wiring.wires.iter().filter(|wire| wire.role == Some(Role::ClosesRing)) {
        ring(out, wiring, net, wire);
    }
    out.not_known(&wiring.unsaid(), "whether every unit is joined to the battery");
    // An end that leads nowhere is another check's matter; until it is mended, nobody can say what is joined.
    if wiring.wires.iter().any(|wire| wire.role.is_none()) {
        return;
    }
    let waits = |unit: &usize| wiring.units[*unit].needs_wire;
    let Some(battery) = wiring.battery() else {
        if (0..wiring.units.len()).any(|unit| waits(&unit)) {
            out.say(
                vec![About::path("parts.battery")],
                "No battery is on the wires.".into(),
                "Wired units have no power of their own, and no battery with a port is listed.".into(),
                "List the battery with its ports, and the wire that joins it.".into(),
            );
        }
        return;
    };
    let cut_off: Vec<usize> =
        (0..wiring.units.len()).filter(waits).filter(|unit| !net.joined(*unit, battery)).collect();
    if cut_off.is_empty() {
        return;
    }
    let name = |unit: &usize| format!("the {}", wiring.units[*unit].name);
    let names: Vec<String> = cut_off.iter().map(name).collect();
    let bare: Vec<String> = cut_off.iter().filter(|unit| net.ends_in(**unit) == 0).map(name).collect();
    let why = if bare.len() == cut_off.len() {
        format!("No wire ends in {}.", and_list(&bare))
    } else {
        format!("{} wires make {} groups of units that nothing joins.", wiring.wires.len(), net.groups())
    };
    out.say(
        cut_off.iter().map(|unit| About::path(&wiring.units[*unit].path)).collect(),
        crate::check::sentence(&format!("{} {} not joined to the battery.", and_list(&names), is_or_are(names.len()))),
        why,
        "Add the wire that is missing, or correct the end that leads to another unit.".into(),
    );
}

/// A wire that closes a ring, with the other way round it.
fn ring(out: &mut Report, wiring: &Wiring, net: &Net, wire: &WireRun) {
    let Some((one, other)) = wire.ends[0].unit.zip(wire.ends[1].unit) else { return };
    // Steps are taken on the net, whose wires are those that lead somewhere, in their order.
    let on_net: Vec<&WireRun> = wiring.wires.iter().filter(|wire| wire.role.is_some()).collect();
    let mut way = Vec::new();
    let mut at = one;
    // A way on a tree passes each unit at most once.
    while let Some(step) = net.next_on_way(at, other).filter(|_| way.len() < wiring.units.len()) {
        way.push(on_net.get(step.wire).map_or_else(String::new, |wire| format!("the {}", wire.name)));
        at = step.unit;
    }
    out.say(
        vec![About::path(&wire.path)],
        format!("The {} closes a ring.", wire.name),
        format!(
            "The {} and the {} are joined already, by {}.",
            wiring.units[one].name,
            wiring.units[other].name,
            and_list(&way)
        ),
        "Take one wire of the ring away.".into(),
    );
}

/// The sample.
pub fn fits(_: &mut Build) {}

/// A ring, and a unit without a wire.
pub fn does_not_fit(build: &mut Build) {
    let mut second = build.parts.wire.make("main").clone();
    second.name = Some("a second way down".into());
    build.parts.wire.0.insert("second".into(), second);
    build.parts.wire.0.remove("front");
}

/// Nobody said where it goes.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wire.make("rear").other_end = None);
