//! The front brake is at the hand that the rider expects.
//!
//! - Looks at: the hand agreed with the rider, and the lever that works the front brake.
//! - Why: a rider who grabs the wrong lever in a bunch goes over the bar; custom and law differ by country, and racers differ
//!   from both.
//! - Source: common practice, no source: agreed in writing with the rider; several countries prescribe a side for new bikes.
//! - Fits: right is agreed and the right lever works the front brake.
//! - Does not fit: left is agreed and the right lever works it.
//! - Not known: nobody asked the rider.

use crate::build::{Build, Hand};
use crate::check::{Case, Report, Weight, all};
use crate::fact;
use crate::field::Choice;
use crate::finding::About;
use crate::model::Place;
use crate::part::BrakedWheel;

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: agreed in writing with the rider";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let rider = Place { path: "rider", part: Some(&model.build.rider) };
    let facts =
        all((fact!(rider, front_brake), fact!(model.lever_left, works_brake), fact!(model.lever_right, works_brake)));
    let question = "whether the front brake is at the hand that the rider expects";
    let Some((agreed, left, right)) = out.need(facts, question) else { return };
    let fitted = match (left, right) {
        (BrakedWheel::Front, BrakedWheel::Rear) => Hand::Left,
        (BrakedWheel::Rear, BrakedWheel::Front) => Hand::Right,
        // Two levers for one wheel are not a pair, and that check says so.
        _ => return,
    };
    if fitted != agreed {
        out.say(
            vec![
                About::path("rider.front_brake"),
                About::path("parts.lever.left.works_brake"),
                About::path("parts.lever.right.works_brake"),
            ],
            "The front brake is at the wrong hand.".into(),
            format!("The rider agreed to {} and the {} lever works it.", agreed.name(), fitted.name()),
            "Change the hoses over before they are cut, and label the bike until the rider has signed.".into(),
        );
    }
}

/// The sample's rider brakes with the right hand.
pub fn fits(_: &mut Build) {}

/// The rider expects it at the left.
pub fn does_not_fit(build: &mut Build) {
    build.rider.front_brake = Some(Hand::Left.into());
}

/// Nobody asked.
pub const NOT_KNOWN: Option<fn(&mut Build)> = Some(|build| build.rider.front_brake = None);
