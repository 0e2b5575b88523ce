//! The head of a build's page: whose it is, for what and when, and how it stands.

use crate::loaded::Loaded;
use crate::{sign, words};
use maud::{Markup, html};
use witnessmark_core::field::Choice;
use witnessmark_core::finding::Severity;

pub(crate) fn head(loaded: &Loaded) -> Markup {
    let job = &loaded.build.job;
    let numbers = &loaded.plan.numbers;
    let (in_line, total) = numbers.in_line();
    html! {
        div #head {
            div.whose {
                h1 { (loaded.title()) }
                p {
                    @if let Some(rider) = loaded.rider() { span { (rider) } }
                    @if let Some(event) = &job.event { span { (event.value) } }
                    @if let Some(day) = &job.day { span { (day.value) } }
                    @if let Some(stage) = &job.stage { span { (stage.value.name()) } }
                    span { a href={ "/builds/" (loaded.id) "/stand" } { "at the stand" } }
                    span { a href={ "/builds/" (loaded.id) "/reach" } { "what reaches the position" } }
                    span { a href={ "/builds/" (loaded.id) "/survey" } { "survey" } }
                    span { a href={ "/builds/" (loaded.id) "/carry" } { "carry over" } }
                    span { a href={ "/builds/" (loaded.id) "/gears" } { "gears" } }
                    span { a href={ "/builds/" (loaded.id) "/chain" } { "chain" } }
                    span { a href={ "/builds/" (loaded.id) "/wiring" } { "wires" } }
                    span { a href={ "/builds/" (loaded.id) "/tape" } { "tape" } }
                    span { a href={ "/builds/" (loaded.id) "/tyres" } { "tyres" } }
                    span { a href={ "/builds/" (loaded.id) "/fasteners" } { "bolts" } }
                    span { a href={ "/builds/" (loaded.id) "/mass" } { "mass" } }
                    span { a href={ "/builds/" (loaded.id) "/complete" } { "complete it" } }
                    span { a href={ "/builds/" (loaded.id) "/service" } { "service" } }
                    span { a href={ "/builds/" (loaded.id) "/sheets" } { "sheets" } }
                    span { a href={ "/builds/" (loaded.id) "/history" } { "changes" } }
                }
            }
            div.stands {
                (sign::share(numbers.each().iter().map(|number| number.verdict)))
                p.counts {
                    span { b { (in_line) } " of " (total) " in line" }
                    (counted(loaded, Severity::Stop))
                    (counted(loaded, Severity::Caution))
                }
            }
        }
    }
}

/// The count of a severity, with its shape.
pub(crate) fn counted(loaded: &Loaded, severity: Severity) -> Markup {
    let count = loaded.plan.count(severity);
    let class = if count == 0 { "none" } else { severity.name() };
    html! { span class={ "count " (class) } { (shape(severity)) (words::count(count, severity.name())) } }
}

/// The shape of a severity: told apart without colour.
pub(crate) fn shape(severity: Severity) -> Markup {
    let path = match severity {
        Severity::Stop => "M6 1h8l5 5v8l-5 5H6l-5-5V6z",
        Severity::Caution => "M10 1.5 19.5 18.5H.5z",
        Severity::Note => "M10 2a8 8 0 1 0 .01 0z",
    };
    html! { svg class={ "shape " (severity.name()) } viewBox="0 0 20 20" aria-hidden="true" { path d=(path) {} } }
}
