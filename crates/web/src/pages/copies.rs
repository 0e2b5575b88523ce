//! The copies of the whole workshop, for owners: which there are, and one more at a button.

use crate::app::{App, Owner};
use crate::copies::{CopyFolder, KeptCopy};
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use std::io::ErrorKind;
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
    let kept = app.copies().map(|folder| (folder, folder.list()));
    // A folder that cannot be read is the reason for everything else, so it is all that is said.
    let refused = match (&kept, said) {
        (Some((folder, Err(error))), _) => Some(unreadable(folder, error)),
        (_, Some(Err(refused))) => Some(refused.clone()),
        _ => None,
    };
    let main = html! {
        h1 { "Copies" }
        @if let Some(refused) = &refused { p.note #refused role="alert" { (refused) } }
        @if let Some(Ok(done)) = said { p.lead role="status" { (done) } }
        @else { p.lead { "The whole workshop in one file: builds, every change of them, the catalogue, people, photos." } }
        @match &kept {
            None => {
                p { "No folder is named for copies. Start the program with " code { "serve --copies FOLDER" }
                    ", best on another disk, and one is made every day." }
            }
            Some((folder, kept)) => {
                form.make method="post" action="/copies" { button #make { "Make a copy now" } }
                @if let Ok(copies) = kept { (one_by_one(folder, copies)) }
                p.quiet { "To put one back: " code { "witnessmark restore FILE --to NEW" } ". Nothing is written over; everybody signs in anew." }
            }
        }
    };
    page(&Page { title: "Copies", main })
}

fn one_by_one(folder: &CopyFolder, copies: &[KeptCopy]) -> Markup {
    html! {
        @if copies.is_empty() { p.quiet { "None in the folder " (place(folder)) " yet." } } @else {
            p { @if copies.len() == 1 { "One copy" } @else { (copies.len()) " copies" } " in the folder " (place(folder)) "; " (folder.keep) " are kept, the oldest go first." }
            ol.history.copies {
                @for copy in copies.iter().rev() {
                    li {
                        b { (words::moment(copy.made_at_ms)) } " "
                        span.name { (copy.path.file_name().unwrap_or_default().to_string_lossy()) } " "
                        span.quiet { (size(copy.bytes)) }
                    }
                }
            }
        }
    }
}

/// Where the folder is, whatever it was called when the program started.
fn place(folder: &CopyFolder) -> Markup {
    let path = std::path::absolute(&folder.path).unwrap_or_else(|_| folder.path.clone());
    html! { span.path { (path.display()) } }
}

/// Why there is no copy to be seen and none to be made, and what to do.
fn unreadable(folder: &CopyFolder, error: &std::io::Error) -> String {
    let path = folder.path.display();
    match error.kind() {
        ErrorKind::NotFound => format!(
            "The folder for copies, {path}, is not there. If it is on another disk, connect it; if it was moved or taken away, \
             put it back or start the program with another one. Until then no copy is made."
        ),
        ErrorKind::NotADirectory => format!(
            "{path} is a file, and copies are kept in a folder. Start the program with the name of a folder. Until then no \
             copy is made."
        ),
        ErrorKind::PermissionDenied => format!(
            "This program is not allowed to look into the folder for copies, {path}. Give it the right to read and write \
             there. Until then no copy is made."
        ),
        _ => format!("The folder for copies, {path}, cannot be read: {error}. Until then no copy is made."),
    }
}

fn size(bytes: u64) -> String {
    match bytes {
        0..1_000_000 => format!("{} kB", bytes.div_ceil(1_000)),
        _ => format!("{} MB", bytes.div_ceil(1_000_000)),
    }
}
