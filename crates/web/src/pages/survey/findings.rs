//! What a mechanic should hear of the survey: the reading to doubt with its likely slip, what nothing checks, what cannot be
//! told apart, what cannot be had.

use super::super::build::{address, head};
use super::Surveyed;
use maud::{Markup, html};
use witnessmark_core::finding::{About, Finding};
use witnessmark_core::number;
use witnessmark_core::survey::Survey;

pub(super) fn list(surveyed: &Surveyed<'_>) -> Markup {
    // What helps most stands beside the drawing already.
    let told = || surveyed.survey.findings.iter().filter(|finding| finding.check != "survey/next");
    html! {
        section.area #survey-findings aria-labelledby="survey-findings-title" {
            h2 #survey-findings-title { "What the readings say of each other" }
            @if told().next().is_none() { p.quiet { "Nothing is wrong, doubtful or missing." } }
            ol.findings { @for finding in told() { (one(finding, &surveyed.survey)) } }
        }
    }
}

fn one(finding: &Finding, survey: &Survey) -> Markup {
    let addresses: Vec<String> = finding.about.iter().map(About::address).collect();
    let word = finding.severity_word();
    html! {
        li class={ "finding " (word) } data-lights=(addresses.join(" ")) {
            (sentences(finding))
            @if !finding.about.is_empty() {
                p.about { @for about in once(&finding.about) { a href={ "#" (place(about)) } { (named(about, survey)) } " " } }
            }
        }
    }
}

/// What, why, what to do, and from where.
pub(in crate::pages) fn sentences(finding: &Finding) -> Markup {
    html! {
        p.what { (head::shape(finding.severity)) b.severity { (finding.severity_word()) } " " (finding.what) }
        p.why { (finding.why) }
        p.do { b { "Do: " } (finding.action) }
        p.source { (finding.source) }
    }
}

/// Each thing once: several pairs may name the same reading.
fn once(about: &[About]) -> Vec<&About> {
    let mut all: Vec<&About> = Vec::new();
    for one in about {
        if !all.contains(&one) {
            all.push(one);
        }
    }
    all
}

/// The place on this page that shows it.
fn place(about: &About) -> String {
    match about {
        About::Number(id, side) => format!("s.{}", address::of_number(id, *side)),
        About::Part(path) | About::Field(path) => format!("s.{path}"),
    }
}

fn named(about: &About, survey: &Survey) -> String {
    match about {
        About::Number(id, side) => {
            let name = number::by_id(id).map_or(*id, |number| number.name);
            if side.word().is_empty() { name.to_owned() } else { format!("{name}, {}", side.word()) }
        }
        About::Part(path) | About::Field(path) => {
            let name = path.split('.').nth(1).unwrap_or(path);
            let item = survey.readings.iter().find(|one| one.item.name == name);
            item.map_or_else(|| name.replace('-', " "), |one| one.item.words.clone())
        }
    }
}
