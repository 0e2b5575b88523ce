//! The work at a glance: how far it is, the next step, and every step with how it stands.

use super::step;
use crate::loaded::Loaded;
use crate::words;
use maud::{Markup, html};
use witnessmark_core::build::StepState;
use witnessmark_core::field::Choice;
use witnessmark_core::stand::{Phase, Stands, StepNow, Work};

/// The head: whose bike, how far, and the way on.
pub(super) fn head(loaded: &Loaded, work: &Work) -> Markup {
    let (over, all) = work.over();
    let open = work.steps.iter().filter(|step| step.state() == Some(StepState::Open)).count();
    html! {
        div #stand-head {
            p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
            h1 { "At the stand" }
            p.lead { b { (over) " of " (all) } " steps over" @if open > 0 { ", " b { (open) " left open" } } }
            @match work.next() {
                Some(next) => p { a.on href={ "#" (step::id_of(&next.key)) } { "Go on: " (next.does) } },
                None => p.lead { "Every step is over." },
            }
            @if !work.strays.is_empty() {
                p.note {
                    "Kept under names that no step of this bike has: " (work.strays.join(", "))
                    ". Its parts have changed since, or the name is a slip."
                }
            }
        }
    }
}

/// Every step, by phase.
pub(super) fn list(loaded: &Loaded, work: &Work) -> Markup {
    let phases = Phase::NAMES.iter().map(|name| {
        let steps: Vec<&StepNow> = work.steps.iter().filter(|step| step.phase.name() == *name).collect();
        (*name, steps)
    });
    html! {
        div #stand-list {
            @for (name, steps) in phases.filter(|(_, steps)| !steps.is_empty()) {
                section.phase {
                    h2 { (super::super::build::capital(name)) }
                    ol { @for step in steps { (line(step)) } }
                }
            }
            p.links { a href={ "/builds/" (loaded.id) "/history?path=steps" } { "who did what when" } }
        }
    }
}

fn line(step: &StepNow) -> Markup {
    let class = match step.state() {
        Some(StepState::Done) => "done",
        Some(StepState::Open) => "open",
        Some(StepState::Cannot) => "cannot",
        None => "todo",
    };
    html! {
        li class=(class) {
            span.mark aria-hidden="true" {}
            a href={ "#" (step::id_of(&step.key)) } { (step.does) }
            span.how-far { (how_far(step)) }
        }
    }
}

/// How a step stands, in words.
fn how_far(step: &StepNow) -> Markup {
    let who = step.record.by.as_ref().map(|given| given.value.as_str());
    let on = step.record.on.as_ref().map(|given| given.value.to_string());
    let signed = [who.map(str::to_owned), on].into_iter().flatten().collect::<Vec<_>>().join(", ");
    html! {
        @match step.state() {
            Some(StepState::Done) => { "done" }
            Some(StepState::Open) => { b { "left open" } }
            Some(StepState::Cannot) if step.record.reason.is_none() => { b { "cannot, and not said why" } }
            Some(StepState::Cannot) => { "cannot" }
            None => {}
        }
        @if step.state().is_some() && !signed.is_empty() { " · " (signed) }
        @if let Some(now) = &step.gate {
            @match now.stands {
                Stands::Shut => { " gate shut: " (words::count(now.against.len(), "reason")) }
                Stands::Ready => { " gate ready to be opened" }
                Stands::Opened => { " · gate opened" }
                Stands::OpenedAgainst => { " · " b { "gate opened against a finding" } }
                Stands::OpenedInDoubt => { " · " b { "gate opened, and something speaks against it" } }
                Stands::PassedBy => { " · " b { "nobody opened its gate" } }
            }
        }
    }
}
