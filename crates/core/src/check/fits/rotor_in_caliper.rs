//! Caliper, adapter and rotor are of one size.
//!
//! - Looks at: diameter of each rotor, and the rotor that its caliper suits with or without its adapter.
//! - Why: 10 mm off, and the pads overhang the rotor or bite on its arms.
//! - Source: common practice, no source: the rotor for which the caliper maker names the adapter
//! - Fits: 160 in front and 140 behind, without adapters.
//! - Does not fit: a front rotor of 140 under a caliper that suits 160.
//! - Not known: nobody said which rotor the caliper suits.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::mm;
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: the rotor for which the caliper maker names the adapter";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["caliper", "rotor"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    for end in &model.ends {
        let Some(adapter) = take(fact!(end.caliper, adapter), &mut lacking) else { continue };
        let plain = compare::same_name(&adapter, "none");
        let (fact, suits) = if plain {
            ("rotor_direct", fact!(end.caliper, rotor_direct_mm))
        } else {
            ("adapter_rotor", fact!(end.caliper, adapter_rotor_mm))
        };
        let Some((rotor_mm, suits_mm)) = take(all((fact!(end.rotor, diameter_mm), suits)), &mut lacking) else {
            continue;
        };
        if !compare::same_within(rotor_mm, suits_mm, 1.0) {
            let with = if plain { "without an adapter".to_owned() } else { format!("with «{adapter}»") };
            out.say(
                vec![end.rotor.at("diameter"), end.caliper.at(fact)],
                format!("The {} caliper stands at another size than its rotor.", end.side.word()),
                format!("The rotor measures {} and the caliper suits {} {with}.", mm(rotor_mm), mm(suits_mm)),
                format!("Fit a rotor of {}, or the adapter for {}.", mm(suits_mm), mm(rotor_mm)),
            );
        }
    }
    out.not_known(&lacking, "whether calipers, adapters and rotors are of one size");
}

/// 160 in front and 140 behind, without adapters.
pub fn fits(_: &mut Build) {}

/// A front rotor of 140 under a caliper that suits 160.
pub fn does_not_fit(build: &mut Build) {
    build.parts.rotor.make("front").diameter_mm = Some(140.0.into());
}

/// Nobody said which rotor the caliper suits.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.caliper.make("front").rotor_direct_mm = None);
