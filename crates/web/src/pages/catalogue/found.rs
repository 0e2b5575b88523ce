//! Searching the catalogue as one types: the form, and what was found, as the catalogue's own page and a build share them.
//!
//! The form is a plain one, so it works without a script. With it, what is found is renewed at each letter.

use crate::catalogue::Catalogue;
use crate::loaded::Loaded;
use crate::pages::Fragment;
use crate::pages::build::parts::PartAt;
use crate::pages::take::{self, Pick, Source};
use crate::words;
use maud::{Markup, html};
use witnessmark_core::catalogue::Entry;
use witnessmark_core::part::{PartKind, Places};

/// The longest query that is looked at.
const LONGEST: usize = 200;
/// How many parts are listed; all are counted.
const LISTED: usize = 12;

/// The query as it is searched for.
pub(crate) fn query(typed: &str) -> String {
    typed.chars().take(LONGEST).collect()
}

/// The form.
pub(crate) fn form(action: &str, typed: &str, label: &str) -> Markup {
    html! {
        form.search role="search" method="get" action=(action) data-search {
            label for="q" { (label) }
            span.box {
                input #q name="q" type="search" value=(typed) autocomplete="off" spellcheck="false" autocapitalize="off"
                    maxlength=(LONGEST) placeholder="stem 110 -6" aria-describedby="q-says";
                button { "Find" }
            }
            p.says #q-says { "Words and figures that a part must all meet; the beginning of a word is enough. Arrow keys go through what is found." }
        }
    }
}

/// What was found in the catalogue, each with the way to `what` it is for.
pub(crate) fn list(catalogue: &Catalogue, typed: &str, what: impl Fn(&Entry) -> Markup) -> Fragment {
    let (best, all) = catalogue.find(typed, LISTED);
    let says = match all {
        _ if typed.trim().is_empty() => String::new(),
        0 => "No part of the catalogue meets all of these words.".to_owned(),
        1 => "1 part.".to_owned(),
        _ if all > best.len() => format!("{all} parts, the best {} of them here.", best.len()),
        _ => format!("{all} parts."),
    };
    let html = html! {
        div #found data-found {
            p.quiet role="status" { (says) }
            @if !best.is_empty() {
                ol.hits { @for entry in best { li { (line(entry)) (what(entry)) } } }
            }
        }
    };
    Fragment { id: "found".into(), html }
}

/// What one chooses a part by.
pub(crate) fn line(entry: &Entry) -> Markup {
    html! {
        span.hit {
            span.kind { (words::of_key(entry.kind.key)) } " "
            span.own-name { (entry.name()) }
            " " (figures(entry))
        }
    }
}

/// The mass of a part that is there already and is not to be paid.
pub(crate) fn mass(entry: &Entry) -> Markup {
    let mass = entry.number("mass_g").map(|mass_g| words::with_unit(witnessmark_core::field::Kind::Mass, mass_g));
    html! { span.figures { span { (mass.as_deref().unwrap_or("mass not known")) } } }
}

/// Price, mass and stock of a part; what is not known is said.
pub(crate) fn figures(entry: &Entry) -> Markup {
    let price = entry.number("price").map(|price| format!("{price:.2}"));
    let mass = entry.number("mass_g").map(|mass_g| words::with_unit(witnessmark_core::field::Kind::Mass, mass_g));
    html! {
        span.figures {
            span { (price.as_deref().unwrap_or("price not known")) } " "
            span { (mass.as_deref().unwrap_or("mass not known")) } " "
            span {
                @match &entry.stock {
                    Some(stock) if stock.value == 0 => b.none-here { "none here" },
                    Some(stock) => { (stock.value) " here" },
                    None => "stock not counted",
                }
            }
        }
    }
}

/// The ways to take a part of the catalogue into a build: one for each place of its kind, and the shelf.
pub(crate) fn ways(loaded: &Loaded, entry: &Entry) -> Markup {
    let at = |section: &'static str, place: &str| PartAt { section, kind: entry.kind.key, place: place.to_owned() };
    let places = places(loaded, entry.kind, &entry.id);
    html! {
        span.ways-in {
            @for place in &places {
                @let part = at("parts", place);
                @let fitted = loaded.build.parts.record(entry.kind.key, place).is_some();
                @let way = take::address(loaded, &[Pick { at: part.clone(), from: Source::Catalogue(entry.id.clone()) }]);
                @let says = if fitted { format!("replace the {}", part.words()) } else { format!("fit as {}", part.words()) };
                a href=(way) aria-label={ (entry.name()) ": " (says) } { (says) } " "
            }
            @let shelf = at("shelf", &free_name(&entry.id, |name| loaded.build.shelf.record(entry.kind.key, name).is_some()));
            @let way = take::address(loaded, &[Pick { at: shelf, from: Source::Catalogue(entry.id.clone()) }]);
            a.lesser href=(way) aria-label={ (entry.name()) ": to the shelf of this build" } { "to the shelf" }
        }
    }
}

/// The places a part of this kind may go to: the fixed ones, or a new one named for the part.
fn places(loaded: &Loaded, kind: &PartKind, id: &str) -> Vec<String> {
    match kind.places {
        Places::One => vec![String::new()],
        Places::FrontRear | Places::LeftRight => kind.places.names().iter().map(|name| (*name).to_owned()).collect(),
        Places::Many => vec![free_name(id, |name| loaded.build.parts.record(kind.key, name).is_some())],
    }
}

/// The name, or where it is taken, the name with the next number.
fn free_name(name: &str, is_taken: impl Fn(&str) -> bool) -> String {
    if !is_taken(name) {
        return name.to_owned();
    }
    let short: String = name.chars().take(witnessmark_core::part::LONGEST_NAME - 4).collect();
    let mut numbered = (2..1_000).map(|number| format!("{short}-{number}"));
    numbered.find(|name| !is_taken(name)).unwrap_or(short)
}
