//! What became of files that were sent: being read, slips, what they would change, being written, written.

use super::catalogue_import::{Import, Stage};
use crate::app::{App, Mechanic};
use crate::bring::{Progress, SLIPS_KEPT, Tally, Told};
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::http::header::REFRESH;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use witnessmark_core::field::{Choice, Leaf};

#[cfg(test)]
mod tests;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(wanted)
}

fn import(app: &App, key: &str) -> Result<Arc<Import>, Refusal> {
    app.import(key).ok_or_else(|| {
        Refusal::Incomplete(
            "These files are not kept any more: newer ones were sent, or the program was started anew. Nothing was \
             written; send them again."
                .into(),
        )
    })
}

async fn show(State(app): State<App>, Path(key): Path<String>) -> Result<Response, Refusal> {
    let import = import(&app, &key)?;
    let stage = import.settled().await;
    let status = match stage {
        Stage::Slips(_) => StatusCode::UNPROCESSABLE_ENTITY,
        Stage::Failed(..) => StatusCode::SERVICE_UNAVAILABLE,
        _ => StatusCode::OK,
    };
    let goes_on = matches!(stage, Stage::Reading(_) | Stage::Writing(..));
    let mut response = (status, shown(&import, &stage)).into_response();
    if goes_on {
        // The page looks again by itself, script or none.
        response.headers_mut().insert(REFRESH, axum::http::HeaderValue::from_static("1"));
    }
    Ok(response)
}

#[derive(Debug, Deserialize)]
struct Wanted {
    #[serde(default)]
    who: String,
}

async fn wanted(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(key): Path<String>,
    Form(wanted): Form<Wanted>,
) -> Result<Redirect, Refusal> {
    let import = import(&app, &key)?;
    import.wanted(&app, mechanic, &wanted.who);
    import.settled().await;
    Ok(Redirect::to(&format!("/catalogue/import/{key}")))
}

fn shown(import: &Import, stage: &Stage) -> Markup {
    let (title, body) = match stage {
        Stage::Reading(progress) => ("Reading", reading(import, progress, "Reading")),
        Stage::Slips(tally) => ("Nothing was written", slips(tally)),
        Stage::Shown(tally, again) => ("What would change", would_change(import, tally, *again)),
        Stage::Writing(progress) => ("Writing", reading(import, progress, "Writing")),
        Stage::Written(tally) => ("Written", written(tally)),
        Stage::Failed(says, tally) => ("Nothing was written", failed(import, tally, says)),
    };
    let main = html! {
        p.back { a href="/catalogue/import" { "Bring parts in" } }
        h1 { (title) }
        p.quiet { (names(import)) }
        (body)
    };
    page(&Page { title, main })
}

/// How many files are named before the rest is counted.
const NAMED: usize = 6;

fn names(import: &Import) -> String {
    let all = &import.uploads;
    let named = all.iter().take(NAMED).map(|upload| match upload.name.as_str() {
        "" => "pasted text",
        name => name,
    });
    let text = named.collect::<Vec<_>>().join(", ");
    if all.len() > NAMED { format!("{text} and {} more", all.len() - NAMED) } else { text }
}

fn reading(import: &Import, progress: &Progress, word: &str) -> Markup {
    let bytes = progress.bytes.load(Ordering::Relaxed).min(import.size);
    let percent = bytes * 100 / import.size.max(1);
    html! {
        p.lead role="status" { (word) ": " (progress.parts.load(Ordering::Relaxed)) " parts, " (percent) " % of the files. This page looks again by itself." }
        progress max="100" value=(percent) aria-label=(word) { (percent) " %" }
    }
}

fn slips(tally: &Tally) -> Markup {
    html! {
        p.lead role="alert" { (words::count(usize::try_from(tally.slips).unwrap_or(usize::MAX), "slip")) ". All of them stand here; mend them and send the files again." }
        @if tally.slips > SLIPS_KEPT as u64 { p { "The first " (SLIPS_KEPT) " of them:" } }
        table.becomes.slips {
            thead { tr {
                th scope="col" { "file" } th scope="col" { "line" } th scope="col" { "column" } th scope="col" { "found, and expected" }
            } }
            tbody {
                @for slip in &tally.first_slips {
                    tr {
                        td data-label="file" { (slip.file) }
                        td.figure data-label="line" { @if let Some(line) = slip.line { (line) } }
                        td data-label="column" { (slip.column) }
                        td data-label="found, and expected" { (super::build::capital(&slip.says)) "." }
                    }
                }
            }
        }
        p.links { a href="/catalogue/import" { "send them again" } }
    }
}

fn would_change(import: &Import, tally: &Tally, again: Option<&str>) -> Markup {
    html! {
        @if let Some(again) = again { p.note role="alert" { (again) } }
        (counts(tally))
        (lists(tally))
        @if tally.to_write() > 0 { (yes(import, "Write this")) } @else { p { "There is nothing to write." } }
    }
}

fn yes(import: &Import, label: &str) -> Markup {
    html! {
        form.take method="post" action={ "/catalogue/import/" (import.key) } {
            input type="hidden" name="who" value="";
            p.press { button #do { (label) } " " a href="/catalogue" { "Leave it" } }
        }
    }
}

fn written(tally: &Tally) -> Markup {
    html! {
        p.lead role="status" { "It is in the catalogue." }
        (counts(tally))
        p.links { a href="/catalogue" { "to the catalogue" } a href="/builds" { "to the builds" } }
    }
}

fn failed(import: &Import, tally: &Tally, says: &str) -> Markup {
    html! {
        p.note role="alert" { (says) }
        (counts(tally))
        (yes(import, "Try again"))
    }
}

fn counts(tally: &Tally) -> Markup {
    html! {
        ul.counts-of {
            @for (count, one, many) in [
                (tally.added, "new part", "new parts"),
                (tally.changed, "part with other facts: a new version of it", "parts with other facts: a new version of each"),
                (tally.restocked, "part with another number on the shelf", "parts with another number on the shelf"),
                (tally.unchanged, "part as it is", "parts as they are"),
                (tally.better_known, "fact stays: it is better known than what the files say", "facts stay: they are better known than what the files say"),
            ] {
                @if count > 0 { li { b { (count) } " " (if count == 1 { one } else { many }) } }
            }
        }
        @for note in &tally.notes { p.quiet { (note) } }
    }
}

fn lists(tally: &Tally) -> Markup {
    let rest = |all: u64, shown: usize| all.saturating_sub(shown as u64);
    html! {
        @if !tally.first_changed.is_empty() {
            section aria-labelledby="changed-title" {
                h2 #changed-title { "Other facts" }
                table.becomes {
                    thead { tr { th scope="col" { "part" } th scope="col" { "now" } th scope="col" { "then" } } }
                    tbody { @for part in &tally.first_changed { (changed(part)) } }
                }
                @let more = rest(tally.changed, tally.first_changed.len());
                @if more > 0 { p.quiet { "and " (more) " more parts" } }
            }
        }
        @if !tally.first_restocked.is_empty() {
            section aria-labelledby="restocked-title" {
                h2 #restocked-title { "On the shelf" }
                ul { @for part in &tally.first_restocked { li { (who(part)) ": " (stock(part)) } } }
                @let more = rest(tally.restocked, tally.first_restocked.len());
                @if more > 0 { p.quiet { "and " (more) " more parts" } }
            }
        }
        @if !tally.first_added.is_empty() {
            section aria-labelledby="added-title" {
                h2 #added-title { "New" }
                ul.many { @for part in &tally.first_added { li { (who(part)) } } }
                @let more = rest(tally.added, tally.first_added.len());
                @if more > 0 { p.quiet { "and " (more) " more parts" } }
            }
        }
    }
}

fn who(part: &Told) -> Markup {
    html! { span.kind { (words::of_key(part.kind.key)) } " " (part.name) " " small { (part.id) } }
}

fn stock(part: &Told) -> Markup {
    let count = |count: Option<u32>| count.map_or_else(|| "not counted".to_owned(), |count| format!("{count} here"));
    html! { @if let Some((before, after)) = part.stock { (count(before)) " becomes " b { (count(after)) } } }
}

fn changed(part: &Told) -> Markup {
    let text = |index: usize, leaf: &Option<Leaf>| match leaf {
        None => "not known".to_owned(),
        Some(leaf) => {
            let value = words::value(part.kind.fields[index].kind, &leaf.value);
            leaf.origin.map_or(value.clone(), |origin| format!("{value}, {}", origin.name()))
        }
    };
    html! {
        tr.heads { th scope="colgroup" colspan="3" { (who(part)) } }
        @for change in &part.changes {
            tr {
                th scope="row" { (part.kind.fields[change.index].words()) }
                td data-label="now" { (text(change.index, &change.before)) }
                td.figure data-label="then" { (text(change.index, &change.after)) }
            }
        }
        @if part.stock.is_some() { tr { th scope="row" { "on the shelf" } td colspan="2" { (stock(part)) } } }
    }
}
