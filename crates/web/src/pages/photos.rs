//! The pictures and documents of a build: what was there before the cut, the scale's display, the bill of a part.

use super::build::loaded;
use super::edit::by;
use crate::app::{App, Mechanic};
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::uploads::{Brought, MOST_BYTES, NotTaken, looked_at};
use crate::{key, words};
use axum::extract::multipart::{Field, MultipartRejection};
use axum::extract::{DefaultBodyLimit, Multipart, Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get, post};
use maud::{Markup, html};
use serde::Deserialize;
use std::collections::BTreeSet;
use tokio::sync::Semaphore;
use witnessmark_core::number;
use witnessmark_sheets::paper::{PHOTO_SHEETS, photos_on};
use witnessmark_store::{Change, Content, EditError, NewUpload, Quota, Upload, UploadError};

#[cfg(test)]
mod tests;

/// The longest note, and the longest name of a place.
const LONGEST: usize = 200;
/// The most files at a time, and the most bytes of all of them.
const MOST_FILES: usize = 12;
const MOST_TOGETHER: usize = 4 * MOST_BYTES;
/// One picture is taken apart at a time: each may need half a gigabyte while it is.
static TURN: Semaphore = Semaphore::const_new(1);

pub(super) fn methods() -> MethodRouter<App> {
    // The limit is ours: what is beyond it is let go by, and the answer is a sentence instead of a broken line.
    get(show).merge(post(bring).layer(DefaultBodyLimit::disable()))
}

#[derive(Debug, Deserialize)]
struct Asked {
    /// The number, step or part whose pictures are asked for.
    #[serde(default)]
    place: String,
}

async fn show(State(app): State<App>, Path(id): Path<String>, Query(asked): Query<Asked>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    list(&app, &loaded, &asked.place, Said::default()).await
}

/// What the page says beside the pictures.
#[derive(Default)]
struct Said<'a> {
    /// The note that was typed.
    note: &'a str,
    /// Why a file was not taken.
    refused: Option<&'a str>,
    /// What was ticked, where somebody else was faster.
    clash: Option<&'a BTreeSet<String>>,
}

async fn list(app: &App, loaded: &Loaded, place: &str, said: Said<'_>) -> Result<Markup, Refusal> {
    let Said { note, refused, clash } = said;
    let uploads = app.store().uploads(&loaded.id).await?;
    let shown: Vec<&Upload> = uploads.iter().filter(|it| place.is_empty() || it.place == place).collect();
    let title = if place.is_empty() {
        format!("Photos of {}", loaded.title())
    } else {
        format!("Photos of {}", words::of_key(place))
    };
    let main = html! {
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { (title) }
        (form(loaded, place, note, refused))
        @if shown.is_empty() { p.quiet { "None yet." } }
        @if !place.is_empty() && shown.len() < uploads.len() {
            p.links { a href={ "/builds/" (loaded.id) "/photos" } { "all " (uploads.len()) " of this bike" } }
        }
        ul.photos { @for upload in &shown { (one(loaded, upload, clash)) } }
        (choice(loaded, &shown, clash.is_some()))
    };
    Ok(page(&Page { title: &title, main }))
}

fn form(loaded: &Loaded, place: &str, note: &str, refused: Option<&str>) -> Markup {
    html! {
        form.import method="post" action={ "/builds/" (loaded.id) "/photos" } enctype="multipart/form-data" {
            @if let Some(refused) = refused { div.note #photo-note role="alert" { p { (refused) } } }
            div.field {
                label for="camera" { "Take one now" }
                input #camera type="file" name="file" accept="image/*" capture="environment"
                    aria-describedby=[refused.map(|_| "photo-note")];
            }
            div.field {
                label for="file" { "Or choose pictures and documents" }
                input #file type="file" name="file" multiple accept="image/jpeg,image/png,image/webp,application/pdf,text/plain"
                    aria-describedby=(if refused.is_some() { "photo-note file-says" } else { "file-says" });
                p.says #file-says {
                    "JPEG, PNG, WebP, PDF or text, " (MOST_BYTES / 1_048_576) " MB each. Of a picture only the picture is kept: where and with what it was taken is not."
                }
            }
            div.field {
                label for="place" { "What it shows" }
                input #place name="place" value=(place) maxlength=(LONGEST) autocomplete="off" placeholder="the whole bike";
            }
            div.field {
                label for="note" { "A word about it" }
                input #note name="note" value=(note) maxlength=(LONGEST) autocomplete="off" placeholder="before the cut";
            }
            input type="hidden" name="who" value="";
            input type="hidden" name="key" value=(key::draw());
            p.go { button { "Keep" } }
        }
    }
}

/// What a picture shows, in words: the number, step or part, and the note.
pub(super) fn says(upload: &Upload) -> String {
    let place = match number::by_id(&upload.place) {
        _ if upload.place.is_empty() => "the whole bike".to_owned(),
        Some(number) => number.name.to_owned(),
        None => words::of_key(&upload.place),
    };
    if upload.note.is_empty() { place } else { format!("{place}: {}", upload.note) }
}

/// The form to which the ticks beside the pictures belong.
const CHOICE: &str = "on-sheets";

/// The ticks of a picture: on which sheets it stands.
fn ticks(loaded: &Loaded, upload: &Upload, clash: Option<&BTreeSet<String>>) -> Markup {
    html! {
        fieldset.ticks {
            legend.aside { "On which sheets: " (says(upload)) }
            @for (kind, key) in PHOTO_SHEETS {
                @let name = format!("{}.{key}", upload.id);
                @let ticked = clash.map_or_else(
                    || photos_on(&loaded.build, *kind).contains(&upload.id.as_str()),
                    |ticked| ticked.contains(&name),
                );
                label.tick {
                    input type="checkbox" form=(CHOICE) name={ "on." (name) } value="yes" checked[ticked];
                    span { (kind.title()) span.aside { ": " (says(upload)) } }
                }
            }
        }
    }
}

/// The form that keeps the ticks: what was shown, and what was ticked when it was.
fn choice(loaded: &Loaded, shown: &[&Upload], clash: bool) -> Markup {
    let pictures: Vec<&str> = shown.iter().filter(|it| it.has_small).map(|it| it.id.as_str()).collect();
    let was: Vec<String> = PHOTO_SHEETS
        .iter()
        .flat_map(|(kind, key)| photos_on(&loaded.build, *kind).into_iter().map(move |name| format!("{name}.{key}")))
        .collect();
    html! {
        @if !pictures.is_empty() {
            form.on-sheets id=(CHOICE) method="post" action={ "/builds/" (loaded.id) "/photos/on-sheets" } {
                @if clash {
                    p.note role="alert" { "Somebody else changed the choice in the meantime. Nothing was written; your ticks stand above. Look them over and keep them again." }
                }
                input type="hidden" name="of" value=(pictures.join(" "));
                input type="hidden" name="was" value=(was.join(" "));
                input type="hidden" name="who" value="";
                input type="hidden" name="key" value=(key::draw());
                p.go { button { "Keep the choice for the sheets" } }
            }
            p.links { a href={ "/builds/" (loaded.id) "/sheets" } { "sheets" } }
        }
    }
}

fn one(loaded: &Loaded, upload: &Upload, clash: Option<&BTreeSet<String>>) -> Markup {
    let address = format!("/builds/{}/photos/{}", loaded.id, upload.id);
    let says = says(upload);
    html! {
        li {
            a.photo href=(address) {
                @if upload.has_small { img src={ (address) "?size=small" } alt=(says) loading="lazy"; }
                @else { "Document: " (says) ", " (upload.size.max(1_000) / 1_000) " kB" }
            }
            @if upload.has_small { p { (says) } }
            p.quiet { (upload.who) ", " (words::moment(upload.at_ms)) }
            @if upload.has_small { (ticks(loaded, upload, clash)) }
            details.fold {
                summary { "Remove" span.aside { " " (says) } }
                form method="post" action=(address) {
                    input type="hidden" name="who" value="";
                    input type="hidden" name="key" value=(key::draw());
                    p.quiet { "It is gone for good." }
                    button { "Remove it" }
                }
            }
        }
    }
}

/// What the form of the sheets sends: `on.ID.bench=yes` for each tick; `of` the pictures it showed, `was` what was ticked.
pub(super) async fn choose(
    app: &App,
    mechanic: &Mechanic,
    id: &str,
    sent: &[(String, String)],
) -> Result<Response, Refusal> {
    let loaded = loaded(app, id).await?;
    let field = |name: &str| sent.iter().find(|(key, _)| key == name).map_or("", |(_, value)| value.as_str());
    let names = |name: &str| -> BTreeSet<String> { field(name).split_whitespace().map(str::to_owned).collect() };
    let ticked: BTreeSet<String> =
        sent.iter().filter_map(|(key, _)| key.strip_prefix("on.")).map(str::to_owned).collect();
    let was = names("was");
    let uploads = app.store().uploads(&loaded.id).await?;
    let of = names("of");
    let shown = uploads.iter().filter(|upload| upload.has_small && of.contains(&upload.id));
    let changes: Vec<Change> = shown
        .flat_map(|upload| PHOTO_SHEETS.iter().map(|(kind, key)| (upload.id.as_str(), *kind, *key)))
        .filter_map(|(photo, kind, key)| {
            let name = format!("{photo}.{key}");
            let is_ticked = ticked.contains(&name);
            if was.contains(&name) == is_ticked {
                return None;
            }
            let path = format!("photos.{name}");
            // What the page showed: a tick whatever word was typed for it, or none.
            let before = match (was.contains(&name), photos_on(&loaded.build, kind).contains(&photo)) {
                (true, false) => Some("yes".to_owned()),
                (false, true) => None,
                _ => loaded.text(&path).map(str::to_owned),
            };
            Some(Change { path, before, after: is_ticked.then(|| "yes".to_owned()) })
        })
        .collect();
    if !changes.is_empty() {
        match mechanic.edit(&loaded.id, &changes, &by(field("who"), field("key"))).await {
            Ok(_) => {}
            Err(EditError::Clash(_)) => {
                let now = super::build::loaded(app, id).await?;
                let shown = list(app, &now, "", Said { clash: Some(&ticked), ..Said::default() }).await?;
                return Ok((StatusCode::CONFLICT, shown).into_response());
            }
            Err(other) => return Err(other.into()),
        }
    }
    Ok(Redirect::to(&format!("/builds/{}/photos#{CHOICE}", loaded.id)).into_response())
}

/// What was sent.
#[derive(Default)]
struct Sent {
    files: Vec<Vec<u8>>,
    place: String,
    note: String,
    who: String,
    key: String,
    too_large: bool,
}

async fn bring(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    sent: Result<Multipart, MultipartRejection>,
) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let mut sent = match sent {
        Ok(multipart) => read(multipart).await?,
        Err(_) => return Err(Refusal::Incomplete("What was sent is no form of this page.".into())),
    };
    sent.place = shortened(&sent.place);
    sent.note = shortened(&sent.note);
    let (place, note) = (sent.place.clone(), sent.note.clone());
    let refused = async |status: StatusCode, says: &str| {
        let shown = list(&app, &loaded, &place, Said { note: &note, refused: Some(says), clash: None }).await?;
        Ok((status, shown).into_response())
    };
    if sent.too_large {
        let says = format!(
            "That is too much at once: {} MB a file, {MOST_FILES} files and {} MB together are the most. Nothing was kept.",
            MOST_BYTES / 1_048_576,
            MOST_TOGETHER / 1_048_576
        );
        return refused(StatusCode::PAYLOAD_TOO_LARGE, &says).await;
    }
    if sent.files.is_empty() {
        return refused(StatusCode::UNPROCESSABLE_ENTITY, &NotTaken::Empty.sentence()).await;
    }
    // Every file is looked at before the first is kept: one that is refused leaves nothing half done.
    let mut brought = Vec::new();
    for bytes in std::mem::take(&mut sent.files) {
        match in_turn(bytes).await {
            Ok(one) => brought.push(one),
            Err(not_taken) => return refused(StatusCode::UNPROCESSABLE_ENTITY, &not_taken.sentence()).await,
        }
    }
    let several: Vec<NewUpload<'_>> = brought
        .iter()
        .map(|one| NewUpload {
            build: &loaded.id,
            place: &place,
            note: &note,
            content: Content { kind: one.kind, bytes: &one.bytes },
            small: one.small.as_ref().map(|bytes| Content { kind: "image/jpeg", bytes }),
            quota: Quota::default(),
        })
        .collect();
    match mechanic.add_uploads(&several, &by(&sent.who, &sent.key)).await {
        Ok(_) => {}
        Err(UploadError::Store(error)) => return Err(error.into()),
        Err(error) => return refused(StatusCode::INSUFFICIENT_STORAGE, &error.to_string()).await,
    }
    let place = place.replace(|letter: char| !letter.is_ascii_alphanumeric() && !"._-".contains(letter), "%20");
    Ok(Redirect::to(&format!("/builds/{}/photos?place={place}", loaded.id)).into_response())
}

fn shortened(text: &str) -> String {
    text.trim().chars().filter(|letter| !letter.is_control()).take(LONGEST).collect()
}

async fn in_turn(bytes: Vec<u8>) -> Result<Brought, NotTaken> {
    // The line is never closed.
    let turn = TURN.acquire().await;
    let done = tokio::task::spawn_blocking(move || looked_at(&bytes)).await;
    drop(turn);
    // A library that stops on a picture it did not expect stops on that picture alone.
    done.unwrap_or_else(|_| Err(NotTaken::Broken("it is made in a way that is not known here".into())))
}

async fn read(mut multipart: Multipart) -> Result<Sent, Refusal> {
    let mut sent = Sent::default();
    let broken = |_| Refusal::Incomplete("What was sent broke off. Nothing was kept; send it again.".into());
    while let Some(field) = multipart.next_field().await.map_err(broken)? {
        let name = field.name().unwrap_or_default().to_owned();
        let is_file = name == "file";
        let most = if is_file { MOST_BYTES } else { 4 * LONGEST };
        let (bytes, over) = bounded(field, most).await.map_err(broken)?;
        if is_file {
            let so_far: usize = sent.files.iter().map(Vec::len).sum();
            sent.too_large |= over || sent.files.len() >= MOST_FILES || so_far + bytes.len() > MOST_TOGETHER;
            // A browser sends a file field in which nothing was chosen as one without content.
            if !bytes.is_empty() && !sent.too_large {
                sent.files.push(bytes);
            }
            continue;
        }
        let text = String::from_utf8_lossy(&bytes).into_owned();
        match name.as_str() {
            "place" => sent.place = text,
            "note" => sent.note = text,
            "who" => sent.who = text,
            "key" => sent.key = text,
            _ => {}
        }
    }
    Ok(sent)
}

/// The bytes of a field, up to a bound; beyond it they are let go by.
async fn bounded(
    mut field: Field<'_>,
    most: usize,
) -> Result<(Vec<u8>, bool), axum::extract::multipart::MultipartError> {
    let (mut bytes, mut over) = (Vec::new(), false);
    while let Some(chunk) = field.chunk().await? {
        over |= bytes.len() + chunk.len() > most;
        if over {
            bytes = Vec::new();
        } else {
            bytes.extend_from_slice(&chunk);
        }
    }
    Ok((bytes, over))
}
