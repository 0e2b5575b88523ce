//! What could not be judged, gathered so that a half-filled document does not drown its reader.
//!
//! Each question stands in one finding. Questions that wait for a part that is not listed at all stand in the finding
//! that names the parts to list, the gravest by name and the rest by number; questions that wait for the same facts stand
//! together; and so do those that wait for nothing but settings, because these are chosen and not asked for. Where many are
//! left, they stand together by the part that is to be looked at, and those that are only worth a note by the area of the
//! walk-round.

use super::fits::listed;
use super::words::{fact, meaning};
use crate::field::Choice;
use crate::finding::{About, Finding, Severity};
use crate::model::Missing;
use crate::part;

/// In a document that lists next to nothing, so many questions are named; the others are counted.
const MOST_BY_NAME: usize = 6;

/// With more findings than this of what is not known, they are put together part by part.
const MOST_GROUPS: usize = 8;

/// A question that a check could not answer.
#[derive(Clone, Debug)]
pub(crate) struct Unknown {
    pub(crate) check: &'static str,
    pub(crate) source: &'static str,
    pub(crate) severity: Severity,
    pub(crate) missing: Missing,
    /// As a clause: "whether the steerer is long enough".
    pub(crate) question: String,
}

/// Each question as a finding of its own.
pub(crate) fn each(unknowns: Vec<Unknown>) -> Vec<Finding> {
    unknowns.into_iter().map(|unknown| finding(&[unknown])).collect()
}

/// The questions of all checks, put together; `findings` holds what the checks found, and the one that names the parts
/// to list is given the questions that wait for them.
pub(crate) fn gather(unknowns: Vec<Unknown>, findings: &mut Vec<Finding>) {
    let listing = findings.iter().position(|finding| finding.check == listed::ID);
    let absent: Vec<String> =
        listing.map_or_else(Vec::new, |at| findings[at].about.iter().map(About::address).collect());
    let waits_for_a_part =
        |unknown: &Unknown| unknown.missing.paths.iter().any(|path| absent.iter().any(|part| is_of(path, part)));

    let (mut waiting, rest): (Vec<_>, Vec<_>) = unknowns.into_iter().partition(waits_for_a_part);
    waiting.sort_by_key(|unknown| gravity(unknown.check));
    if let Some(finding) = listing.map(|at| &mut findings[at]).filter(|_| !waiting.is_empty()) {
        let questions = questions(&waiting);
        let (said, more) = questions.split_at(questions.len().min(MOST_BY_NAME));
        let more = if more.is_empty() { String::new() } else { format!("; and {} questions more", more.len()) };
        let it = if absent.len() == 1 { "it" } else { "them" };
        finding.why = format!("Waiting for {it}: {}{more}.", said.join("; "));
    }
    let mut groups: Vec<Vec<Unknown>> = Vec::new();
    for unknown in rest {
        match groups.iter_mut().find(|group| group[0].wait_for_the_same(&unknown)) {
            Some(group) => group.push(unknown),
            None => groups.push(vec![unknown]),
        }
    }
    let (notes, graver): (Vec<_>, Vec<_>) =
        groups.into_iter().partition(|group| group.iter().all(|unknown| unknown.severity == Severity::Note));
    let mut groups = if graver.len() > MOST_GROUPS { put_together(graver, part_of) } else { graver };
    groups.extend(if notes.len() > MOST_GROUPS { put_together(notes, area_of) } else { notes });
    findings.extend(groups.iter().map(|group| finding(group)));
}

/// The questions put together by where the first fact is found that each waits for, so that whoever stands there answers
/// them all. What weighs differently stays apart.
fn put_together(groups: Vec<Vec<Unknown>>, place_of: fn(&str) -> String) -> Vec<Vec<Unknown>> {
    let mut places: Vec<(Severity, String, Vec<Unknown>)> = Vec::new();
    for unknown in groups.into_iter().flatten() {
        let place = unknown.missing.paths.first().map_or_else(String::new, |path| place_of(path));
        match places.iter_mut().find(|(severity, of, _)| *severity == unknown.severity && *of == place) {
            Some((.., group)) => group.push(unknown),
            None => places.push((unknown.severity, place, vec![unknown])),
        }
    }
    places.into_iter().map(|(.., group)| group).collect()
}

/// The part, or the section of the document, in which a fact stands.
fn part_of(path: &str) -> String {
    let keys: Vec<&str> = path.split('.').collect();
    // A part's last key is the fact; everything before it is the part.
    let depth = if keys[0] == "parts" { keys.len() - 1 } else { 1 };
    keys[..depth].join(".")
}

/// The area of the walk-round in which a part stands, or the section of the document.
fn area_of(path: &str) -> String {
    let mut keys = path.split('.');
    let (section, kind) = (keys.next().unwrap_or_default(), keys.next().unwrap_or_default());
    part::kind(kind).filter(|_| section == "parts").map_or(section, |kind| kind.area.name()).to_owned()
}

impl Unknown {
    fn waits_for_settings(&self) -> bool {
        self.missing.refusal.is_none() && self.missing.paths.iter().all(|path| path.starts_with("settings."))
    }

    fn wait_for_the_same(&self, other: &Self) -> bool {
        (self.waits_for_settings() && other.waits_for_settings()) || self.missing == other.missing
    }
}

fn is_of(path: &str, part: &str) -> bool {
    path.strip_prefix(part).is_some_and(|rest| rest.starts_with('.'))
}

/// What is dangerous not to know comes first.
fn gravity(check: &str) -> usize {
    ["safe/", "reach/", "fits/"].iter().position(|concern| check.starts_with(concern)).unwrap_or(usize::MAX)
}

/// The questions in a row, each once.
fn questions(unknowns: &[Unknown]) -> Vec<&str> {
    let mut all: Vec<&str> = Vec::new();
    for unknown in unknowns {
        if !all.contains(&unknown.question.as_str()) {
            all.push(&unknown.question);
        }
    }
    all
}

fn finding(group: &[Unknown]) -> Finding {
    let first = &group[0];
    let missing = group.iter().fold(Missing::default(), |all, unknown| all.and(&unknown.missing));
    Finding {
        check: first.check,
        severity: group.iter().map(|unknown| unknown.severity).min().unwrap_or(first.severity),
        about: missing.paths.iter().map(|path| About::path(path)).collect(),
        what: format!("Not known: {}.", questions(group).join("; ")),
        why: why(&missing),
        action: action(&missing),
        source: first.source,
        not_known: true,
    }
}

/// What is lacking, with what it means where there is room to say so.
fn why(missing: &Missing) -> String {
    if let Some(refusal) = &missing.refusal {
        return format!("{}.", super::sentence(refusal));
    }
    let few = missing.paths.len() <= 2;
    let facts: Vec<String> = missing
        .paths
        .iter()
        .map(|path| match (fact(path), meaning(path)) {
            // A name that explains itself in brackets needs no second pair.
            (fact, Some(meaning)) if few && !fact.contains('(') => format!("{fact} ({meaning})"),
            (fact, _) => fact,
        })
        .collect();
    format!("Lacking: {}.", facts.join("; "))
}

/// What to do about each kind of fact: some are found out, some are chosen, some are asked for, some are read.
fn action(missing: &Missing) -> String {
    if missing.paths.is_empty() {
        return "Correct the facts that cannot be together.".to_owned();
    }
    let mut sentences = Vec::new();
    for (sections, verb) in [
        (&["parts.", "rider.", "fit.", "job."][..], "Find out"),
        (&["asked."][..], "Ask the fitter or the rider for"),
        (&["settings."][..], "Choose"),
        (&["measured.", "weighing."][..], "Read on the bike"),
        (&["fasteners.", "wrenches."][..], "Write down"),
        (&["liked."][..], "Ask the rider for"),
    ] {
        let facts: Vec<String> = missing
            .paths
            .iter()
            .filter(|path| sections.iter().any(|section| path.starts_with(section)))
            .map(|path| fact(path))
            .collect();
        if !facts.is_empty() {
            sentences.push(format!("{verb}: {}.", facts.join("; ")));
        }
    }
    sentences.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unknown(question: &str, paths: &[&str]) -> Unknown {
        let paths = paths.iter().map(|path| (*path).to_owned()).collect();
        Unknown {
            check: "fits/steerer_length",
            source: "made up",
            severity: Severity::Caution,
            missing: Missing { paths, refusal: None },
            question: question.into(),
        }
    }

    fn listing(parts: &[&str]) -> Finding {
        let mut finding = finding(&[unknown("x", &["a"])]);
        finding.check = listed::ID;
        finding.about = parts.iter().map(|part| About::Part((*part).into())).collect();
        finding
    }

    #[test]
    fn what_waits_for_a_part_that_is_not_listed_stands_with_that_part() {
        let mut findings = vec![listing(&["parts.fork"])];
        gather(
            vec![unknown("whether it is long", &["parts.fork.length", "parts.stem.length"]), unknown("b", &["fit.by"])],
            &mut findings,
        );
        assert_eq!(findings.len(), 2);
        assert_eq!(findings[0].why, "Waiting for it: whether it is long.");
        assert_eq!(findings[1].what, "Not known: b.");
    }

    #[test]
    fn of_many_waiting_questions_the_gravest_are_named_and_the_others_counted() {
        let mut findings = vec![listing(&["parts.fork"])];
        let mut all: Vec<Unknown> =
            (0..9).map(|number| unknown(&format!("question {number}"), &["parts.fork.length"])).collect();
        all[8].check = "safe/steerer_cut";
        gather(all, &mut findings);
        assert_eq!(
            findings[0].why,
            "Waiting for it: question 8; question 0; question 1; question 2; question 3; question 4; and 3 questions more."
        );
    }

    #[test]
    fn questions_that_wait_for_the_same_facts_stand_together_and_none_is_lost() {
        let mut findings = Vec::new();
        let all = vec![
            unknown("a", &["parts.fork.length"]),
            unknown("b", &["settings.bar_roll"]),
            unknown("c", &["parts.fork.length"]),
            unknown("d", &["settings.set_down", "settings.bar_roll"]),
            unknown("e", &["parts.fork.offset"]),
        ];
        gather(all, &mut findings);
        let said: Vec<&str> = findings.iter().map(|finding| finding.what.as_str()).collect();
        assert_eq!(said, ["Not known: a; c.", "Not known: b; d.", "Not known: e."]);
        assert_eq!(findings[1].action, "Choose: bar roll; set down.");
        assert_eq!(findings[1].about.len(), 2);
    }

    #[test]
    fn many_questions_stand_together_by_part_and_many_notes_by_area() {
        let mut findings = Vec::new();
        let kinds = ["frame", "fork", "stem", "bar", "saddle", "post", "chain", "cassette", "crankset", "pedal"];
        let mut all = Vec::new();
        for kind in kinds {
            for fact in ["mass", "note"] {
                let path = format!("parts.{kind}.{fact}");
                all.push(unknown(&format!("the {fact} of the {kind}"), &[&path]));
                let mut note = unknown(&format!("a word on the {kind}'s {fact}"), &[&format!("{path}_too")]);
                note.severity = Severity::Note;
                all.push(note);
            }
        }
        gather(all, &mut findings);
        let of = |severity| findings.iter().filter(|finding| finding.severity == severity).collect::<Vec<_>>();
        assert_eq!(of(Severity::Caution).len(), kinds.len());
        assert_eq!(of(Severity::Caution)[0].what, "Not known: the mass of the frame; the note of the frame.");
        // Cockpit, front end, frame, transmission, saddle.
        assert_eq!(of(Severity::Note).len(), 5, "{findings:#?}");
    }
}
