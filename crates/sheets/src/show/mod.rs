//! The page of a finished bike, for its rider or the workshop's own site: one file, nothing fetched from anywhere, a
//! walk-round from the cockpit down.
//!
//! It shows what the customer agreed to and nothing else: the numbers that were ticked, and name, event, parts and drawing
//! each by itself. The workshop's own title of a build often holds a name, so it stands there only where the name may.

mod drawing;

#[cfg(test)]
mod tests;

use crate::listed::{Listed, together};
use crate::words::{capital, said, with_unit};
use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use std::fmt;
use witnessmark_core::compute::PlannedNumber;
use witnessmark_core::field::{Choice, Given};
use witnessmark_core::number::Area;
use witnessmark_core::{Build, Plan};

const STYLE: &str = include_str!("show.css");
static REGULAR: &[u8] = include_bytes!("../../assets/atkinson-hyperlegible-next/regular.ttf");
static BOLD: &[u8] = include_bytes!("../../assets/atkinson-hyperlegible-next/bold.ttf");

/// Nobody agreed to anything yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotAgreed;

impl fmt::Display for NotAgreed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("there is no page to show: the day on which the customer agreed is not filled in (show.agreed_on)")
    }
}

impl std::error::Error for NotAgreed {}

fn agreed(given: Option<&Given<bool>>) -> bool {
    given.is_some_and(|given| given.value)
}

/// Whether the customer agreed that this number is shown.
pub fn is_shown(build: &Build, id: &str) -> bool {
    agreed(build.shown.get(id))
}

/// The page as one file; refuses while nobody has agreed to it.
pub fn page(build: &Build, plan: &Plan) -> Result<String, NotAgreed> {
    let show = &build.show;
    let agreed_on = show.agreed_on.as_ref().ok_or(NotAgreed)?.value;
    let workshop = said(build.job.workshop.as_ref());
    let title = title(build);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="robots" content="noindex";
                title { (title) }
                style { (PreEscaped(typeface())) (PreEscaped(STYLE)) }
            }
            body {
                header {
                    @if let Some(workshop) = workshop { p.by { (mark()) (workshop) } }
                    h1 { (title) }
                    (told(build))
                }
                main {
                    @if let Some(words) = said(show.words.as_ref()) { p.lead { (words) } }
                    @if agreed(show.drawing.as_ref()) { (drawing::figure(plan)) }
                    (walk(build, plan))
                }
                footer {
                    p { "Shown as agreed with the rider on " (agreed_on) ". Another rider’s numbers are no pattern for yours." }
                }
            }
        }
    };
    Ok(page.into_string())
}

/// A text that holds a name of the rider, who did not agree to be named: "Ilka’s computer".
fn names_the_rider(build: &Build, text: &str) -> bool {
    if agreed(build.show.rider.as_ref()) {
        return false;
    }
    let words = |text: &str| -> Vec<String> {
        text.to_lowercase().split(|letter: char| !letter.is_alphabetic()).map(str::to_owned).collect()
    };
    let names = words(said(build.rider.name.as_ref()).unwrap_or_default());
    words(text).iter().any(|word| word.chars().count() > 1 && names.contains(word))
}

/// What the page is called: a name only where the name may stand there.
fn title(build: &Build) -> String {
    let rider = said(build.rider.name.as_ref()).filter(|_| agreed(build.show.rider.as_ref()));
    match (rider, said(build.job.title.as_ref())) {
        (Some(_), Some(title)) => title.to_owned(),
        (Some(rider), None) => format!("The bike of {rider}"),
        (None, _) => "A race bike".to_owned(),
    }
}

fn told(build: &Build) -> Markup {
    let rider = said(build.rider.name.as_ref()).filter(|_| agreed(build.show.rider.as_ref()));
    let event = said(build.job.event.as_ref()).filter(|_| agreed(build.show.event.as_ref()));
    let event = event.filter(|event| !names_the_rider(build, event));
    html! {
        @if rider.is_some() || event.is_some() {
            dl.told {
                @if let Some(rider) = rider { div { dt { "rider" } dd { (rider) } } }
                @if let Some(event) = event { div { dt { "built for" } dd { (event) } } }
            }
        }
    }
}

/// The areas in the order of a walk round the bike, each with what may be shown of it.
fn walk(build: &Build, plan: &Plan) -> Markup {
    let parts = if agreed(build.show.parts.as_ref()) { together(build) } else { Vec::new() };
    let named = |area: Area| -> Vec<&Listed> {
        let nameable = |part: &&Listed| part.name.as_ref().is_some_and(|name| !names_the_rider(build, name));
        parts.iter().filter(|part| part.kind.area == area).filter(nameable).collect()
    };
    let numbers = |area: Area| -> Vec<&PlannedNumber> {
        let each = plan.numbers.each().iter();
        each.filter(|one| one.number.area == area && is_shown(build, one.number.id) && value(one).is_some()).collect()
    };
    html! {
        @for area in Area::NAMES.iter().filter_map(|name| Area::from_name(name)) {
            @let (numbers, parts) = (numbers(area), named(area));
            @if !numbers.is_empty() || !parts.is_empty() {
                section {
                    h2 { (capital(area.name())) }
                    @if !numbers.is_empty() { (table(&numbers)) }
                    @if !parts.is_empty() {
                        ul.parts {
                            @for part in parts { li { (one_part(part)) } }
                        }
                    }
                }
            }
        }
    }
}

fn one_part(part: &Listed) -> Markup {
    let count = part.count();
    html! {
        span.kind { (capital(&part.what())) @if count > 1 { ", " (count) " alike" } }
        " "
        b { (part.name.as_deref().unwrap_or_default()) }
    }
}

fn table(numbers: &[&PlannedNumber]) -> Markup {
    html! {
        // The roles are said, since a narrow screen lays the table out as no table.
        table role="table" {
            thead role="rowgroup" {
                tr role="row" {
                    th scope="col" role="columnheader" { "number" }
                    th.value scope="col" role="columnheader" { "value" }
                    th scope="col" role="columnheader" { "what it is" }
                }
            }
            tbody role="rowgroup" {
                @for one in numbers {
                    tr role="row" {
                        th scope="row" role="rowheader" {
                            (one.number.name) @if !one.side.word().is_empty() { ", " (one.side.word()) }
                        }
                        td.value role="cell" { (value(one).unwrap_or_default()) }
                        td.is role="cell" { (one.number.definition) }
                    }
                }
            }
        }
    }
}

/// As read off the finished bike; as planned where it was not read, and then it says so.
fn value(one: &PlannedNumber) -> Option<String> {
    let kind = one.number.kind;
    let read = one.measured.as_ref().map(|read| with_unit(kind, read.value));
    read.or_else(|| one.planned.as_ref().ok().map(|planned| format!("{} as planned", with_unit(kind, *planned))))
}

/// The house's own sign, small, before the workshop's name.
fn mark() -> Markup {
    html! {
        svg.mark viewBox="0 0 24 24" aria-hidden="true" {
            path.part d="M0 1h24v10H0zM4 13h20v10H4z" {}
            path.line d="M15 0v24" {}
        }
    }
}

/// The typeface inside the page, so that nothing is fetched.
fn typeface() -> String {
    let face = |weight: u16, bytes: &[u8]| {
        let letters = BASE64_STANDARD.encode(bytes);
        format!(
            "@font-face{{font-family:Bench;font-weight:{weight};src:url(data:font/ttf;base64,{letters}) format(\"truetype\")}}"
        )
    };
    face(400, REGULAR) + &face(700, BOLD)
}
