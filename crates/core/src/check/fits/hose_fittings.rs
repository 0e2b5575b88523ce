//! The hoses end in what lever and caliper take.
//!
//! - Looks at: the kind of hose end at each lever and caliper, and at the ends of the hose between them.
//! - Why: a banjo does not go into a lever, and a plug-in end does not go where an olive is wanted; the brake waits a
//!   week for it.
//! - Source: the brake maker's word on hose ends
//! - Fits: olive and insert throughout.
//! - Does not fit: a rear caliper that takes a banjo, on a hose without one.
//! - Not known: nobody said what the front hose ends in.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, compare, take};
use crate::fact;
use crate::model::Missing;
use crate::number::Side;
use crate::part::BrakedWheel;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "the brake maker's word on hose ends";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it.
pub const BETWEEN: &[&str] = &["lever", "hose", "caliper"];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let mut lacking = Missing::default();
    let levers = [&model.lever_left, &model.lever_right];
    for end in &model.ends {
        // A hose that is not listed is cut and fitted to suit.
        if end.hose.part.is_none() {
            continue;
        }
        let own = if end.side == Side::Front { BrakedWheel::Front } else { BrakedWheel::Rear };
        let lever = levers.into_iter().find(|lever| fact!(lever, works_brake).is_ok_and(|wheel| wheel == own));
        let at_caliper =
            (fact!(end.hose, caliper_fitting), fact!(end.caliper, hose_fitting), end.caliper.at("hose_fitting"));
        let mut joints = vec![("caliper", "caliper_fitting", at_caliper)];
        if let Some(lever) = lever {
            joints.push((
                "lever",
                "lever_fitting",
                (fact!(end.hose, lever_fitting), fact!(lever, hose_fitting), lever.at("hose_fitting")),
            ));
        }
        for (name, fact, (hose, taken, at)) in joints {
            let Some((hose, taken)) = take(all((hose, taken)), &mut lacking) else { continue };
            if !compare::same_name(&hose, &taken) {
                out.say(
                    vec![end.hose.at(fact), at],
                    format!("The {} hose does not go into its {name}.", end.side.word()),
                    format!("The hose ends in «{hose}» and the {name} takes «{taken}»."),
                    "Order the hose, or the end for it, that the brake's maker lists for this pair.".into(),
                );
            }
        }
    }
    out.not_known(&lacking, "whether the hoses go into levers and calipers");
}

/// Olive and insert throughout.
pub fn fits(_: &mut Build) {}

/// A rear caliper that takes a banjo, on a hose without one.
pub fn does_not_fit(build: &mut Build) {
    build.parts.caliper.make("rear").hose_fitting = Some("banjo".into());
}

/// Nobody said what the front hose ends in.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.hose.make("front").caliper_fitting = None);
