//! The sheets of a build: what can be printed, taken into a spreadsheet, or shown.

use super::build::{fragment, loaded, told_nothing};
use crate::app::{App, Mechanic};
use crate::loaded::Loaded;
use crate::pages::build::field::{self, Note};
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_core::build::{Quote, Work};
use witnessmark_core::field::Field;
use witnessmark_core::part;
use witnessmark_sheets::paper::Kind;
use witnessmark_store::Change;

#[cfg(test)]
mod tests;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(add)
}

async fn show(State(app): State<App>, Path(id): Path<String>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    Ok(app.compute(move || whole(&loaded, None)).await)
}

/// A line of work that is asked for.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Typed {
    /// The name of the line: chosen when the page was made, so that a second tap asks for the same.
    name: String,
    what: String,
    key: String,
    who: String,
}

async fn add(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    Form(typed): Form<Typed>,
) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let what = typed.what.trim();
    let path = format!("work.{}.what", typed.name);
    let refused = if what.is_empty() {
        Some("Say in a few words what is done.".to_owned())
    } else if !part::is_name(&typed.name) {
        Some("The page was too old to add a line. It is there once more: add it again.".to_owned())
    } else {
        witnessmark_intake::leaf(&path, what)
            .err()
            .map(|problem| super::build::capital(&format!("{}.", problem.sentence())))
    };
    if let Some(says) = refused {
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, whole(&loaded, Some((&says, &typed.what)))).into_response());
    }
    let change = Change { path, before: None, after: Some(what.to_owned()) };
    mechanic.edit(&loaded.id, &[change], &super::edit::by(&typed.who, &typed.key)).await?;
    Ok(Redirect::to(&format!("/builds/{}/sheets#quote", loaded.id)).into_response())
}

fn whole(loaded: &Loaded, refused: Option<(&str, &str)>) -> Markup {
    let at = format!("/builds/{}/sheets", loaded.id);
    let main = html! {
        (fragment::revision(loaded))
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { "Sheets" }
        (told_nothing())
        section.area aria-labelledby="printed" {
            h2 #printed { "To print" }
            // The roles are said, since a narrow screen lays the table out as no table.
            table.sheets role="table" {
                thead role="rowgroup" {
                    tr role="row" {
                        @for head in ["sheet", "what it is for", "A4", "Letter"] {
                            th scope="col" role="columnheader" { (head) }
                        }
                    }
                }
                tbody role="rowgroup" {
                    @for kind in Kind::ALL {
                        tr role="row" {
                            th scope="row" role="rowheader" { (kind.title()) }
                            td role="cell" { (kind.says()) }
                            @for (paper, name) in [("a4", "A4"), ("letter", "Letter")] {
                                td role="cell" {
                                    a href={ (at) "/" (kind.word()) "-" (paper) ".pdf" }
                                        aria-label={ "PDF, " (name) ": " (kind.title()) } { "PDF, " (name) }
                                }
                            }
                        }
                    }
                }
            }
        }
        section.area aria-labelledby="small" {
            h2 #small { "One label, and photos" }
            p.links {
                @for (file, name) in [("62x29", "62 × 29 mm"), ("89x36", "89 × 36 mm")] {
                    a href={ (at) "/label-" (file) ".pdf" } { "label for a roll, " (name) }
                }
                a href={ "/builds/" (loaded.id) "/photos" } { "which photos stand on the sheets" }
            }
            p.quiet { "Another size of label: its width and height in mm in the address, as label-54x25.pdf." }
        }
        section.area aria-labelledby="tables" {
            h2 #tables { "For other programs" }
            p.quiet { "Numbers, parts, bolts and findings, with the same columns in both forms." }
            p.links {
                a href={ (at) "/tables.xlsx" } { "one workbook, XLSX" }
                @for name in ["numbers", "parts", "bolts", "findings"] {
                    a href={ (at) "/" (name) ".csv" } { (name) ", CSV" }
                }
            }
        }
        section.area aria-labelledby="shown" {
            h2 #shown { "To show" }
            p.links { a href={ "/builds/" (loaded.id) "/show" } { "the page of the finished bike, and what the rider agreed to show" } }
        }
        (quote(loaded, refused))
    };
    page(&Page { title: &format!("Sheets of {}", loaded.title()), main })
}

/// What the quote says beside the prices of the parts.
fn quote(loaded: &Loaded, refused: Option<(&str, &str)>) -> Markup {
    html! {
        section.area #quote aria-labelledby="quote-title" {
            h2 #quote-title { "The quote" }
            p.quiet { "Prices of parts stand with the parts; here is what holds for all of them, and the work." }
            div.fields { @for field in Quote::FIELDS { (one(loaded, "quote", field)) } }
            @for name in loaded.build.work.keys() {
                fieldset {
                    legend { (words::of_key(name)) }
                    div.fields { @for field in Work::FIELDS { (one(loaded, &format!("work.{name}"), field)) } }
                }
            }
            form.which method="post" action={ "/builds/" (loaded.id) "/sheets#quote" } {
                fieldset {
                    legend { "A line of work more" }
                    label for="work-what" { "what is done" }
                    @let (says, typed) = refused.unzip();
                    input #work-what name="what" value=(typed.unwrap_or_default()) maxlength="200" autocomplete="off"
                        aria-invalid=[says.is_some().then_some("true")] aria-describedby=[says.map(|_| "work-refused")];
                    @if let Some(says) = says { p.note #work-refused role="alert" { (says) } }
                    input type="hidden" name="name" value=(free_name(loaded));
                    input type="hidden" name="key" value=(crate::key::draw());
                    div.press { button { "Add it" } }
                }
            }
        }
    }
}

/// The first name that no line of work has.
fn free_name(loaded: &Loaded) -> String {
    let is_free = |name: &String| !loaded.build.work.contains_key(name);
    // There is one more number than there are lines, so one of them is free.
    (1..=loaded.build.work.len() + 1).map(|at| format!("work-{at}")).find(is_free).unwrap_or_default()
}

fn one(loaded: &Loaded, section: &str, field: &Field) -> Markup {
    field::shown(loaded, &format!("{section}.{}", field.key()), Note::None).unwrap_or_default()
}
