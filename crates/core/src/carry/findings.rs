//! What a mechanic should hear of a position that is carried over.

use super::{Carried, Row, with_unit};
use crate::build::Build;
use crate::finding::{About, Finding, Severity, capital, mm};
use crate::number;
use crate::survey::{Agreement, spoken};

const CUSTOM: &str = number::COMMON_PRACTICE;

fn finding(check: &'static str, severity: Severity, what: String, why: String, action: &str) -> Finding {
    Finding {
        check,
        severity,
        about: Vec::new(),
        what,
        why,
        action: action.to_owned(),
        source: CUSTOM,
        not_known: false,
    }
}

/// All of it, worst first.
pub(super) fn findings(carried: &Carried, from: &Build) -> Vec<Finding> {
    let mut all = Vec::new();
    all.extend(in_doubt(carried));
    all.extend(as_planned(carried, from));
    all.extend(missing(carried));
    all.extend(out_of_reach(carried));
    all.extend(legs(carried));
    all.extend(carried.rows.iter().filter_map(not_kept));
    all.extend(given_up(carried));
    all.sort_by_key(|finding| finding.severity);
    all
}

fn in_doubt(carried: &Carried) -> Option<Finding> {
    let doubted = !carried.survey.suspects.is_empty() || carried.survey.worn_end.is_some();
    doubted.then(|| {
        finding(
            "carry/survey_in_doubt",
            Severity::Caution,
            "The survey of the old bike has readings in doubt.".into(),
            "What is carried over stands on them.".into(),
            "Read them again on the old bike before anything is cut.",
        )
    })
}

fn as_planned(carried: &Carried, from: &Build) -> Option<Finding> {
    (from.asked.is_empty() && from.measured.is_empty() && carried.survey.missing.is_some()).then(|| {
        finding(
            "carry/as_planned",
            Severity::Caution,
            "The position was only worked out from the old bike's parts.".into(),
            "Nothing was asked for, read or surveyed there.".into(),
            "Take a few readings off the old bike before it is taken apart.",
        )
    })
}

fn missing(carried: &Carried) -> Vec<Finding> {
    [
        (&carried.reach.front.missing, "hoods cannot be carried over"),
        (&carried.reach.rear.missing, "saddle cannot be carried over"),
    ]
    .into_iter()
    .filter_map(|(missing, what)| {
        let missing = missing.as_ref()?;
        let one = finding(
            "carry/not_known",
            Severity::Caution,
            format!("The {what} yet."),
            format!("{}.", capital(&missing.to_string())),
            "Find it out on the old bike, or fill it in for the new one.",
        );
        let about = missing.paths.iter().map(|path| About::path(path)).collect();
        Some(Finding { about, not_known: true, ..one })
    })
    .collect()
}

fn out_of_reach(carried: &Carried) -> Option<Finding> {
    let front = &carried.reach.front;
    (front.missing.is_none() && carried.front.is_none()).then(|| {
        let nearest = front.nearest_mm.map_or_else(String::new, |miss| format!(" by {}", mm(miss)));
        finding(
            "carry/out_of_reach",
            Severity::Caution,
            "No stem, bar and spacers at hand bring the hoods near.".into(),
            format!(
                "The nearest of {} combinations misses{nearest}; {} were allowed.",
                front.tried,
                mm(front.within_mm)
            ),
            "Put other stems or bars on the shelf, or let the search go further.",
        )
    })
}

fn legs(carried: &Carried) -> Option<Finding> {
    let fit = &carried.build.fit;
    let unknown: Vec<&str> =
        [(fit.crank_length_mm.is_none(), "its cranks"), (fit.pedal_stack_mm.is_none(), "its pedals and soles")]
            .into_iter()
            .filter_map(|(unknown, words)| unknown.then_some(words))
            .collect();
    (!unknown.is_empty()).then(|| {
        let one = finding(
            "carry/legs",
            Severity::Caution,
            format!("Not known of the old bike: {}.", unknown.join(" and ")),
            "The saddle's height is carried over as if they were the same on both bikes.".into(),
            "Read the crank's length off its arm, and the height of the sole over the axle.",
        );
        Finding { not_known: true, ..one }
    })
}

fn not_kept(row: &Row) -> Option<Finding> {
    let (wanted, comes, off) = (row.wanted?, row.comes?, row.off?);
    (row.is_position && row.agreement == Agreement::Moved).then(|| {
        let one = finding(
            "carry/not_kept",
            Severity::Caution,
            format!("The {} cannot be kept.", spoken(row.number, row.side)),
            format!(
                "It comes to {} where {} are wanted: {} {}, and {} either way would be the same.",
                with_unit(row.number.kind, comes),
                with_unit(row.number.kind, wanted),
                with_unit(row.number.kind, off.abs()),
                if off > 0.0 { "more" } else { "less" },
                with_unit(row.number.kind, row.number.tolerance.value)
            ),
            "Decide with the rider, or put another part on the shelf.",
        );
        Finding { about: vec![About::number(row.number, row.side)], ..one }
    })
}

fn given_up(carried: &Carried) -> Option<Finding> {
    let front = carried.front.iter().flat_map(|way| way.sacrifices.clone());
    let all: Vec<String> = front.chain(carried.rear.iter().flat_map(|way| way.sacrifices.clone())).collect();
    (!all.is_empty()).then(|| {
        finding(
            "carry/given_up",
            Severity::Note,
            "The best way with the parts at hand has its price.".into(),
            format!("{}.", capital(&all.join("; "))),
            "Agree it with the rider.",
        )
    })
}
