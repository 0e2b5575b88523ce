//! Every bolt of a finished bike is written down: closed, with its torque, and with a line across it.
//!
//! - Looks at: the records of the bolts, and how far the build has come.
//! - Why: a bolt that is on no list was tightened by somebody who was called to the telephone; a painted line shows at a
//!   glance, months later, whether it has moved.
//! - Source: common practice, no source: one list in a fixed order, each bolt set, marked and ticked
//! - Fits: all are closed, with torque and line.
//! - Does not fit: nobody wrote down the front caliper.
//! - Not known: nobody said whether the line is painted across the rear caliper's bolts.

use crate::build::{Build, FastenerState, Stage};
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight};
use crate::finding::{About, Severity};
use crate::model::Missing;

/// Where the limit or the custom comes from.
pub const SOURCE: &str = "common practice, no source: one list in a fixed order, each bolt set, marked and ticked";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::Other(Severity::Caution, "the bolts may well be tight; nobody can show it");
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// So many are named; the others are counted.
const MOST_BY_NAME: usize = 6;

/// The check. A workshop that keeps no such list is told so once, in a note.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let all = &case.worked.fasteners;
    if !all.strangers.is_empty() {
        out.say_as(
            Severity::Note,
            all.strangers.iter().map(|id| About::path(&format!("fasteners.{id}"))).collect(),
            "A record belongs to no bolt of this bike.".into(),
            format!("No part that is fitted has a bolt called {}.", and_list(&all.strangers)),
            "Give it the id of the bolt that is meant, or take it away.".into(),
        );
    }
    let finished = case.model.build.job.stage.as_ref().is_some_and(|stage| stage.value == Stage::Finished);
    if !finished || all.list.is_empty() {
        return;
    }
    let unwritten: Vec<_> = all
        .list
        .iter()
        .filter(|bolt| {
            bolt.state().is_none() || (bolt.state() == Some(FastenerState::Closed) && bolt.applied_nm().is_none())
        })
        .collect();
    if unwritten.len() == all.list.len() {
        out.say_as(
            Severity::Note,
            Vec::new(),
            "No torque is written down.".into(),
            format!("The bike is finished and has {} places to tighten; none is recorded.", all.list.len()),
            "Go through the list once with the wrench, and write each torque down.".into(),
        );
        return;
    }
    if !unwritten.is_empty() {
        let mut names: Vec<String> = unwritten.iter().take(MOST_BY_NAME).map(|bolt| bolt.name.clone()).collect();
        if unwritten.len() > MOST_BY_NAME {
            names.push(format!("{} more", unwritten.len() - MOST_BY_NAME));
        }
        out.say(
            unwritten.iter().map(|bolt| About::path(&format!("{}.applied", bolt.path()))).collect(),
            "Not every bolt is written down.".into(),
            format!("Without a torque on record: {}.", and_list(&names)),
            "Put the wrench on each, paint the line, and write it down.".into(),
        );
    }
    let closed = || all.list.iter().filter(|bolt| bolt.state() == Some(FastenerState::Closed));
    let bare: Vec<String> =
        closed().filter(|bolt| bolt.witness() == Some(false)).map(|bolt| bolt.name.clone()).collect();
    if !bare.is_empty() {
        out.say_as(
            Severity::Note,
            closed()
                .filter(|bolt| bolt.witness() == Some(false))
                .map(|bolt| About::path(&format!("{}.witness", bolt.path())))
                .collect(),
            "Bolts have no line across them.".into(),
            format!("Without a painted line: {}.", and_list(&bare)),
            "Paint a line across bolt and part: at the re-check a broken line shows what has moved.".into(),
        );
    }
    let lacking = closed()
        .filter(|bolt| bolt.witness().is_none())
        .fold(Missing::default(), |lacking, bolt| lacking.and(&Missing::fact(format!("{}.witness", bolt.path()))));
    out.not_known_as(Severity::Note, &lacking, "whether a line is painted across each bolt");
}

/// All are closed, with torque and line.
pub fn fits(_: &mut Build) {}

/// Nobody wrote down the front caliper.
pub fn does_not_fit(build: &mut Build) {
    build.fasteners.remove("caliper-front");
}

/// Nobody said whether the line is painted.
pub const NOT_KNOWN: Option<fn(&mut Build)> =
    Some(|build| build.fasteners.entry("caliper-rear".into()).or_default().witness = None);
