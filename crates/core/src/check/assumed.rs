//! Verdicts that rest on an assumption: which, on what, and what to put a caliper on.
//!
//! The checks run once more on the document without its assumed facts. What cannot be judged then was judged on an
//! assumption, whether the check read the fact itself or a number worked out from it. A document that assumes nothing is
//! run once.

use super::words::fact;
use super::{Case, Check, report};
use crate::build::{Build, part_path};
use crate::compute;
use crate::field::{Choice, Origin};
use crate::finding::{About, Finding, Severity};
use crate::model::{Missing, Model};
use crate::part::COMMON_FACTS;

/// So many verdicts are named; the others are counted.
const MOST_BY_NAME: usize = 4;

/// A check whose verdict, or silence, rests on assumed facts.
#[derive(Clone, Debug)]
struct Rest {
    check: &'static str,
    title: &'static str,
    on: Vec<String>,
}

/// One note over all these checks; none where no verdict rests on an assumption.
pub(crate) fn note(checks: &[Check], case: &Case<'_>) -> Option<Finding> {
    let rests = rests(checks, case);
    let first = rests.first()?;
    let on =
        rests.iter().fold(Missing::default(), |all, rest| all.and(&Missing { paths: rest.on.clone(), refusal: None }));
    let facts: Vec<String> = on.paths.iter().map(|path| fact(path)).collect();
    let facts = facts.join("; ");
    let what = match rests.len() {
        1 => "A verdict rests on an assumption.".to_owned(),
        many => format!("{many} verdicts rest on assumptions."),
    };
    let named: Vec<String> = rests.iter().take(MOST_BY_NAME).map(|rest| format!("«{}»", rest.title)).collect();
    let more = match rests.len().saturating_sub(MOST_BY_NAME) {
        0 => String::new(),
        more => format!(", and {more} more"),
    };
    Some(Finding {
        check: first.check,
        severity: Severity::Note,
        about: on.paths.iter().map(|path| About::path(path)).collect(),
        what,
        why: format!("Nobody has looked yet: {facts}. On that rests: {}{more}.", named.join(", ")),
        action: format!("Measure, or find the maker's sheet: {facts}."),
        source: "common practice, no source: what is measured here goes before a sheet, a catalogue and an assumption",
        not_known: false,
    })
}

/// The checks that could not judge without the assumed facts.
fn rests(checks: &[Check], case: &Case<'_>) -> Vec<Rest> {
    let assumed = assumed(case.model.build);
    if assumed.is_empty() {
        return Vec::new();
    }
    let mut build = case.model.build.clone();
    for path in &assumed {
        // A path that was read off the document is one of its paths.
        if build.set(path, None).is_err() {
            return Vec::new();
        }
    }
    let model = Model::under(&build, case.model.rules);
    let worked = compute::work_out(&model);
    let numbers = compute::numbers(&model, &worked);
    let without = Case { model: &model, worked: &worked, numbers: &numbers };
    checks
        .iter()
        .filter_map(|check| {
            let lacking = report(check, &without).unknowns;
            let on: Vec<String> = assumed
                .iter()
                .filter(|path| lacking.iter().any(|unknown| unknown.missing.paths.contains(path)))
                .cloned()
                .collect();
            (!on.is_empty()).then(|| Rest { check: check.id, title: check.title(), on })
        })
        .collect()
}

/// The paths of the facts that are assumed: by their own origin, or by that of their part.
fn assumed(build: &Build) -> Vec<String> {
    let mut paths = Vec::new();
    for (kind, place, record) in build.parts.each() {
        let part = part_path("parts", kind.key, place);
        let from = kind.fields.iter().position(|field| field.name == "facts_from").and_then(|index| record.get(index));
        let of_part = from.and_then(|leaf| Origin::from_name(&leaf.typed));
        for (index, field) in kind.fields.iter().enumerate().skip(COMMON_FACTS) {
            let leaf = record.get(index);
            if leaf.is_some_and(|leaf| leaf.origin.or(of_part) == Some(Origin::Assumed)) {
                paths.push(format!("{part}.{}", field.key()));
            }
        }
    }
    paths
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a note that is not there is to stop the test")]

    use super::*;
    use crate::build::sample::sample;
    use crate::check::{ALL, run, run_one};
    use crate::field::Given;

    fn with_case<T>(build: &Build, look: impl Fn(&Case<'_>) -> T) -> T {
        let model = Model::new(build);
        let worked = compute::work_out(&model);
        let numbers = compute::numbers(&model, &worked);
        look(&Case { model: &model, worked: &worked, numbers: &numbers })
    }

    fn assumed_length(value: f64) -> Given<f64> {
        Given { value, typed: value.to_string(), origin: Some(Origin::Assumed) }
    }

    #[test]
    fn a_silence_that_rests_on_an_assumed_fact_says_so_and_what_to_measure() {
        let mut build = sample();
        build.parts.tyre.make("front").width_measured_mm = Some(assumed_length(28.4));
        let check = crate::check::by_id("fits/tyre_room").unwrap();
        let findings = with_case(&build, |case| run_one(check, case));
        assert_eq!(findings.len(), 1, "{findings:#?}");
        assert_eq!(findings[0].severity, Severity::Note);
        assert_eq!(findings[0].about, [About::path("parts.tyre.front.width_measured")]);
        assert!(findings[0].action.contains("front tyre, width measured"), "{findings:#?}");
    }

    #[test]
    fn a_verdict_keeps_its_finding_and_the_note_stands_beside_it() {
        let mut build = sample();
        build.parts.tyre.make("front").width_measured_mm = Some(assumed_length(40.0));
        let check = crate::check::by_id("fits/tyre_room").unwrap();
        let findings = with_case(&build, |case| run_one(check, case));
        assert_eq!(findings.len(), 2, "{findings:#?}");
        assert_eq!(findings[0].severity, Severity::Stop);
    }

    #[test]
    fn a_number_worked_out_from_an_assumed_fact_counts_too() {
        let mut build = sample();
        build.parts.headset.make("").cover_height_mm = Some(assumed_length(9.0));
        let rests = with_case(&build, |case| rests(ALL, case));
        assert!(rests.iter().any(|rest| rest.check == "safe/steerer_cut"), "{rests:#?}");
    }

    #[test]
    fn a_part_of_which_everything_is_assumed_makes_one_note_over_all_checks() {
        let mut build = sample();
        build.parts.frame.make("").facts_from = Some(Origin::Assumed.into());
        let findings = with_case(&build, run);
        let notes: Vec<&Finding> = findings.iter().filter(|finding| finding.what.contains("assumption")).collect();
        assert_eq!(notes.len(), 1, "{findings:#?}");
        assert!(notes[0].about.len() > 10 && notes[0].why.contains("more"), "{notes:#?}");
    }

    #[test]
    fn a_document_that_assumes_nothing_has_no_such_note() {
        assert!(with_case(&sample(), |case| note(ALL, case)).is_none());
    }
}
