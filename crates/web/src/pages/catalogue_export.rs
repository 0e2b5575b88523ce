//! The catalogue as a file to take away: a kind as a table, a table to be filled in, or everything as TOML.

use crate::app::App;
use crate::refusal::Refusal;
use axum::extract::{Path, Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get};
use serde::Deserialize;
use witnessmark_core::catalogue::Entry;
use witnessmark_core::part;
use witnessmark_intake::catalogue::{write_csv, write_template, write_toml};

pub(super) fn methods() -> MethodRouter<App> {
    get(give)
}

#[derive(Debug, Deserialize)]
struct Asked {
    /// Cells parted by semicolons, as spreadsheets with a decimal comma want it.
    semicolons: Option<String>,
}

async fn give(
    State(app): State<App>,
    Path(file): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, Refusal> {
    let separator = if asked.semicolons.is_some() { b';' } else { b',' };
    let no_such = || Refusal::NothingSoNamed {
        name: file.clone(),
        why: "stem.csv, stem-template.csv or parts.toml would be a file of the catalogue".into(),
    };
    let (stem, ending) = file.rsplit_once('.').ok_or_else(no_such)?;
    let (name, template) = stem.strip_suffix("-template").map_or((stem, false), |name| (name, true));
    let (kind_of_text, text) = match (ending, part::kind(name), template) {
        ("toml", _, false) if stem == "parts" => {
            let catalogue = app.catalogue().await?;
            ("application/toml; charset=utf-8", write_toml(catalogue.parts()))
        }
        ("csv", Some(kind), true) => ("text/csv; charset=utf-8", write_template(kind, separator)),
        ("csv", Some(kind), false) => {
            let catalogue = app.catalogue().await?;
            let parts: Vec<&Entry> = catalogue.of_kind(kind.key).iter().collect();
            ("text/csv; charset=utf-8", write_csv(kind, &parts, separator))
        }
        _ => return Err(no_such()),
    };
    // The name was found in the table of kinds, so that nothing in it needs quoting.
    let disposition = format!("attachment; filename=\"{file}\"");
    Ok(([(CONTENT_TYPE, kind_of_text.to_owned()), (CONTENT_DISPOSITION, disposition)], text).into_response())
}
