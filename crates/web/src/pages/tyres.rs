//! Tyre pressures of a build: the limits first, then where a trial starts and how that is known, what is set, and when the
//! air is to be topped up.

#[cfg(test)]
mod tests;

use super::build::capital;
use super::chain::picture::tenth;
use super::gears::{found, lacking_in, place_of};
use super::whole::{Whole, fields};
use crate::app::App;
use crate::loaded::Loaded;
use axum::routing::MethodRouter;
use maud::{Markup, html};
use witnessmark_core::compute::{PressureStart, StartFrom, TyreAtWheel, Tyres};
use witnessmark_core::draw::PressureScale;
use witnessmark_core::field::Choice;
use witnessmark_core::finding::figure;
use witnessmark_core::model::{Missing, in_words};
use witnessmark_core::number::Side;
use witnessmark_sheets::finish::TYRE_CHECKS;

pub(super) static WHOLE: Whole = Whole { word: "tyres", title: "Tyre pressures", body };

const SETTINGS: [&str; 3] = ["settings.pressure_front", "settings.pressure_rear", "rider.mass"];

/// What the rider liked on another bike or other tyres.
const LIKED: [&str; 9] = [
    "liked.pressure_front",
    "liked.pressure_rear",
    "liked.width_front",
    "liked.width_rear",
    "liked.rider_mass",
    "liked.bike_mass",
    "liked.front_share",
    "liked.seal",
    "liked.road",
];

pub(super) fn methods() -> MethodRouter<App> {
    WHOLE.methods()
}

fn body(loaded: &Loaded) -> Markup {
    let tyres = &loaded.plan.worked.tyres;
    let scale = PressureScale::of(tyres);
    html! {
        p.links {
            a href={ "/builds/" (loaded.id) "/stand#step-measure-tyre-front" } { "measured at the stand" }
            a href={ "/builds/" (loaded.id) "#wheels-and-brakes" } { "wheels and brakes" }
            a href={ "/builds/" (loaded.id) "/tyres.json" } { "as JSON" }
        }
        (in_short(tyres))
        p.caution {
            b { "The lowest limit of tyre and rim is never passed, whatever is liked. " }
            "No formula gives the best pressure: what stands here is where a trial begins. Read it with one gauge, tyre cold; the "
            "makers’ own words on tyre and rim go before it."
        }
        div.two-tyres {
            @for tyre in [&tyres.front, &tyres.rear] { (one(loaded, tyre, scale.as_ref())) }
        }
        (found(&loaded.plan, TYRE_CHECKS, loaded))
        section.area aria-labelledby="set-title" {
            h2 #set-title { "What is set, and who sits on it" }
            (fields(loaded, &SETTINGS))
        }
        section.area aria-labelledby="liked-title" {
            h2 #liked-title { "What the rider likes" }
            p.quiet {
                "A pressure that the rider likes on another bike or on other tyres is carried over by load and width: the tyre then sinks by "
                "the same share of its width. It takes that pressure, the width of that tyre as measured, and what the rider weighed then."
            }
            (fields(loaded, &LIKED))
        }
    }
}

fn bar(kpa: f64) -> String {
    figure(kpa / 100.0, 1)
}

/// Both starts, in a sentence.
fn in_short(tyres: &Tyres) -> Markup {
    html! {
        @match (&tyres.front.start, &tyres.rear.start) {
            (Ok(front), Ok(rear)) => p.lead {
                "Begin with " b { (bar(front.kpa)) " bar in front" } " and " b { (bar(rear.kpa)) " bar at the rear" } "."
                @if let Ok(share) = tyres.front_share { " " (figure(100.0 * share, 0)) " % of rider and bike stand on the front wheel." }
            },
            (Ok(one), Err(_)) => p.lead { "Begin with " b { (bar(one.kpa)) " bar in front" } "; at the rear no pressure is named." },
            (Err(_), Ok(one)) => p.lead { "Begin with " b { (bar(one.kpa)) " bar at the rear" } "; in front no pressure is named." },
            (Err(_), Err(_)) => p.lead { "No pressure is named yet." },
        }
    }
}

fn one(loaded: &Loaded, tyre: &TyreAtWheel, scale: Option<&PressureScale>) -> Markup {
    let word = if tyre.side == Side::Front { "front" } else { "rear" };
    let id = format!("tyre-{word}");
    html! {
        section.tyre aria-labelledby=(id) {
            h2 id=(id) { (capital(word)) }
            @match &tyre.start {
                Ok(start) => { (start_said(start)) }
                Err(missing) => {
                    p.start { span.says.stop { "no pressure is named" } }
                    (lacking_in(missing, loaded))
                }
            }
            @if let Some(scale) = scale { (on_the_scale(tyre, scale, word)) }
            dl.facts {
                dt { "never above" } dd { (limits(loaded, tyre)) }
                @if let Ok(least) = tyre.least_kpa { dt { "not below" } dd { (bar(least)) " bar, printed on the tyre" } }
                dt { "on the wheel" }
                dd {
                    @match &tyre.load {
                        Ok(load) => { b { (figure(load.mass_g / 1000.0, 1)) " kg" } " (" (figure(load.low_g / 1000.0, 1)) " to " (figure(load.high_g / 1000.0, 1)) "), " (load.from.name()) }
                        Err(missing) => { (lacks(loaded, missing)) }
                    }
                }
                dt { "width on this rim" }
                dd {
                    @match &tyre.width_mm {
                        Ok(width) => { b { (figure(*width, 1)) " mm" } @if tyre.width_carried { small { " worked out from another rim: measure it" } } }
                        Err(missing) => { (lacks(loaded, missing)) }
                    }
                }
                dt { "set" }
                dd {
                    @match tyre.set_kpa { Some(set) => { b { (bar(set)) " bar" } small { " " (figure(set, 0)) " kPa" } } None => { "nothing yet" } }
                    @if let (Ok(drop), Ok(width)) = (&tyre.drop_mm, &tyre.width_mm) {
                        "; it sinks " (figure(*drop, 1)) " mm, " (figure(100.0 * drop / width, 0)) " % of its width"
                    }
                    @if let Ok(contact) = tyre.contact_mm2 { "; " (figure(contact / 100.0, 1)) " cm² on the road at most" }
                }
                dt { "pump up" }
                dd {
                    @match &tyre.top_up {
                        Ok(top_up) => {
                            b { @if top_up.days == 1 { "on the morning of every ride" } @else { "every " (top_up.days) " days" } }
                            small { @if top_up.by_reading { " by what it lost in the first night" } @else { " by custom of what keeps the air in" } }
                            @if let Some(day) = top_up.sealant_on { "; sealant again by " b { (day) } }
                        }
                        Err(missing) => { (lacks(loaded, missing)) }
                    }
                }
            }
        }
    }
}

fn start_said(start: &PressureStart) -> Markup {
    html! {
        p.start {
            b { (bar(start.kpa)) } " bar "
            small { (figure(start.kpa, 0)) " kPa; " (bar(start.low_kpa)) " to " (bar(start.high_kpa)) " bar" }
        }
        p { (capital(start.from.name())) ", "
            @match start.from {
                StartFrom::Liked => { "by load and width to the power 1.5, of the membrane and of the old chart alike: the part to be trusted, to 5 %." }
                StartFrom::Chart => { "a fit that others made of an old chart of tyres of another generation: good to 10 %, beside the doubt of the load." }
            }
        }
        @if let Some(limit) = &start.held_by { p.says.stop { "The load asks for more. The " (limit.whose) " holds it at " (bar(limit.kpa)) " bar: a wider tyre is the way." } }
        @if start.raised_to_least { p.says.caution { "The load asks for less. The lowest pressure printed on the tyre holds it up." } }
        @if start.share_assumed { p.quiet { "How the other bike stood on its wheels was not told; it is taken to be as this one does." } }
    }
}

/// Every limit with its owner, the lowest first; a limit that is not known is told as loudly.
fn limits(loaded: &Loaded, tyre: &TyreAtWheel) -> Markup {
    let lowest_of_all = tyre.limits_missing == Missing::default();
    html! {
        ul.plain {
            @for (place, limit) in tyre.limits.iter().enumerate() {
                li {
                    @if place == 0 && lowest_of_all { b { (bar(limit.kpa)) " bar" } } @else { (bar(limit.kpa)) " bar" }
                    ", the " (limit.whose) small { " " a href=(place_of(&limit.path, loaded)) { (in_words(&limit.path)) } }
                }
            }
            @for path in &tyre.limits_missing.paths {
                li { span.says.stop { "not known: " } a href=(place_of(path, loaded)) { (in_words(path)) } }
            }
        }
    }
}

/// What is missing for a figure: the first facts of it, and how many more.
fn lacks(loaded: &Loaded, missing: &Missing) -> Markup {
    const TOLD: usize = 3;
    html! {
        @if missing.paths.is_empty() { (missing) } @else {
            "not known, for want of "
            @for (place, path) in missing.paths.iter().take(TOLD).enumerate() {
                @if place > 0 { ", " }
                a href=(place_of(path, loaded)) { (in_words(path)) }
            }
            @if missing.paths.len() > TOLD { " and " (missing.paths.len() - TOLD) " more" }
        }
    }
}

/// Start, setting and limit on the one scale of both tyres.
fn on_the_scale(tyre: &TyreAtWheel, scale: &PressureScale, word: &str) -> Markup {
    let marks = scale.on(tyre);
    let x = |share: f64| tenth(16.0 + share * 608.0);
    let says = format!(
        "A scale of pressure, {word}: {}{}{}.",
        tyre.start.as_ref().map_or_else(|_| "no start".to_owned(), |start| format!("start {} bar", bar(start.kpa))),
        tyre.set_kpa.map_or_else(String::new, |set| format!(", set {} bar", bar(set))),
        tyre.limits.first().map_or_else(String::new, |limit| format!(", limit {} bar", bar(limit.kpa)))
    );
    html! {
        svg.pressure viewBox="0 -16 640 150" role="img" aria-label=(says) {
            @if let Some(most) = marks.most { rect.beyond x=(x(most)) y="22" width=(tenth(624.0 - x(most))) height="42" {} }
            path.scale d="M16 64H624" {}
            @for mark in &scale.marks {
                path.tick d={ "M" (x(mark.share)) " 64v-8" } {}
                text.figure x=(x(mark.share)) y="126" text-anchor="middle" { (figure(mark.value / 100.0, 0)) }
            }
            @if let Some((low, high)) = marks.between { path.between d={ "M" (x(low)) " 50H" (x(high)) } {} }
            @if let Some(start) = marks.start { path.start d={ "M" (x(start)) " 36V64" } {} text x=(x(start)) y="28" text-anchor="middle" { "start" } }
            @if let Some(set) = marks.set { path.set d={ "M" (x(set)) " 64l-9 16h18z" } {} text x=(x(set)) y="102" text-anchor="middle" { "set" } }
            @if let Some(most) = marks.most { path.limit d={ "M" (x(most)) " 14V68" } {} text.limit-says x=(x(most)) y="12" text-anchor="middle" { "limit" } }
        }
    }
}
