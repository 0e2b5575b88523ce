//! Lever, hose and caliper hold the same fluid.
//!
//! - Looks at: what moves the brake at each lever, in each hose and at each caliper that it works.
//! - Why: mineral oil and glycol fluid swell each other's seals: the brake feels right on the stand and fails on a
//!   descent.
//! - Source: the brake makers' word: mineral oil and fluid to a DOT grade never meet; nothing but the maker's own
//!   fluid
//! - Fits: mineral oil throughout.
//! - Does not fit: a rear caliper for DOT fluid under a lever for mineral oil.
//! - Not known: nobody read what the front caliper holds.

use crate::build::Build;
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::About;
use crate::model::Missing;
use crate::number::Side;
use crate::part::{BrakeFluid, BrakedWheel};

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "the brake makers' word: mineral oil and fluid to a DOT grade never meet; nothing but the maker's own fluid";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["lever", "hose", "caliper"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let levers = [("left", &model.lever_left), ("right", &model.lever_right)];
    let works = levers.map(|(_, lever)| take(fact!(lever, works_brake), &mut lacking));
    for end in &model.ends {
        let own = if end.side == Side::Front { BrakedWheel::Front } else { BrakedWheel::Rear };
        let mut told = vec![("the caliper".to_owned(), end.caliper.at("brake"), fact!(end.caliper, brake))];
        if end.hose.part.is_some() {
            told.push(("the hose".to_owned(), end.hose.at("brake"), fact!(end.hose, brake)));
        }
        for ((side, lever), works) in levers.iter().zip(works) {
            if works == Some(own) {
                told.push((format!("the {side} lever"), lever.at("brake"), fact!(lever, brake)));
            }
        }
        let known: Vec<(String, About, BrakeFluid)> = told
            .into_iter()
            .filter_map(|(name, about, brake)| take(brake, &mut lacking).map(|brake| (name, about, brake)))
            .collect();
        if known.iter().any(|(.., brake)| *brake != known[0].2) {
            let each: Vec<String> = known.iter().map(|(name, _, brake)| format!("{name} «{}»", brake.name())).collect();
            out.say(
                known.iter().map(|(_, about, _)| about.clone()).collect(),
                format!("The {} brake would be filled with two fluids.", end.side.word()),
                format!("By their makers: {}.", and_list(&each)),
                "Do not connect them. Order the part that stands alone for the fluid of the others; what held the wrong fluid once is scrap.".into(),
            );
        }
    }
    out.not_known(&lacking, "whether lever, hose and caliper hold the same fluid");
}

/// Mineral oil throughout.
pub fn fits(_: &mut Build) {}

/// A rear caliper for DOT fluid under a lever for mineral oil.
pub fn does_not_fit(build: &mut Build) {
    build.parts.caliper.make("rear").brake = Some(BrakeFluid::Dot.into());
}

/// Nobody read what the front caliper holds.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.caliper.make("front").brake = None);
