//! The two levers are a pair.
//!
//! - Looks at: brake fluid, shifting and speeds of both levers, and which wheel's brake each works.
//! - Why: mineral oil and glycol fluid swell each other's seals; two levers for one wheel leave the other without a brake.
//! - Source: common practice, no source; that the fluids are never mixed is every maker's word.
//! - Fits: both move mineral oil and wires, one works the front brake and the other the rear.
//! - Does not fit: the right lever moves glycol fluid.
//! - Not known: nobody said which brake the left lever works.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, all, sentence, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::About;
use crate::model::Missing;
use crate::part::{BrakeFluid, Shifting};

/// Where the custom comes from.
pub const SOURCE: &str = "every brake maker's word on fluids; common practice, no source, for the rest";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["lever"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let (left, right) = (&case.model.lever_left, &case.model.lever_right);
    let mut lacking = Missing::default();
    let mut each = Vec::new();
    let mut facts: Vec<&str> = Vec::new();
    if let Some((a, b)) = take(all((fact!(left, brake), fact!(right, brake))), &mut lacking)
        && a != b
    {
        each.push(format!("the left one works with {} and the right one with {}", a.name(), b.name()));
        facts.push("brake");
    }
    if let Some((a, b)) = take(all((fact!(left, shifting), fact!(right, shifting))), &mut lacking) {
        // With a single ring the left lever shifts nothing.
        if a != b && a != Shifting::None && b != Shifting::None {
            each.push(format!("the left one shifts «{}» and the right one «{}»", a.name(), b.name()));
            facts.push("shifting");
        }
    }
    if let Some((a, b)) = take(all((fact!(left, works_brake), fact!(right, works_brake))), &mut lacking)
        && a == b
    {
        each.push(format!("both are set to work the {} brake", a.name()));
        facts.push("works_brake");
    }
    // Speeds are compared where both are told; a left lever often tells none.
    if let (Ok(a), Ok(b)) = (fact!(left, speeds), fact!(right, speeds))
        && a != b
    {
        each.push(format!("the left one is made for {a} speeds and the right one for {b}"));
        facts.push("speeds");
    }
    if !each.is_empty() {
        let about = facts
            .iter()
            .flat_map(|fact| [left.path, right.path].map(|path| About::path(&format!("{path}.{fact}"))))
            .collect();
        let action = if facts.contains(&"works_brake") && facts.len() == 1 {
            "Settle which lever works which brake, with the rider, before the hoses are cut."
        } else {
            "Fit a pair of levers, and calipers for the same fluid."
        };
        out.say(
            about,
            "The two levers are not a pair.".into(),
            format!("{}.", sentence(&and_list(&each))),
            action.into(),
        );
    }
    out.not_known(&lacking, "whether the two levers are a pair");
}

/// The sample's levers are a pair.
pub fn fits(_: &mut Build) {}

/// Glycol fluid on one side.
pub fn does_not_fit(build: &mut Build) {
    build.parts.lever.make("right").brake = Some(BrakeFluid::Dot.into());
}

/// Nobody said which brake the left lever works.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.lever.make("left").works_brake = None);
