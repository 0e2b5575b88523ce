//! A change of one field: read, kept, and answered with what it changed on the page.
//!
//! - written: 200 and every piece of the page that says something new;
//! - not a value of its kind: 422 and the field with the sentence beside it, the typed text kept;
//! - somebody else was faster: 409 and the field with both texts, to choose from;
//! - the store cannot: its status, and the sentence beside the field.

use super::build::field::{self, Note};
use super::build::fragment::{Answer, Fragment, changed, revision};
use super::build::loaded;
use crate::app::{App, Mechanic};
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::{key, sign_in, words};
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, post};
use maud::{Markup, html};
use serde::Deserialize;
use std::sync::Arc;
use witnessmark_core::compute::PlannedNumber;
use witnessmark_core::model::in_words;
use witnessmark_core::{Build, part, stand};
use witnessmark_store::{By, Change, EditError};

mod along;

#[cfg(test)]
mod tests;

/// The name under which a change is kept when nobody said theirs.
pub(super) const NOBODY: &str = "bench";
/// The longest name of a person.
const LONGEST_NAME: usize = 40;

pub(super) fn methods() -> MethodRouter<App> {
    post(edit)
}

/// What the page sends.
#[derive(Debug, Deserialize)]
struct Edit {
    /// The field.
    path: String,
    /// What it said; absent where it was not known.
    before: Option<String>,
    /// What it is to say; empty for not known.
    after: String,
    /// Drawn anew for each attempt, sent again with each repetition.
    key: String,
    /// Who was at the bench when it was typed.
    #[serde(default)]
    who: String,
    /// The revision that the page shows.
    #[serde(default)]
    seen: i64,
    /// Which of a page's several places of this field it was typed at.
    #[serde(default)]
    place: String,
    /// Which page asks, by its word; some have pieces of their own.
    #[serde(default)]
    page: String,
    /// The day at the bench.
    #[serde(default)]
    day: String,
}

async fn edit(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    Form(edit): Form<Edit>,
) -> Result<Response, Refusal> {
    // What the page shows is, as a rule, what was worked out last; the store has the last word on that below.
    let before = match id.parse().ok().and_then(|id| app.last_of(&id)).filter(|last| last.revision == edit.seen) {
        Some(last) => last,
        None => loaded(&app, &id).await?,
    };
    if let Err(unknown) = Build::field(&edit.path) {
        let why = if unknown.candidates.is_empty() {
            "nothing lies there".to_owned()
        } else {
            format!("“{}” is none of {}", unknown.key, unknown.candidates.join(", "))
        };
        return Err(Refusal::NothingSoNamed { name: edit.path, why });
    }
    let asks = sign_in::asks();
    // What waited on a tablet is kept in the name of whoever typed it, or not at all until that one is back.
    if let Some(name) = asks.name().filter(|name| !edit.who.trim().is_empty() && edit.who.trim() != *name) {
        let says = format!("{} typed this, and {name} is here now. Nothing was written.", edit.who.trim());
        return Err(Refusal::NotYours(says));
    }
    let typed = Some(edit.after.trim()).filter(|text| !text.is_empty());
    // A gate is opened in the name of whoever is signed in, not in a name that was sent.
    let after = if is_signature(&edit.path) { typed.map(|name| asks.name().unwrap_or(name)) } else { typed };
    let field = At { path: &edit.path, place: if part::is_name(&edit.place) { &edit.place } else { "" } };
    let unreadable = after.and_then(|text| witnessmark_intake::leaf(&edit.path, text).err());
    let says = unreadable.map(|problem| super::build::capital(&format!("{}.", problem.sentence())));
    if let Some(says) = says.or_else(|| refused_at_the_stand(&before, &edit.path, after)) {
        let note = Note::Refused { path: &edit.path, typed: &edit.after, says: &says };
        return Ok(beside(&before, field, note, StatusCode::UNPROCESSABLE_ENTITY));
    }
    if after == edit.before.as_deref() {
        return Ok(beside(&before, field, Note::None, StatusCode::OK));
    }
    let by = by(&edit.who, &edit.key);
    let change = Change { path: edit.path.clone(), before: edit.before.clone(), after: after.map(str::to_owned) };
    let mut changes = vec![change];
    let who = Some(by.who.as_str()).filter(|who| *who != NOBODY);
    changes.extend(along::with(&before, &edit.path, after, who, &edit.day));
    match mechanic.edit(&before.id, &changes, &by).await {
        Ok(applied) if !applied.replayed && applied.revision == before.revision + 1 => {
            let asker = Asker { seen: edit.seen, page: edit.page };
            let answered = app.compute(move || {
                let now = Arc::new(before.after(applied.revision, &changes));
                let answer = answer(&before, &now, &asker);
                (now, answer)
            });
            let (now, answer) = answered.await;
            app.remember(now);
            Ok(answer)
        }
        Ok(_) => written(&app, before, Asker { seen: edit.seen, page: edit.page }).await,
        Err(EditError::Clash(clashes)) => {
            let now = loaded(&app, &id).await?;
            let clash = clashes.iter().find(|clash| clash.path == edit.path).or(clashes.first());
            let last = clash.and_then(|clash| clash.last_change.as_ref());
            let note = Note::Clash {
                path: &edit.path,
                yours: after,
                theirs: clash.and_then(|clash| clash.found.as_deref()),
                who: last.map(|last| last.who.as_str()),
                at_ms: last.map(|last| last.at_ms),
            };
            Ok(beside(&now, field, note, StatusCode::CONFLICT))
        }
        Err(other) => {
            let refusal = Refusal::from(other);
            if refusal.status().is_server_error() {
                eprintln!("web: {refusal:?}");
            }
            let note = Note::Refused { path: &edit.path, typed: &edit.after, says: &refusal.sentence() };
            Ok(beside(&before, field, note, refusal.status()))
        }
    }
}

/// Who asks for a change, now. Where people sign in, the name is not up to the one who types.
pub(super) fn by(who: &str, key: &str) -> By {
    let asks = sign_in::asks();
    let who: String =
        asks.name().unwrap_or(who).trim().chars().filter(|it| !it.is_control()).take(LONGEST_NAME).collect();
    By {
        who: if who.is_empty() { NOBODY.to_owned() } else { who },
        at_ms: words::now_ms(),
        request_key: key.to_owned(),
    }
}

/// A field that holds the name of whoever answers for something.
fn is_signature(path: &str) -> bool {
    path.starts_with("steps.") && path.ends_with(".opened_by")
}

/// What the work at the stand does not allow: a step behind a shut gate, a gate opened without a reason.
fn refused_at_the_stand(loaded: &Loaded, path: &str, after: Option<&str>) -> Option<String> {
    path.starts_with("steps.").then(|| stand::refuses(&stand::stand(&loaded.build, &loaded.plan), path, after))?
}

/// A field at one of its places on a page.
#[derive(Clone, Copy)]
struct At<'a> {
    path: &'a str,
    place: &'a str,
}

/// The field alone, with what is to be said beside it.
fn beside(loaded: &Loaded, field: At<'_>, note: Note<'_>, status: StatusCode) -> Response {
    let pieces = field::fragment_at(loaded, field.path, field.place, note).into_iter().collect();
    Answer { status, pieces, stale: false }.into_response()
}

/// The page that asks for a change.
pub(super) struct Asker {
    /// The revision that it shows.
    pub(super) seen: i64,
    /// Its word, where it has pieces of its own.
    pub(super) page: String,
}

/// The answer to a change that is on the disk.
pub(super) async fn written(app: &App, before: Arc<Loaded>, asker: Asker) -> Result<Response, Refusal> {
    let now = app.load(&before.id).await?.ok_or_else(|| Refusal::NoSuchBuild(before.id.to_string()))?;
    Ok(app.compute(move || answer(&before, &now, &asker)).await)
}

fn answer(before: &Loaded, now: &Loaded, Asker { seen, page }: &Asker) -> Response {
    // The page shows what was before exactly if it saw that revision and this change is the only one since.
    let stale = *seen != before.revision || now.revision != before.revision + 1;
    let mut pieces = match page.as_str() {
        "stand" => super::stand::changed(before, now),
        page => super::whole::changed(page, before, now).unwrap_or_else(|| changed(before, now)),
    };
    pieces.push(Fragment { id: "told".into(), html: told(before, now) });
    pieces.push(Fragment { id: "revision".into(), html: revision(now) });
    Answer { status: StatusCode::OK, pieces, stale }.into_response()
}

/// How many changed numbers are named before the rest is counted.
const NAMED: usize = 4;

/// What was written and which numbers changed with it, and the way back.
fn told(before: &Loaded, now: &Loaded) -> Markup {
    let paths = along::without(now.differs_from(before));
    let moved: Vec<(&PlannedNumber, &PlannedNumber)> = before
        .plan
        .numbers
        .each()
        .iter()
        .zip(now.plan.numbers.each())
        .filter(|(was, is)| was.planned != is.planned)
        .collect();
    let say = |text: Option<&str>| text.map_or_else(|| "not known".to_owned(), str::to_owned);
    let value = |one: &PlannedNumber| {
        one.planned.as_ref().map_or_else(|_| "not known".to_owned(), |value| words::plain(one.number.kind, *value))
    };
    html! {
        div #told role="status" {
            p {
                @match paths.as_slice() {
                    [path] => { b { (in_words(path)) } " " (say(now.text(path))) " (was " (say(before.text(path))) ")." }
                    paths => { b { (paths.len()) " fields" } " changed." }
                }
                @for (was, is) in moved.iter().take(NAMED) {
                    " "
                    span.effect {
                        (is.number.name) @if !is.side.word().is_empty() { ", " (is.side.word()) }
                        " " b { (value(is)) } " (" (value(was)) ")"
                    }
                }
                @if moved.len() > NAMED { " and " (moved.len() - NAMED) " more numbers" }
            }
            button type="button" data-undo=(now.revision) data-key=(key::draw()) { "undo" }
        }
    }
}
