//! The copies of the whole workshop, for owners: which there are, and one more at a button.

use crate::app::{App, Owner};
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use witnessmark_store::Noted;

#[cfg(test)]
mod tests;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(make)
}

async fn show(State(app): State<App>, _: Owner) -> Markup {
    list(&app, None)
}

async fn make(State(app): State<App>, owner: Owner) -> Result<Response, Refusal> {
    let Some(folder) = app.copies() else {
        return Ok((StatusCode::CONFLICT, list(&app, None)).into_response());
    };
    let made = folder.make(owner.store(), words::now_ms()).await;
    let (status, said) = match made {
        Ok((path, made)) => {
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            let noted =
                Noted { at_ms: words::now_ms(), who: owner.name(), did: "copied the workshop into", what: &name };
            owner.store().note(noted).await?;
            let rows: i64 = made.contents.tables.iter().map(|table| table.rows).sum();
            (StatusCode::OK, Ok(format!("{name} was made and read back: {rows} rows, each as it is kept.")))
        }
        Err(error) => {
            let refusal = Refusal::from(error);
            (refusal.status(), Err(refusal.sentence()))
        }
    };
    Ok((status, list(&app, Some(&said))).into_response())
}

fn list(app: &App, said: Option<&Result<String, String>>) -> Markup {
    let main = html! {
        h1 { "Copies" }
        @match said {
            Some(Ok(done)) => { p.lead role="status" { (done) } }
            Some(Err(refused)) => { div.note #refused role="alert" { p { (refused) } } }
            None => { p.lead { "The whole workshop in one file: builds, every change of them, the catalogue, people, photos." } }
        }
        @match app.copies() {
            None => {
                p { "No folder is named for copies. Start the program with " code { "serve --copies FOLDER" }
                    ", best on another disk, and one is made every day." }
            }
            Some(folder) => {
                form method="post" action="/copies" { button { "Make a copy now" } }
                @match folder.list() {
                    Err(error) => { div.note role="alert" { p { (folder.path.display()) ": " (error) "." } } }
                    Ok(copies) if copies.is_empty() => { p.quiet { "None in " (folder.path.display()) " yet." } }
                    Ok(copies) => {
                        p { @if copies.len() == 1 { "One" } @else { (copies.len()) } " in " (folder.path.display()) "; " (folder.keep) " are kept, the oldest go first." }
                        ol.history {
                            @for copy in copies.iter().rev() {
                                li {
                                    b { (words::moment(copy.made_at_ms)) } " "
                                    (copy.path.file_name().unwrap_or_default().to_string_lossy()) " "
                                    span.quiet { (copy.bytes.div_ceil(1_000_000)) " MB" }
                                }
                            }
                        }
                    }
                }
                p.quiet { "To put one back: " code { "witnessmark restore FILE --to NEW" } ". Nothing is written over; everybody signs in anew." }
            }
        }
    };
    page(&Page { title: "Copies", main })
}
