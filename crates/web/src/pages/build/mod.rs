//! A build on one page: how it stands, the drawing, the findings, and the walk round the bike with every field in place.

pub(crate) mod address;
pub(crate) mod drawing;
pub(crate) mod field;
pub(crate) mod findings;
pub(crate) mod fragment;
pub(crate) mod head;
pub(crate) mod numbers;
pub(crate) mod parts;
mod settings;
pub(crate) mod walk;

#[cfg(test)]
mod tests;

use crate::app::App;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Path, State};
use axum::routing::{MethodRouter, get};
use field::Note;
use fragment::AREAS;
use maud::{Markup, html};
use std::sync::Arc;
use witnessmark_core::Build;
use witnessmark_core::build::{Fit, Job, Rider, SECTIONS, Search};
use witnessmark_core::field::Field;
use witnessmark_core::number::Area;
use witnessmark_store::BuildId;

pub(super) use witnessmark_core::finding::capital;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

async fn show(State(app): State<App>, Path(id): Path<String>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    Ok(app.compute(move || page(&Page { title: loaded.title(), main: main(&loaded) })).await)
}

/// The build of this name, or the page that says there is none.
pub(super) async fn loaded(app: &App, id: &str) -> Result<Arc<Loaded>, Refusal> {
    let id: BuildId = id.parse()?;
    app.load(&id).await?.ok_or_else(|| Refusal::NoSuchBuild(id.to_string()))
}

fn main(loaded: &Loaded) -> Markup {
    html! {
        (fragment::revision(loaded))
        (head::head(loaded))
        (told_nothing())
        (unread(loaded))
        div.top { (drawing::figure(&loaded.plan)) (findings::list(loaded)) }
        (find_a_part(loaded))
        (walk::nav(loaded))
        @for area in AREAS { (area_section(loaded, area)) }
        (plain_section(loaded, "job", "The job", Job::FIELDS))
        (plain_section(loaded, "rider", "The rider", Rider::FIELDS))
        (plain_section(loaded, "fit", "The fit", Fit::FIELDS))
        (shelf(loaded))
        (plain_section(loaded, "search", "The search", Search::FIELDS))
        p.links {
            a href={ "/builds/" (loaded.id) "/photos" } { "photos and documents" }
            a href={ "/builds/" (loaded.id) "/plan.json" } { "this build as JSON" }
        }
    }
}

/// The way from the shop's catalogue onto this bike.
fn find_a_part(loaded: &Loaded) -> Markup {
    use crate::pages::catalogue::found;
    html! {
        section #shop aria-label="The shop’s catalogue" {
            @if loaded.catalogue.parts().is_empty() {
                p.quiet { "The shop’s catalogue is empty: " a href="/catalogue/import" { "bring parts in" } " and they can be searched from here." }
            } @else {
                (found::form(&format!("/builds/{}/add", loaded.id), "", "Fit a part of the shop’s catalogue"))
                (found::list(&loaded.catalogue, "", |_| html! {}).html)
            }
        }
    }
}

/// Where the page says what was written.
pub(super) fn told_nothing() -> Markup {
    html! { div #told role="status" {} }
}

/// Kept texts that lead nowhere: they have no field beside which it could be said.
fn unread(loaded: &Loaded) -> Markup {
    let lost: Vec<_> = loaded.problems.iter().filter(|problem| Build::field(&problem.path).is_err()).collect();
    html! {
        @if !lost.is_empty() {
            section.unread {
                h2 { "Kept, and not understood" }
                ul { @for problem in lost { li { (problem) "." } } }
            }
        }
    }
}

fn area_section(loaded: &Loaded, area: Area) -> Markup {
    let id = walk::id_of(area);
    let settings = settings::of(area);
    html! {
        section.area id=(id) aria-labelledby={ (id) "-title" } {
            h2 id={ (id) "-title" } { (area_title(area)) }
            (of_its_own(loaded, area))
            (numbers::table(loaded, area))
            @if !settings.is_empty() {
                h3 { "Settings" }
                div.fields {
                    @for field in settings { (one_field(loaded, "settings", field)) }
                }
            }
            h3 { "Parts" }
            (parts::list(loaded, area).html)
        }
    }
}

/// The pages of their own on which an area goes on.
fn of_its_own(loaded: &Loaded, area: Area) -> Markup {
    let pages: &[(&str, &str)] = match area {
        Area::Transmission => {
            &[("gears", "gears on their rules"), ("chain", "chain in every gear"), ("wiring", "shift wires")]
        }
        Area::FrameAndRouting => &[("wiring", "shift wires along the frame")],
        Area::Cockpit => &[("tape", "bar tape, turn by turn")],
        Area::WheelsAndBrakes => &[("tyres", "where a trial of the pressures starts")],
        Area::Finish => &[("fasteners", "every bolt"), ("mass", "mass by area, and the scale")],
        Area::FrontEnd | Area::Saddle => &[],
    };
    html! {
        @if !pages.is_empty() {
            p.links { @for (page, says) in pages { a href={ "/builds/" (loaded.id) "/" (page) } { (says) } } }
        }
    }
}

fn area_title(area: Area) -> String {
    use witnessmark_core::field::Choice;
    capital(area.name())
}

fn plain_section(loaded: &Loaded, key: &str, title: &str, fields: &[Field]) -> Markup {
    let says = SECTIONS.iter().find(|section| section.key == key).map_or("", |section| section.says);
    html! {
        section.area id=(key) aria-labelledby={ (key) "-title" } {
            h2 id={ (key) "-title" } { (title) }
            p.quiet { (says) }
            div.fields {
                @for field in fields { (one_field(loaded, key, field)) }
            }
            p.links { a href={ "/builds/" (loaded.id) "/history?path=" (key) } { "history" } }
        }
    }
}

/// A field of a section by its key; nothing for a path that leads nowhere.
fn one_field(loaded: &Loaded, section: &str, field: &Field) -> Markup {
    field::shown(loaded, &format!("{section}.{}", field.key()), Note::None).unwrap_or_default()
}

fn shelf(loaded: &Loaded) -> Markup {
    html! {
        section.area #shelf aria-labelledby="shelf-title" {
            h2 #shelf-title { "The shelf" }
            p.quiet { "Parts that could be fitted instead." }
            div.parts {
                @for part in parts::on_the_shelf(loaded) { (parts::folded(loaded, &part)) }
                p.add { a href={ "/builds/" (loaded.id) "/add#shelf" } { "Put a part on the shelf" } }
            }
        }
    }
}
