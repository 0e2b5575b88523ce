//! The figures of the fit sheet agree with each other.
//!
//! - Looks at: every figure of the position that the other figures of the sheet give as well.
//! - Why: a sheet that says one thing twice, and differently, has a slip in it; built to the wrong figure the rider sits or
//!   reaches wrongly, and the stem that was ordered for it is the wrong one.
//! - Source: common practice, no source: figures that should agree and differ by more than 5 mm are asked about.
//! - Fits: the distance from saddle to hood is the one that height, setback and hood give.
//! - Does not fit: the distance from saddle to hood was read 9 mm long.
//! - Not known: nothing; figures that are not given cannot contradict, and one that cannot be converted is asked about by
//!   the check of definitions.

use crate::build::Build;
use crate::check::words::{and_list, harm, spoken, with_unit};
use crate::check::{Case, Report, Weight};
use crate::compute::Contradiction;
use crate::finding::{About, mm};
use crate::number::{self, Line, SADDLE_TO_HOOD, SaddlePoint, Side};

/// Where the custom comes from.
pub const SOURCE: &str = "common practice, no source: 5 mm between figures that should agree";
/// How much it weighs.
pub const WEIGHT: Weight = Weight::OfConcern;
/// The kinds of part whose facts alone decide it; none, as it needs more.
pub const BETWEEN: &[&str] = &[];

/// The check.
pub fn run(case: &Case<'_>, out: &mut Report) {
    // Any one of them can be the wrong one: with the others taken as right, it is off by so much. The smallest slip that
    // explains the sheet is the likeliest.
    let mut suspects: Vec<_> = case
        .worked
        .target
        .contradictions
        .iter()
        .filter_map(|one| number::by_id(one.key.0).map(|number| (number, one.key.1, one)))
        .collect();
    suspects.sort_by(|(.., a), (.., b)| off_mm(a).total_cmp(&off_mm(b)));
    let Some((likeliest, _, least)) = suspects.first() else { return };
    let least = mm(off_mm(least));
    let each: Vec<String> = suspects
        .iter()
        .map(|(number, side, one)| {
            format!(
                "the {} is {} where the others give {}",
                spoken(number, *side),
                with_unit(number.kind, one.received),
                with_unit(number.kind, one.others_give)
            )
        })
        .collect();
    let names: Vec<String> = suspects.iter().map(|(number, side, _)| spoken(number, *side)).collect();
    out.say(
        suspects.iter().map(|(number, side, _)| About::number(number, *side)).collect(),
        format!("The asked figures contradict each other by {least} or more."),
        format!(
            "One of them is wrong: {}; built to the wrong one, {}.",
            each.join("; or "),
            harm(likeliest, &format!("{least} or more"))
        ),
        format!("Ask the fitter to read again, with the tape on the bike: {}.", and_list(&names)),
    );
}

fn off_mm(one: &Contradiction) -> f64 {
    (one.received - one.others_give).abs()
}

fn ask_saddle_to_hood(build: &mut Build, value_mm: f64) {
    let asked = build.asked.entry((SADDLE_TO_HOOD.id, Side::None)).or_default();
    asked.value = Some(value_mm.into());
    asked.form.line = Some(Line::Straight.into());
    asked.form.from = Some(SaddlePoint::Width.into());
}

/// The distance from saddle to hood as the other figures give it.
pub fn fits(build: &mut Build) {
    ask_saddle_to_hood(build, 791.5);
}

/// The same, 9 mm longer.
pub fn does_not_fit(build: &mut Build) {
    ask_saddle_to_hood(build, 800.5);
}

/// No fact can be missing.
pub const NOT_KNOWN: Option<fn(&mut Build)> = None;
