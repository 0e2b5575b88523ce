//! The levers speak to the derailleurs.
//!
//! - Looks at: what moves the shifting of lever, rear and front derailleur: wires, radio or cables.
//! - Why: a cable pulls nothing on a motor; a wired lever says nothing to a derailleur that listens by radio.
//! - Source: common practice, no source: radio levers may speak to wired derailleurs through their unit; nothing else
//!   mixes
//! - Fits: everything is wired.
//! - Does not fit: a rear derailleur that is pulled by a cable.
//! - Not known: nobody said what moves the rear derailleur.

use crate::build::Build;
use crate::check::{Case, Report, Weight, sentence, take};
use crate::fact;
use crate::field::Choice;
use crate::model::Missing;
use crate::part::Shifting;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "common practice, no source: radio levers may speak to wired derailleurs through their unit; nothing else mixes";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["lever", "rear_derailleur", "front_derailleur"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let levers = [("left", &model.lever_left), ("right", &model.lever_right)];
    let mut derailleurs = vec![("rear", model.rear_derailleur.at("shifting"), fact!(model.rear_derailleur, shifting))];
    if model.front_derailleur.part.is_some() {
        derailleurs.push(("front", model.front_derailleur.at("shifting"), fact!(model.front_derailleur, shifting)));
    }
    let levers = levers.map(|(side, lever)| (side, lever.at("shifting"), take(fact!(lever, shifting), &mut lacking)));
    let mut about = Vec::new();
    let mut each = Vec::new();
    for (which, at, moved_by) in derailleurs {
        let Some(moved_by) = take(moved_by, &mut lacking) else { continue };
        for (side, lever_at, shifting) in &levers {
            let Some(shifting) = *shifting else { continue };
            let works = shifting == moved_by
                || shifting == Shifting::None
                || (shifting == Shifting::Wireless && moved_by == Shifting::Wired);
            if !works {
                about.extend([at.clone(), lever_at.clone()]);
                each.push(format!(
                    "the {which} derailleur is moved by «{}» and the {side} lever gives «{}»",
                    moved_by.name(),
                    shifting.name()
                ));
            }
        }
    }
    if !each.is_empty() {
        out.say(
            about,
            "The levers do not move the derailleurs.".into(),
            format!("{}.", sentence(&each.join("; "))),
            "Choose levers and derailleurs that their maker lists together.".into(),
        );
    }
    out.not_known(&lacking, "whether the levers move the derailleurs");
}

/// Everything is wired.
pub fn fits(_: &mut Build) {}

/// A rear derailleur that is pulled by a cable.
pub fn does_not_fit(build: &mut Build) {
    build.parts.rear_derailleur.make("").shifting = Some(Shifting::Cable.into());
}

/// Nobody said what moves the rear derailleur.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.rear_derailleur.make("").shifting = None);
