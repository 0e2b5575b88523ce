//! The sealant is still wet on the day of the race.
//!
//! - Looks at: when sealant was last put in, after how many days it wants topping up, and the day the bike is built
//!   for.
//! - Why: dried sealant closes no hole, and nobody sees it from outside.
//! - Source: common practice, no source: every two to four months, six weeks when hot and dry
//! - Fits: filled on 1 March, good for 75 days, ridden on 14 March.
//! - Does not fit: filled in November.
//! - Not known: nobody noted when it was filled.

use crate::build::Build;
use crate::check::{Case, Report, Weight, all, take};
use crate::fact;
use crate::finding::Severity;
use crate::model::Missing;
use crate::part::AirSeal;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: every two to four months, six weeks when hot and dry";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "it is topped up in minutes");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let Some(day) = model.build.job.day.as_ref().map(|day| day.value) else { return };
    let mut lacking = Missing::default();
    for end in &model.ends {
        if end.tube.part.is_none() || take(fact!(end.tube, kind), &mut lacking) != Some(AirSeal::Sealant) {
            continue;
        }
        let facts = all((fact!(end.tube, filled_on), fact!(end.tube, refill_days)));
        let Some((filled, days)) = take(facts, &mut lacking) else { continue };
        let age = (day - filled).get_days();
        if i64::from(age) > i64::from(days) {
            out.say(
                vec![end.tube.at("filled_on"), end.tube.at("refill_days")],
                format!("The sealant in the {} tyre will have dried.", end.side.word()),
                format!("On {day} it will be {age} days old and is good for {days}."),
                "Top it up, and note the day.".into(),
            );
        }
    }
    out.not_known_as(Severity::Note, &lacking, "whether the sealant is still wet on the day");
}

/// Filled on 1 March, good for 75 days, ridden on 14 March.
pub fn fits(_: &mut Build) {}

/// Filled in November.
pub fn does_not_fit(build: &mut Build) {
    build.parts.tube.make("rear").filled_on = Some(jiff::civil::date(2026, 11, 2).into());
}

/// Nobody noted when it was filled.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.parts.tube.make("rear").filled_on = None);
