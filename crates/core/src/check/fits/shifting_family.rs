//! All electronic parts are of one family.
//!
//! - Looks at: family and generation of levers, derailleurs and battery, where the shifting is electronic.
//! - Why: two generations of one maker may share a plug and no word; a mixed system stays dead, and the bench finds it
//!   out last.
//! - Source: common practice, no source: family and generation named alike
//! - Fits: all are «wired 12».
//! - Does not fit: a rear derailleur of the generation before.
//! - Not known: nobody noted the family of the rear derailleur.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, compare, sentence, take};
use crate::fact;
use crate::finding::{About, Severity};
use crate::model::Missing;
use crate::part::Shifting;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: family and generation named alike";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["lever", "rear_derailleur", "front_derailleur", "battery"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    // With cables there are no families.
    if matches!(fact!(model.rear_derailleur, shifting), Ok(Shifting::Cable | Shifting::None)) {
        return;
    }
    let mut lacking = Missing::default();
    let mut told = vec![
        ("left lever", model.lever_left.at("family"), fact!(model.lever_left, family)),
        ("right lever", model.lever_right.at("family"), fact!(model.lever_right, family)),
        ("rear derailleur", model.rear_derailleur.at("family"), fact!(model.rear_derailleur, family)),
    ];
    if model.front_derailleur.part.is_some() {
        told.push(("front derailleur", model.front_derailleur.at("family"), fact!(model.front_derailleur, family)));
    }
    if model.battery.part.is_some() {
        told.push(("battery", model.battery.at("family"), fact!(model.battery, family)));
    }
    let known: Vec<(&str, About, String)> = told
        .into_iter()
        .filter_map(|(name, about, family)| take(family, &mut lacking).map(|family| (name, about, family)))
        .collect();
    if known.iter().any(|(.., family)| !compare::same_name(family, &known[0].2)) {
        let each: Vec<String> = known.iter().map(|(name, _, family)| format!("{name} «{family}»")).collect();
        out.say(
            known.iter().map(|(_, about, _)| about.clone()).collect(),
            "The electronic parts are not of one family.".into(),
            format!("{}.", sentence(&and_list(&each))),
            "Look the pairing up in the maker's own table of what works together, firmware included, before anything is fitted.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the electronic parts are of one family");
}

/// All are «wired 12».
pub fn fits(_: &mut Build) {}

/// A rear derailleur of the generation before.
pub fn does_not_fit(build: &mut Build) {
    build.parts.rear_derailleur.make("").family = Some("wired 11".into());
}

/// Nobody noted the family of the rear derailleur.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.rear_derailleur.make("").family = None);
