//! The lockrings are those of the hubs.
//!
//! - Looks at: the kind of lockring of each splined rotor, and the kind that its hub takes.
//! - Why: some hubs have no room for a lockring with inner teeth round their axle; one with outer teeth may foul the
//!   fork.
//! - Source: common practice, no source: the lockring that the hub's maker names
//! - Fits: inner teeth on both.
//! - Does not fit: a lockring with outer teeth on a hub for inner.
//! - Not known: nobody said which lockring the hub takes.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;
use crate::part::RotorMount;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: the lockring that the hub's maker names";
/// How much it weighs.
pub const WEIGHT: Weight =
    Weight::Other(Severity::Caution, "a lockring costs little; it is the hour at the stand that is lost");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["rotor", "wheel"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        // Six bolts need no lockring.
        if fact!(end.wheel, rotor_mount).is_ok_and(|mount| mount == RotorMount::SixBolt) {
            continue;
        }
        let facts = all((fact!(end.rotor, lockring), fact!(end.wheel, lockring)));
        let Some((own, hub)) = take(facts, &mut lacking) else { continue };
        if !compare::same_name(&own, &hub) {
            out.say(
                vec![end.rotor.at("lockring"), end.wheel.at("lockring")],
                format!("The {} rotor's lockring is not that of the hub.", end.side.word()),
                format!("The rotor comes with «{own}» and the hub takes «{hub}»."),
                format!("Order a lockring with {hub}, and turn the wheel in the fork before it is tightened."),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the lockrings are those of the hubs");
}

/// Inner teeth on both.
pub fn fits(_: &mut Build) {}

/// A lockring with outer teeth on a hub for inner.
pub fn does_not_fit(build: &mut Build) {
    build.parts.rotor.make("front").lockring = Some("outer teeth".into());
}

/// Nobody said which lockring the hub takes.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.wheel.make("front").lockring = None);
