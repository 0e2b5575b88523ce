//! The front brake is at the hand that the law prescribes, or the rider signed for the other.
//!
//! - Looks at: the hand agreed with the rider, and the hand that law prescribes where the bike is supplied.
//! - Why: some countries prescribe a side for new bikes and exempt bespoke race bikes; whoever lends or sells it must
//!   know.
//! - Source: the law of the country where it is supplied, as the workshop noted it; some exempt bespoke competition
//!   bikes
//! - Fits: right is agreed and right is prescribed.
//! - Does not fit: left is prescribed.
//! - Not known: nobody asked whether the law prescribes a side.

use crate::build::{Build, Hand};
use crate::check::{Case, Report, Weight, take};
use crate::fact;
use crate::field::Choice;
use crate::finding::{About, Severity};
use crate::model::{Missing, Place};

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "the law of the country where it is supplied, as the workshop noted it; some exempt bespoke competition bikes";
/// How much it weighs.
pub const WEIGHT: Weight =
    Weight::Other(Severity::Caution, "an exemption may hold, and that is for the workshop to say");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let rider = Place { path: "rider", part: Some(&model.build.rider) };
    let job = Place { path: "job", part: Some(&model.build.job) };
    let mut lacking = Missing::default();
    // Whom nobody has asked yet, the check of brake hands asks first.
    let Ok(agreed) = fact!(rider, front_brake) else { return };
    if let Some(law) = take(fact!(job, front_brake_by_law), &mut lacking)
        && agreed != law
    {
        out.say(
            vec![About::path("rider.front_brake"), About::path("job.front_brake_by_law")],
            "The rider wants the front brake at the other hand than the law prescribes.".into(),
            format!("The rider agreed to {} and {} is prescribed for bikes supplied here.", agreed.name(), law.name()),
            "Make sure that an exemption holds, let the rider sign for it, and label bike and bar.".into(),
        );
    }
    out.not_known_as(Severity::Note, &lacking, "whether the law prescribes a hand for the front brake");
}

/// Right is agreed and right is prescribed.
pub fn fits(_: &mut Build) {}

/// Left is prescribed.
pub fn does_not_fit(build: &mut Build) {
    build.job.front_brake_by_law = Some(Hand::Left.into());
}

/// Nobody asked whether the law prescribes a side.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.job.front_brake_by_law = None);
