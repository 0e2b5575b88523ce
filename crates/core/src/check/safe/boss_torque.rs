//! The bottle bosses bear what their screws are tightened to.
//!
//! - Looks at: what the maker of each bottle cage states for its screws, and what the frame allows at the bosses.
//! - Why: a boss that spins in a carbon tube costs a frame repair, for a part of a few grams.
//! - Source: common practice, no source: where two parts are joined, the lower of their limits counts
//! - Fits: 2 N·m stated, 2.5 allowed.
//! - Does not fit: a cage with 4 N·m.
//! - Not known: the frame's limit is not told.

use crate::build::Build;
use crate::check::words::nm;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::finding::{About, Severity};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: where two parts are joined, the lower of their limits counts";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "no part is wrong; the wrench is to be set lower");
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["bottle_cage", "frame"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let allowed = fact!(model.frame, bottle_bolt_torque_nm);
    for (name, cage) in &model.build.parts.bottle_cage.0 {
        let path = format!("parts.bottle_cage.{name}.torque");
        let stated = cage.torque_nm.as_ref().map(|torque| torque.value).ok_or_else(|| Missing::fact(path.clone()));
        let Some((stated_nm, allowed_nm)) = take(all((stated, allowed.clone())), &mut lacking) else { continue };
        if compare::exceeds(stated_nm, allowed_nm) {
            out.say(
                vec![About::path(&path), model.frame.at("bottle_bolt_torque")],
                format!("The bosses allow less torque than the cage “{name}” asks for."),
                format!("{} are stated and the frame allows {}.", nm(stated_nm), nm(allowed_nm)),
                format!("Tighten its screws to {} at most.", nm(allowed_nm)),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "how far the bottle screws may be tightened");
}

/// 2 N·m stated, 2.5 allowed.
pub fn fits(_: &mut Build) {}

/// A cage with 4 N·m.
pub fn does_not_fit(build: &mut Build) {
    build.parts.bottle_cage.make("seat-tube").torque_nm = Some(4.0.into());
}

/// The frame's limit is not told.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.frame.make("").bottle_bolt_torque_nm = None);
