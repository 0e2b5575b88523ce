//! The gears of a build: every gear a stroke on a rule of metres a turn of the pedals, and below it the figures, what not
//! to use and why, and what the race allows.

mod chart;
mod table;
mod tried;

#[cfg(test)]
pub(super) mod tests;

use super::build::address::way_from_elsewhere;
use super::build::{capital, head, loaded};
use super::survey::findings::sentences;
use crate::app::App;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::{Path, Query, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_core::Plan;
use witnessmark_core::compute::{RollingFrom, Transmission};
use witnessmark_core::finding::{About, Finding, figure};
use witnessmark_core::model::{Missing, in_words};
use witnessmark_core::number;
use witnessmark_sheets::text::Tone;
use witnessmark_sheets::transmission::{GEAR_CHECKS, found_by, limits_said, rolled_how};

pub(super) use tried::Tried;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

/// What the address may ask for.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Asked {
    /// Turns of the crank a minute, as typed.
    cadence: String,
}

async fn show(State(app): State<App>, Path(id): Path<String>, Query(asked): Query<Asked>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    Ok(app.compute(move || whole(&loaded, &asked.cadence)).await)
}

fn whole(loaded: &Loaded, typed: &str) -> Markup {
    let tried = Tried::on(loaded, "settings.cadence_per_minute", typed);
    let plan = tried.plan(loaded);
    let transmission = &plan.worked.transmission;
    let main = html! {
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { "Gears" }
        p.links {
            a href={ "/builds/" (loaded.id) "/chain" } { "chain" }
            a href={ "/builds/" (loaded.id) "#transmission" } { "transmission" }
            a href={ "/builds/" (loaded.id) "/gears.json" } { "as JSON" }
        }
        (in_short(transmission))
        (chart::of(&plan.worked))
        (cadence(transmission, &tried))
        (rolled(loaded, transmission))
        (race(loaded, transmission))
        (found(plan, GEAR_CHECKS, loaded))
        (table::section(transmission))
    };
    page(&Page { title: &format!("Gears of {}", loaded.title()), main })
}

/// What a rider asks first: how many, how short, how long, and where the largest hole is.
fn in_short(transmission: &Transmission) -> Markup {
    let gears = match &transmission.gears {
        Ok(gears) => gears,
        Err(missing) => {
            return html! { p.lead { "No gears yet." } (lacking(missing)) };
        }
    };
    let way = |least: bool| {
        let ways = gears.iter().filter_map(|line| line.development_mm);
        let metres = if least { ways.min_by(f64::total_cmp) } else { ways.max_by(f64::total_cmp) };
        metres.map(|mm| figure(mm / 1000.0, 2))
    };
    let step = |line: &&witnessmark_core::compute::GearLine| line.step_percent.unwrap_or_default();
    let hole = gears.iter().max_by(|a, b| step(a).total_cmp(&step(b)));
    let twice = gears.iter().filter(|line| line.nearly.iter().any(|other| gears[*other].ring_place < line.ring_place));
    html! {
        p.lead {
            b { (gears.len()) } " gears"
            @if let (Some(short), Some(long)) = (way(true), way(false)) {
                ", from " b { (short) " m" } " to " b { (long) " m" } " a turn of the pedals"
            }
            ". "
            @let twice = twice.count();
            @if twice > 0 {
                (twice) " of them " @if twice == 1 { "does" } @else { "do" } " nearly what a gear of a larger ring does. "
            }
            @if let Some((line, percent)) = hole.and_then(|line| Some((line, line.step_percent?))) {
                "The largest step is " (figure(percent, 0)) " %, from " (line.gear.sprocket) " to the next smaller sprocket."
            }
        }
    }
}

/// The cadence for the speeds: typed here, kept in the address, not in the build.
fn cadence(transmission: &Transmission, tried: &Tried) -> Markup {
    html! {
        form.try method="get" {
            (tried.field("cadence", "cadence, turns a minute", &figure(transmission.cadence_per_minute, 0)))
            button { "Show the speeds" }
            p.quiet { "Only looked at, not written into the build." }
        }
    }
}

/// How far the wheel rolls, and how that was had.
fn rolled(loaded: &Loaded, transmission: &Transmission) -> Markup {
    let tyre = format!("/builds/{}/part/parts.tyre.rear", loaded.id);
    html! {
        section.area aria-labelledby="rolled-title" {
            h2 #rolled-title { "How far the wheel rolls" }
            @match &transmission.rolling {
                Ok(rear) => {
                    p {
                        "The rear wheel rolls " b { (figure(rear.rolling.circumference_mm, 0)) " mm ± " (figure(rear.rolling.plus_minus_mm, 0)) " mm" }
                        " in a turn, " (rolled_how(rear.from)) "."
                    }
                    @if rear.from != RollingFrom::RolledOut {
                        p.quiet {
                            "Better: " a href=(tyre) { "roll it out" }
                            " with the rider on and the tyre at its pressure, over five turns or more. A loaded tyre rolls a little shorter than it measures."
                        }
                    }
                }
                Err(missing) => { (lacking(missing)) p.quiet { "Ratios and steps need no tyre; metres and speeds do." } }
            }
        }
    }
}

/// What the race's rules ask.
fn race(loaded: &Loaded, transmission: &Transmission) -> Markup {
    let gears = transmission.gears.as_deref().unwrap_or_default();
    html! {
        section.area aria-labelledby="race-title" {
            h2 #race-title { "What the race allows" }
            @for (tone, text) in limits_said(&transmission.limits, gears) {
                p class=[class_of(tone)] { (text) }
            }
            p.links { a href={ "/builds/" (loaded.id) "#job" } { "rules and day of the race" } a href={ "/builds/" (loaded.id) "#rider" } { "year of birth" } }
        }
    }
}

fn class_of(tone: Tone) -> Option<&'static str> {
    match tone {
        Tone::Plain | Tone::InLine => None,
        Tone::Heading => Some("strong"),
        Tone::Stop => Some("says stop"),
        Tone::Caution => Some("says caution"),
        Tone::Quiet => Some("quiet"),
    }
}

/// What the checks of this page found, on the page and not only on the build's.
pub(super) fn found(plan: &Plan, checks: &[&str], loaded: &Loaded) -> Markup {
    let found: Vec<_> = found_by(plan, checks).collect();
    html! {
        @if !found.is_empty() {
            section.area aria-labelledby="found-title" {
                h2 #found-title { "Findings" }
                ol.findings {
                    @for finding in found {
                        li class={ "finding " (finding.severity_word()) } {
                            @if finding.not_known && finding.about.len() > MOST_TOLD {
                                // What is lacking of many things is told at each of them.
                                p.what { (head::shape(finding.severity)) b.severity { (finding.severity_word()) } " " (finding.what) }
                                details {
                                    summary { "what is lacking: " (finding.about.len()) " facts" }
                                    p.why { (finding.why) }
                                    p.do { b { "Do: " } (finding.action) }
                                    (abouts(finding, loaded))
                                }
                                p.source { (finding.source) }
                            } @else {
                                (sentences(finding))
                                (abouts(finding, loaded))
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The ways to what a finding is about.
fn abouts(finding: &Finding, loaded: &Loaded) -> Markup {
    html! {
        @if !finding.about.is_empty() {
            p.about {
                @for about in &finding.about { a href=(way_from_elsewhere(loaded, &about.address())) { (named(about)) } " " }
            }
        }
    }
}

/// What a finding is about, as people call it.
fn named(about: &About) -> String {
    match about {
        About::Number(id, side) => {
            format!("{} {}", number::by_id(id).map_or(*id, |number| number.name), side.word()).trim_end().to_owned()
        }
        About::Part(path) => words::of_key(&path.strip_prefix("parts.").unwrap_or(path).replace('.', " ")),
        About::Field(path) => in_words(path),
    }
}

/// What is missing, or why it cannot be worked out, in words.
pub(super) fn lacking(missing: &Missing) -> Markup {
    html! { p.says.caution { (capital(&missing.to_string())) "." } }
}

/// The facts that are missing, each with a link to its part's page.
pub(super) fn lacking_in(missing: &Missing, loaded: &Loaded) -> Markup {
    if missing.paths.is_empty() {
        return lacking(missing);
    }
    // A bike of which little is known lacks dozens of facts at once; the first of them are a beginning.
    let told = if missing.paths.len() > MOST_TOLD + 1 { MOST_TOLD } else { missing.paths.len() };
    let (first, rest) = missing.paths.split_at(told);
    let list = |paths: &[String]| html! { ul.lacking { @for path in paths { li { a href=(place_of(path, loaded)) { (in_words(path)) } } } } };
    html! {
        p { "Not known yet:" }
        (list(first))
        @if !rest.is_empty() { details { summary { "and " (rest.len()) " facts more" } (list(rest)) } }
    }
}

/// So many missing facts are told at once; the others unfold.
const MOST_TOLD: usize = 6;

/// Where a fact is filled in: on its part's page, or in its section of the build's.
pub(super) fn place_of(path: &str, loaded: &Loaded) -> String {
    match path.strip_prefix("parts.").and_then(|rest| rest.rsplit_once('.')) {
        Some((part, _)) => format!("/builds/{}/part/parts.{part}#field.{path}", loaded.id),
        None => way_from_elsewhere(loaded, path),
    }
}
