//! Where carbon is clamped there is carbon paste and no grease.
//!
//! - Looks at: material of post, bar and frame, and what goes between post and frame and between bar and stem.
//! - Why: greased carbon slips, and whoever tightens it until it holds crushes it; with paste it holds at a lower
//!   torque.
//! - Source: common practice, no source: paste with grains wherever carbon is clamped; never grease there
//! - Fits: paste at post and bar.
//! - Does not fit: grease on a carbon post.
//! - Not known: nobody noted what goes onto the bar.

use crate::build::Build;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::Severity;
use crate::model::Missing;
use crate::part::{Compound, Material};

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: paste with grains wherever carbon is clamped; never grease there";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "cleaning puts it right");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let frame = fact!(model.frame, material);
    let mut joints = vec![(
        "post",
        model.post.at("compound"),
        fact!(model.post, material),
        fact!(model.post, compound),
        Some(frame),
    )];
    if !model.one_piece() {
        joints.push((
            "bar",
            model.bar.at("clamp_compound"),
            fact!(model.bar, material),
            fact!(model.bar, clamp_compound),
            None,
        ));
    }
    for (name, at, material, compound, holder) in joints {
        let material = take(material, &mut lacking);
        let holder = holder.and_then(|holder| take(holder, &mut lacking));
        if material != Some(Material::Carbon) && holder != Some(Material::Carbon) {
            continue;
        }
        let Some(compound) = take(compound, &mut lacking) else { continue };
        // A metal post in carbon wants a barrier against seizing.
        let right = compound == Compound::CarbonPaste
            || (material != Some(Material::Carbon) && compound == Compound::AntiSeize);
        if !right {
            out.say(
                vec![at],
                format!("The {name} is clamped on carbon without carbon paste."),
                format!("Between the {name} and its clamp goes «{}».", compound.name()),
                "Clean both faces with alcohol, and put on paste for carbon.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether there is paste where carbon is clamped");
}

/// Paste at post and bar.
pub fn fits(_: &mut Build) {}

/// Grease on a carbon post.
pub fn does_not_fit(build: &mut Build) {
    build.parts.post.make("").compound = Some(Compound::Grease.into());
}

/// Nobody noted what goes onto the bar.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.bar.make("").clamp_compound = None);
