//! The mass of a build as it is weighed: by area with its doubt, where it lies, and the scale against the list with the parts
//! that could explain a difference.

mod parts;

#[cfg(test)]
mod tests;

use super::build::capital;
use super::chain::picture::{Paper, picture, tenth};
use super::gears::{found, lacking_in};
use super::whole::{Whole, fields};
use crate::app::App;
use crate::loaded::Loaded;
use crate::words;
use axum::routing::MethodRouter;
use maud::{Markup, html};
use witnessmark_core::compute::{Balance, Mass, ScaleAgainstList, UNLISTED_LEAST_G, UNLISTED_MOST_G};
use witnessmark_core::draw::{self, Drawing, Role};
use witnessmark_core::field::{Choice, Kind};
use witnessmark_core::finding::figure;
use witnessmark_sheets::finish::MASS_CHECKS;

pub(super) static WHOLE: Whole = Whole { word: "mass", title: "Mass", body };

/// What was on the bike when it was weighed.
const WEIGHING: [&str; 6] = [
    "weighing.with_pedals",
    "weighing.with_cages",
    "weighing.with_mount",
    "weighing.with_computer",
    "weighing.with_bottles",
    "weighing.bottles",
];

pub(super) fn methods() -> MethodRouter<App> {
    WHOLE.methods()
}

fn body(loaded: &Loaded) -> Markup {
    let mass = &loaded.plan.worked.mass;
    html! {
        p.links {
            a href={ "/builds/" (loaded.id) "/stand#step-weigh" } { "weigh it at the stand" }
            a href={ "/builds/" (loaded.id) "#finish" } { "finish" }
            a href={ "/builds/" (loaded.id) "/mass.json" } { "as JSON" }
        }
        (in_short(loaded, mass))
        (by_area(loaded, mass))
        (on_the_scale(loaded, mass))
        (where_it_lies(loaded, mass))
        (found(&loaded.plan, MASS_CHECKS, loaded))
        section.area aria-labelledby="weighed-title" {
            h2 #weighed-title { "What was on when it was weighed" }
            p.quiet { "What is said not to have been on is left out of the sum. Where nobody said, the part is counted." }
            (fields(loaded, &WEIGHING))
        }
        (parts::section(loaded, mass))
    }
}

fn grams(value: f64) -> String {
    words::with_unit(Kind::Mass, value)
}

fn in_short(loaded: &Loaded, mass: &Mass) -> Markup {
    html! {
        @match &mass.sum {
            Ok(sum) => {
                p.lead { b { (grams(sum.mass_g)) " ± " (figure(sum.plus_minus_g, 0)) " g" } " by the list, " (stated(mass)) }
                p.quiet { "If every claim errs the same way: ± " (grams(sum.together_g)) ". Paste, grease, fluid and short bolts are on no list: " (figure(UNLISTED_LEAST_G, 0)) " to " (grams(UNLISTED_MOST_G)) " more." }
            }
            Err(missing) => { p.lead { "The sum is not known yet." } (lacking_in(missing, loaded)) }
        }
    }
}

/// With what and without what it is weighed.
fn stated(mass: &Mass) -> String {
    let said = |wanted: Option<bool>| -> Vec<&'static str> {
        mass.inclusions.iter().filter(|(_, with)| *with == wanted).map(|(what, _)| what.name()).collect()
    };
    let phrases = [("with", Some(true)), ("without", Some(false)), ("and nobody said whether with", None)];
    let said: Vec<String> = phrases
        .into_iter()
        .map(|(word, wanted)| (word, said(wanted)))
        .filter(|(_, these)| !these.is_empty())
        .map(|(word, these)| format!("{word} {}", these.join(", ")))
        .collect();
    format!("{}.", said.join("; "))
}

/// Every area as a bar of one scale with its doubt.
fn by_area(loaded: &Loaded, mass: &Mass) -> Markup {
    let bars = draw::mass_bars(&loaded.plan.worked);
    html! {
        @if !bars.is_empty() {
            section.area aria-labelledby="areas-title" {
                h2 #areas-title { "By area" }
                table.drive-rows.mass-rows {
                    thead { tr { th scope="col" { "area" } th scope="col" { "mass" } th scope="col" { "give or take" } th scope="col" { "on one scale" } th scope="col" { "note" } } }
                    tbody {
                        @for bar in &bars {
                            tr {
                                th scope="row" { (capital(bar.area.area.name())) }
                                td data-label="mass" { b { (grams(bar.area.mass_g)) } }
                                td data-label="give or take" { "± " (figure(bar.area.plus_minus_g, 0)) " g" }
                                td.bar { (bar_with_whisker(bar)) }
                                td.words { @if bar.area.unknown > 0 { span.says.caution { "and " (words::count(bar.area.unknown, "part")) " without a mass" } } }
                            }
                        }
                    }
                    @if mass.bottles_g.is_some() || mass.sum.is_ok() {
                        tbody {
                            @if let Some(bottles) = mass.bottles_g { tr { th scope="row" { "Bottles" } td data-label="mass" { b { (grams(bottles)) } } td {} td {} td {} } }
                            @if let Ok(sum) = &mass.sum {
                                tr.together { th scope="row" { "Together" } td data-label="mass" { b { (grams(sum.mass_g)) } } td data-label="give or take" { "± " (figure(sum.plus_minus_g, 0)) " g" } td {} td {} }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn bar_with_whisker(bar: &draw::MassBar) -> Markup {
    let at = |share: f64| tenth(4.0 + share * 312.0);
    html! {
        svg.mass-bar viewBox="0 0 320 24" aria-hidden="true" {
            path.bar d={ "M4 12H" (at(bar.share)) } {}
            path.whisker d={ "M" (at(bar.low)) " 12H" (at(bar.high)) "M" (at(bar.low)) " 5v14M" (at(bar.high)) " 5v14" } {}
        }
    }
}

/// The scale against the list.
fn on_the_scale(loaded: &Loaded, mass: &Mass) -> Markup {
    html! {
        section.area aria-labelledby="scale-title" {
            h2 #scale-title { "On the scale" }
            @match &mass.scale {
                None => p { "Not weighed yet. " a href={ "/builds/" (loaded.id) "/stand#step-weigh" } { "Weigh it at the stand" } ": three times, the middle reading counts." },
                Some(Err(missing)) => { p { "It was weighed, and the list is not known to hold it against." } (lacking_in(missing, loaded)) }
                Some(Ok(scale)) => { (held_against(mass, scale)) }
            }
        }
    }
}

fn held_against(mass: &Mass, scale: &ScaleAgainstList) -> Markup {
    let more = if scale.difference_g < 0.0 { "less" } else { "more" };
    html! {
        p { "It reads " b { (grams(scale.read_g)) " ± " (figure(scale.plus_minus_g, 0)) " g" } ", " b { (grams(scale.difference_g.abs())) " " (more) } " than the list. Between " (figure(scale.agrees_from_g, 0)) " and " (grams(scale.agrees_to_g)) " more agrees." }
        @if scale.agrees() {
            p.strong { "Scale and list agree." }
        } @else {
            p.says.stop { "Scale and list do not agree." }
            @if scale.explanations.is_empty() {
                p { "No one, two or three parts of the list explain it: look for a mass that was typed wrong, or for a part that is on no list." }
            } @else {
                p {
                    @if scale.difference_g < scale.agrees_from_g { "Lighter than the list: these were perhaps not on it." }
                    @else { "Heavier than the list: these were perhaps on it, and are said not to have been." }
                }
                ul.explanations {
                    @for one in &scale.explanations {
                        li { b { (grams(one.mass_g)) } " " (one.items.iter().map(|at| mass.items[*at].name.as_str()).collect::<Vec<_>>().join(" + ")) }
                    }
                }
                @if scale.more > 0 { p.quiet { "And " (words::count(scale.more, "set")) " of parts more." } }
            }
        }
    }
}

/// Where it lies, on the bike and in figures.
fn where_it_lies(loaded: &Loaded, mass: &Mass) -> Markup {
    html! {
        section.area aria-labelledby="lies-title" {
            h2 #lies-title { "Where it lies" }
            @match &mass.balance {
                Err(missing) => { p { "Not known yet." } (lacking_in(missing, loaded)) }
                Ok(balance) => { (lies(loaded, balance)) }
            }
        }
    }
}

fn lies(loaded: &Loaded, balance: &Balance) -> Markup {
    let drawing = draw::balance(&loaded.plan.worked);
    let marks =
        loaded.plan.drawing.marks.iter().filter(|mark| matches!(mark.role, Role::Frame | Role::Wheel | Role::Ground));
    let bike = Drawing { marks: marks.cloned().collect(), callouts: Vec::new() };
    let wheels = balance.wheels;
    let says = format!(
        "The bike to scale with its centre of mass, {} mm ahead of the bottom bracket and {} mm above it; {} g stand on the front \
         wheel and {} g on the rear.",
        figure(balance.centre.x_mm, 0),
        figure(balance.centre.y_mm, 0),
        figure(wheels.front_g, 0),
        figure(wheels.rear_g, 0)
    );
    let loads = html! {
        g.loads {
            @for callout in &drawing.callouts {
                @let text = match callout.about.as_str() {
                    "wheel-load.front" => grams(wheels.front_g),
                    "wheel-load.rear" => grams(wheels.rear_g),
                    _ => String::new(),
                };
                text x=(tenth(callout.at.x_mm + 14.0)) y=(tenth(-callout.at.y_mm - 24.0)) { (text) }
            }
        }
    };
    html! {
        @if !drawing.marks.is_empty() {
            figure.to-scale.mass-drawing {
                (picture(&[&bike, &drawing], &Paper { room_for: &[&bike, &drawing], margin_mm: 30.0, says: &says }, &loads))
                figcaption { span { "cross: centre of mass, no rider" } span { "to scale, drive side" } }
            }
        }
        dl.facts {
            dt { "on the front wheel" } dd { b { (grams(wheels.front_g)) " ± " (figure(2.0 * wheels.front_u_g, 0)) " g" } ", " (figure(100.0 * balance.front_share(), 1)) " %" }
            dt { "on the rear wheel" } dd { b { (grams(wheels.rear_g)) } }
            dt { "centre of mass" } dd { b { (figure(balance.centre.x_mm, 0)) " mm" } " ahead of the bottom bracket, " b { (figure(balance.centre.y_mm, 0)) " mm" } " above it" }
            dt { "how well it is known" } dd { (figure(100.0 * balance.at_points, 0)) " % of the mass lies at points of the bike; where the rest lies is estimated" @if balance.unplaced_g > 0.0 { ", and " (grams(balance.unplaced_g)) " have no place" } }
        }
    }
}
