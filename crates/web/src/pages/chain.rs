//! The chain of a build: how many links, why no fewer and no more, where the cage stands in every gear for every possible
//! number, and both extremes drawn to scale.

mod lengths;
pub(super) mod picture;

#[cfg(test)]
mod tests;

use super::build::loaded;
use super::gears::{Tried, found, lacking, lacking_in};
use crate::app::App;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Path, Query, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use picture::{Paper, picture};
use serde::Deserialize;
use witnessmark_core::compute::{
    Capacity, ChainPlan, GearLine, Longest, MARGIN_LINKS, PivotFrom, ThumbRules, Transmission,
};
use witnessmark_core::draw::{self, ChainDrawing};
use witnessmark_core::finding::figure;
use witnessmark_core::{Build, Plan};
use witnessmark_sheets::transmission::CHAIN_CHECKS;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

/// What the address may ask for.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Asked {
    /// Links to look at, as typed.
    links: String,
}

async fn show(State(app): State<App>, Path(id): Path<String>, Query(asked): Query<Asked>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    Ok(app.compute(move || whole(&loaded, &asked.links)).await)
}

fn whole(loaded: &Loaded, typed: &str) -> Markup {
    let tried = Tried::on(loaded, "settings.chain_links", typed);
    let plan = tried.plan(loaded);
    let transmission = &plan.worked.transmission;
    let main = html! {
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { "Chain" }
        p.links {
            a href={ "/builds/" (loaded.id) "/gears" } { "gears" }
            a href={ "/builds/" (loaded.id) "#transmission" } { "transmission" }
            a href={ "/builds/" (loaded.id) "/chain.json" } { "as JSON" }
        }
        (links(&loaded.build, transmission, &tried))
        (other_length(transmission, &tried))
        (found(plan, CHAIN_CHECKS, loaded))
        (why(loaded, transmission))
        (extremes(plan))
        (lengths::section(transmission))
    };
    page(&Page { title: &format!("Chain of {}", loaded.title()), main })
}

/// The number of links, and how the chain is cut to it.
fn links(build: &Build, transmission: &Transmission, tried: &Tried) -> Markup {
    let links = match &transmission.links {
        Ok(links) => *links,
        Err(missing) => {
            return html! { p.lead { "How many links is not known yet." } (lacking(missing)) };
        }
    };
    let whence = match &transmission.chain {
        _ if tried.is_tried() => "as looked at here; the build is unchanged",
        _ if build.settings.chain_links.is_some() => "as set for this build",
        Ok(_) => "recommended: the shortest that is safe in the largest pair",
        Err(_) => "by the rules of thumb, as the cage is not known: give or take a pair",
    };
    html! {
        p.lead.links-to-cut { b { (links) " links" } " " (whence) "." }
        @if links % 2 == 1 {
            p.says.stop {
                "A chain closes with as many inner pairs of plates as outer ones: an odd number cannot be closed."
            }
        } @else {
            p {
                "The joining link is counted. Closed with a joining link: cut the chain to " b { (links.saturating_sub(1)) }
                ", an inner pair of plates at both ends. Closed with a pin: cut it to " b { (links) }
                ", an inner pair at one end and an outer one at the other."
            }
        }
    }
}

/// Another number to look at: typed here, kept in the address.
fn other_length(transmission: &Transmission, tried: &Tried) -> Markup {
    let now = transmission.links.as_ref().map(ToString::to_string).unwrap_or_default();
    html! {
        form.try method="get" {
            (tried.field("links", "look at another number of links", &now))
            button { "Look at it" }
            p.quiet { "Only looked at, not written into the build." }
        }
    }
}

/// Why no fewer and no more.
fn why(loaded: &Loaded, transmission: &Transmission) -> Markup {
    html! {
        section.area aria-labelledby="why-title" {
            h2 #why-title { "Why this many" }
            dl.facts {
                @match &transmission.chain {
                    Ok(chain) => { (ends(chain, transmission)) }
                    Err(_) => {}
                }
                @if let Ok(rules) = &transmission.rules {
                    dt { "by rules of thumb" }
                    dd {
                        b { (rules.wrapped) } " wrapped round the largest ring and sprocket and a pair of plates more; "
                        b { (rules.inches) } " by the sum in inches. Give or take " (ThumbRules::PLUS_MINUS_LINKS)
                        ": these rules do not look at the cage."
                    }
                }
                @if let Ok(capacity) = &transmission.capacity { (capacity_row(capacity)) }
            }
            @if let Err(missing) = &transmission.chain {
                p { b { "Where the cage stands is not worked out." } " Until then the rules of thumb are all there is." }
                (lacking_in(missing, loaded))
            }
        }
    }
}

fn ends(chain: &ChainPlan, transmission: &Transmission) -> Markup {
    let gears = transmission.gears.as_deref().unwrap_or_default();
    let least = chain.swings.get(chain.largest).and_then(|swing| swing.as_ref().ok()).map(|swing| swing.least_links);
    html! {
        dt { "no fewer than" }
        dd {
            @if let Some(shortest) = chain.shortest { b { (shortest) } } @else { b { "none fits" } }
            @if let Some(least) = least {
                " In " (pair(gears, chain.largest)) " the cage is at its stop ahead with " (figure(least, 1)) " ± "
                (figure(chain.plus_minus_links, 1)) " links; " (figure(MARGIN_LINKS, 0)) " link is left before it, and the next even number taken."
            } @else { " In " (pair(gears, chain.largest)) " there is no way for a chain." }
        }
        dt { "no more than" }
        dd {
            @if let Some(longest) = chain.longest {
                b { (longest.links) } " In " (pair(gears, longest.gear)) ", the gear that decides it, "
                @match longest.by {
                    Longest::Slack => { "the cage comes to its rear stop beyond that." }
                    Longest::RubsItself => { "the lower run touches the chain on the upper wheel beyond that." }
                }
            } @else { b { "none" } " No gear that is used has a way for the chain." }
        }
        dt { "recommended" }
        dd {
            @if let Some(links) = chain.recommended { b { (links) } " Even, because inner and outer plates alternate; the shortest between the two, because a chain can be shortened once only." }
            @else {
                b { "none" } " No even number is long enough for the largest pair and tight in the smallest. "
                @if let Some(teeth) = chain.inner_from { "With the shortest, the inner ring is usable from the sprocket of " (teeth) " teeth on: set that as the smallest one used with it." }
            }
        }
        @if let Some(own) = chain.own {
            dt { "the larger cage adds" }
            dd {
                b { (figure(own.added_links, 1)) " links" } " in the largest pair. Its maker’s own cage would ask for no fewer than "
                (own.shortest)
                @if let Some(teeth) = own.take_up_teeth { " and takes up " (figure(teeth, 1)) " teeth" } "."
            }
        }
        @if chain.pivot_from == PivotFrom::Middle {
            dt { "the pivot" }
            dd { "was read on one sprocket only. Read it on the smallest and on the largest for a better answer." }
        }
    }
}

/// Teeth to be taken up, by the maker's rule and by the cage's geometry.
fn capacity_row(capacity: &Capacity) -> Markup {
    let enough = |teeth: f64| if teeth >= f64::from(capacity.needed_teeth) { "enough" } else { "too few" };
    html! {
        dt { "teeth to take up" }
        dd {
            b { (capacity.needed_teeth) } " (difference of the rings and of the sprockets). The derailleur’s maker states "
            @match capacity.stated_teeth {
                Some(teeth) => { b { (teeth) } ": " (enough(f64::from(teeth))) }
                None => { "nothing that is known" }
            }
            "; by the cage’s geometry between its stops "
            @match capacity.geometry_teeth {
                Some(teeth) => { b { (figure(teeth, 1)) } ": " (enough(teeth)) "." }
                None => { "not known." }
            }
        }
    }
}

/// A gear in words: `52 × 11`.
fn pair(gears: &[GearLine], at: usize) -> String {
    gears.get(at).map_or_else(String::new, |line| format!("{} × {}", line.gear.ring, line.gear.sprocket))
}

/// Both extremes, drawn to one scale.
fn extremes(plan: &Plan) -> Markup {
    let drawn = draw::chain(&plan.worked);
    let both: Vec<_> = drawn.iter().map(|one| &one.drawing).collect();
    let gears = plan.worked.transmission.gears.as_deref().unwrap_or_default();
    html! {
        @if !drawn.is_empty() {
            section.area aria-labelledby="extremes-title" {
                h2 #extremes-title { "At both extremes" }
                div.extremes { @for one in &drawn { (extreme(one, &both, gears)) } }
            }
        }
    }
}

fn extreme(drawn: &ChainDrawing, both: &[&draw::Drawing], gears: &[GearLine]) -> Markup {
    let name = pair(gears, drawn.gear);
    let stands = if drawn.at_an_end {
        format!("{} links do not lie tight in {name}; the cage is drawn at its stop", drawn.links)
    } else {
        format!("{} links in {name}: the cage at {}°", drawn.links, figure(drawn.cage_deg, 0))
    };
    let says = format!("The chain to scale, drive side. {stands}. Broken lines show the cage at its two stops.");
    html! {
        figure.to-scale.chain-drawing {
            (picture(&[&drawn.drawing], &Paper { room_for: both, margin_mm: 30.0, says: &says }, &html! {}))
            figcaption { span { b { (stands) } } span { "broken lines: the cage at its two stops" } span { "both to one scale; the rule is in mm from the bottom bracket" } }
        }
    }
}
