//! Both ends of the bar are closed.
//!
//! - Looks at: whether an end plug is listed for each side, once the bike is on the stand.
//! - Why: an open tube punches a disc out of whoever falls on it; races refuse the bike at the start.
//! - Source: ISO 4210-2, from memory: the ends of a handlebar are closed by plugs or grips; race bodies ask the same
//! - Fits: a plug on each side.
//! - Does not fit: no plug on the left.
//! - Not known: nothing; a plug is listed or it is not.

use crate::build::{Build, Stage};
use crate::check::words::and_list;
use crate::check::{Case, Report, Weight};
use crate::finding::About;

/// Where the limit or the custom comes from.
pub const SOURCE: &str =
    "ISO 4210-2, from memory: the ends of a handlebar are closed by plugs or grips; race bodies ask the same";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    let model = case.model;
    let built =
        model.build.job.stage.as_ref().is_some_and(|stage| matches!(stage.value, Stage::OnTheStand | Stage::Finished));
    let open: Vec<(&str, &str)> = [("left", &model.end_plug_left), ("right", &model.end_plug_right)]
        .into_iter()
        .filter(|(_, plug)| plug.part.is_none())
        .map(|(side, plug)| (side, plug.path))
        .collect();
    if built && !open.is_empty() {
        let sides: Vec<String> = open.iter().map(|(side, _)| (*side).to_owned()).collect();
        let ends = if sides.len() == 1 { "end is" } else { "ends are" };
        out.say(
            open.iter().map(|(_, path)| About::Part((*path).to_owned())).collect(),
            "The bar is open at an end.".into(),
            format!("No plug is listed for the {} side; the {ends} open.", and_list(&sides)),
            "Fit and list a plug, or the junction that fills the end.".into(),
        );
    }
}

/// A plug on each side.
pub fn fits(_: &mut Build) {}

/// No plug on the left.
pub fn does_not_fit(build: &mut Build) {
    build.parts.end_plug.0.remove("left");
}

/// Nothing; a plug is listed or it is not.
pub const NOT_KNOWN: Option<fn(&mut Build)> = None;
