//! The findings of a build, worst first: what, why, what to do, and from where.

use super::{address, head};
use crate::loaded::Loaded;
use crate::words;
use maud::{Markup, html};
use witnessmark_core::finding::{About, Finding};
use witnessmark_core::model::in_words;
use witnessmark_core::number;

pub(crate) fn list(loaded: &Loaded) -> Markup {
    let findings = &loaded.plan.findings;
    html! {
        section #findings aria-labelledby="findings-title" {
            h2 #findings-title { "Findings" @if !findings.is_empty() { " " small { "worst first" } } }
            // The list scrolls within its frame, so the keyboard must be able to get hold of it.
            div.scroll tabindex="0" role="group" aria-labelledby="findings-title" {
                @if findings.is_empty() { p.quiet { "Nothing is wrong, doubtful or missing." } }
                ol { @for finding in findings { (one(loaded, finding)) } }
            }
        }
    }
}

/// One finding.
pub(crate) fn one(loaded: &Loaded, finding: &Finding) -> Markup {
    let addresses: Vec<String> = finding.about.iter().map(About::address).collect();
    let lights: Vec<String> = addresses.iter().map(|address| address::lights(address)).collect();
    let near: Vec<&str> = addresses.iter().flat_map(|address| address::drawn_near(address)).copied().collect();
    let word = finding.severity_word();
    html! {
        li class={ "finding " (word) } data-lights=(lights.join(" "))
            data-near=[(!near.is_empty()).then(|| near.join(" "))] {
            p.what { (head::shape(finding.severity)) b.severity { (word) } " " (finding.what) }
            p.why { (finding.why) }
            p.do { b { "Do: " } (finding.action) }
            p.source {
                (finding.source) " · "
                a href={ "/checks#" (finding.check) } { (finding.check) }
            }
            @if !finding.about.is_empty() {
                p.about {
                    @for about in &finding.about {
                        @match address::way(loaded, &about.address()) {
                            Some(way) => a href=(way) { (named(about)) },
                            None => span { (named(about)) },
                        }
                        " "
                    }
                }
            }
        }
    }
}

/// A finding on a page that is not the build's: without the way to what it is about.
pub(crate) fn told(finding: &Finding) -> Markup {
    let word = finding.severity_word();
    html! {
        li class={ "finding " (word) } {
            p.what { (head::shape(finding.severity)) b.severity { (word) } " " (finding.what) }
            p.why { (finding.why) }
            p.do { b { "Do: " } (finding.action) }
            p.source { (finding.source) " · " a href={ "/checks#" (finding.check) } { (finding.check) } }
        }
    }
}

/// What a finding is about, as people call it.
fn named(about: &About) -> String {
    match about {
        About::Number(id, side) => {
            let name = number::by_id(id).map_or(*id, |number| number.name);
            if side.word().is_empty() { name.to_owned() } else { format!("{name}, {}", side.word()) }
        }
        About::Part(path) => words::of_key(&path.strip_prefix("parts.").unwrap_or(path).replace('.', " ")),
        About::Field(path) => in_words(path),
    }
}
