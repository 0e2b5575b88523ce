//! The rotors sit on these hubs.
//!
//! - Looks at: how each rotor is fixed, how its hub carries one, and the adapter between them.
//! - Why: a rotor for splines has no holes for six bolts; only the other way round is there an adapter.
//! - Source: common practice, no source: six-bolt rotors go onto splines with an adapter, splined rotors onto six
//!   bolts never
//! - Fits: splined rotors on splined hubs.
//! - Does not fit: a splined rotor for a hub with six bolts.
//! - Not known: nobody looked at the rear hub.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::field::Choice;
use crate::model::Missing;
use crate::part::RotorMount;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: six-bolt rotors go onto splines with an adapter, splined rotors onto six bolts never";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["rotor", "wheel"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        let facts = all((fact!(end.rotor, mount), fact!(end.wheel, rotor_mount)));
        let Some((rotor, hub)) = take(facts, &mut lacking) else { continue };
        if rotor == hub {
            continue;
        }
        let can_be_adapted = rotor == RotorMount::SixBolt;
        if can_be_adapted {
            match take(fact!(end.rotor, adapter), &mut lacking) {
                Some(adapter) if !compare::same_name(&adapter, "none") => continue,
                Some(_) => {}
                None => continue,
            }
        }
        let action = if can_be_adapted {
            "Order the adapter and note it, or a rotor for the hub."
        } else {
            "Order a rotor for the hub; there is no adapter this way round."
        };
        out.say(
            vec![end.rotor.at("mount"), end.wheel.at("rotor_mount")],
            format!("The {} rotor does not sit on its hub.", end.side.word()),
            format!("The rotor's mount is «{}» and the hub's «{}».", rotor.name(), hub.name()),
            action.into(),
        );
    }
    out.not_known(&lacking, "whether the rotors sit on their hubs");
}

/// Splined rotors on splined hubs.
pub fn fits(_: &mut Build) {}

/// A splined rotor for a hub with six bolts.
pub fn does_not_fit(build: &mut Build) {
    build.parts.wheel.make("rear").rotor_mount = Some(RotorMount::SixBolt.into());
}

/// Nobody looked at the rear hub.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("rear").rotor_mount = None);
