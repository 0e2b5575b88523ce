//! The parts and settings in which two builds differ, fact by fact, as they were typed.

use crate::loaded::Loaded;
use crate::words;
use maud::{Markup, html};
use std::collections::BTreeMap;
use witnessmark_core::part::{self, Places};

/// A part, or the settings, with the facts that differ.
type Differing<'a> = BTreeMap<String, Vec<(String, Option<&'a str>, Option<&'a str>)>>;

pub(super) fn differing(a: &Loaded, b: &Loaded) -> Markup {
    let mut all: Differing<'_> = BTreeMap::new();
    // Where a fact comes from makes no other part.
    let paths: Vec<String> =
        a.differs_from(b).into_iter().filter(|path| path.rsplit('.').next() != Some("from")).collect();
    for path in &paths {
        if let Some((thing, fact)) = split(path) {
            all.entry(thing).or_default().push((fact, a.text(path), b.text(path)));
        }
    }
    html! {
        section.area aria-labelledby="parts-title" {
            h2 #parts-title { "Parts and settings that differ" }
            @if all.is_empty() { p.quiet { "None." } } @else {
                table.compared {
                    thead { tr { th scope="col" { "fact" } th scope="col" { "A" } th scope="col" { "B" } } }
                    @for (thing, facts) in &all {
                        tbody {
                            tr.area-of { th colspan="3" scope="rowgroup" {
                                (super::super::build::capital(thing))
                                @if facts.iter().all(|(_, a, _)| a.is_none()) { " " small { "only on B, or not described on A" } }
                                @else if facts.iter().all(|(_, _, b)| b.is_none()) { " " small { "only on A, or not described on B" } }
                            } }
                            // A part that only one of them has is told by its name.
                            @for (fact, a, b) in facts.iter().filter(|(fact, ..)| !lone(facts) || fact == "name") {
                                tr { th scope="row" { (fact) } td data-label="A" { (said(*a)) } td data-label="B" { (said(*b)) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Only one of the two says anything of it.
fn lone(facts: &[(String, Option<&str>, Option<&str>)]) -> bool {
    facts.iter().all(|(_, a, _)| a.is_none()) || facts.iter().all(|(_, _, b)| b.is_none())
}

fn said(text: Option<&str>) -> Markup {
    html! { @match text { Some(text) => (text), None => small { "not known" } } }
}

/// The part and its fact, in words; `None` for what is neither part nor setting.
fn split(path: &str) -> Option<(String, String)> {
    let keys: Vec<&str> = path.split('.').collect();
    match keys.as_slice() {
        ["settings", fact] => Some(("settings".to_owned(), words::of_key(fact))),
        ["parts", kind, place, fact] if part::kind(kind)?.places != Places::One => {
            Some((format!("{} {}", words::of_key(place), words::of_key(kind)), words::of_key(fact)))
        }
        ["parts", kind, fact] => Some((words::of_key(kind), words::of_key(fact))),
        _ => None,
    }
}
