//! Why a page is not given, as a page: what happened and what to do. The cause goes to the log.

use crate::shell::{Page, page};
use crate::words;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use witnessmark_store::{EditError, NotABuildId, StoreError};

/// Why a page is not given.
#[derive(Debug)]
pub(crate) enum Refusal {
    /// There is no page of this name.
    NoSuchPage,
    /// The text is no build's name.
    NotABuild(NotABuildId),
    /// There is no build of this name.
    NoSuchBuild(String),
    /// There is nothing of this name on a bike.
    NothingSoNamed { name: String, why: String },
    /// What was sent is not enough to act on.
    Incomplete(String),
    /// The browser asked for a name that is not this machine's.
    StrangeName(String),
    /// Another site's page sent a change.
    FromElsewhere,
    /// Nobody is signed in.
    SignInFirst,
    /// The one who asks may not.
    NotYours(String),
    /// A guess too many.
    Wait { seconds: i64 },
    /// The change was not written.
    NotWritten(EditError),
    /// The store cannot do its work.
    Store(StoreError),
}

impl From<StoreError> for Refusal {
    fn from(error: StoreError) -> Self {
        Refusal::Store(error)
    }
}

impl From<NotABuildId> for Refusal {
    fn from(error: NotABuildId) -> Self {
        Refusal::NotABuild(error)
    }
}

impl From<EditError> for Refusal {
    fn from(error: EditError) -> Self {
        match error {
            EditError::Store(error) => Refusal::Store(error),
            EditError::NoSuchBuild(id) => Refusal::NoSuchBuild(id.to_string()),
            other => Refusal::NotWritten(other),
        }
    }
}

impl Refusal {
    /// A guess has to wait.
    pub(crate) fn wait(ms: i64) -> Self {
        Refusal::Wait { seconds: (ms + 999) / 1_000 }
    }

    /// The status, and what to tell the person.
    fn told(&self) -> (StatusCode, String) {
        match self {
            Refusal::NoSuchPage => (StatusCode::NOT_FOUND, "There is no such page.".into()),
            Refusal::NotABuild(error) => (StatusCode::NOT_FOUND, error.to_string()),
            Refusal::NoSuchBuild(id) => (StatusCode::NOT_FOUND, format!("There is no build {id}.")),
            Refusal::NothingSoNamed { name, why } => {
                (StatusCode::NOT_FOUND, format!("“{name}” names nothing on a bike: {why}."))
            }
            Refusal::Incomplete(what) => (StatusCode::UNPROCESSABLE_ENTITY, what.clone()),
            Refusal::StrangeName(host) => (
                StatusCode::MISDIRECTED_REQUEST,
                format!(
                    "This program does not answer to the name “{host}”. Ask for it by the address that it printed when it started."
                ),
            ),
            Refusal::FromElsewhere => {
                (StatusCode::FORBIDDEN, "The change came from a page of another site, so it was not written.".into())
            }
            Refusal::SignInFirst => (StatusCode::UNAUTHORIZED, "Nobody is signed in here. Sign in first.".into()),
            Refusal::NotYours(why) => (StatusCode::FORBIDDEN, why.clone()),
            Refusal::Wait { seconds } => (
                StatusCode::TOO_MANY_REQUESTS,
                format!("That were too many tries. Wait {} and try again.", words::waiting(*seconds)),
            ),
            Refusal::NotWritten(error) => (StatusCode::CONFLICT, error.to_string()),
            Refusal::Store(error) => (store_status(error), error.to_string()),
        }
    }

    /// The status alone.
    pub(crate) fn status(&self) -> StatusCode {
        self.told().0
    }

    /// The sentence alone, for beside a field.
    pub(crate) fn sentence(&self) -> String {
        // It may repeat what was typed, which may hold signs that no sentence has.
        self.told().1.chars().filter(|sign| !sign.is_control()).collect()
    }
}

/// Waiting helps, or somebody has to act on this machine.
fn store_status(error: &StoreError) -> StatusCode {
    match error {
        StoreError::Locked(_)
        | StoreError::Crowded(_)
        | StoreError::Closed(_)
        | StoreError::Away(_)
        | StoreError::Silent
        | StoreError::Unsure(_) => StatusCode::SERVICE_UNAVAILABLE,
        StoreError::DiskFull(_) => StatusCode::INSUFFICIENT_STORAGE,
        _ => StatusCode::INTERNAL_SERVER_ERROR,
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let (status, sentence) = self.told();
        if status.is_server_error() {
            eprintln!("web: {sentence} ({self:?})");
        }
        let way_on = if matches!(self, Refusal::SignInFirst) {
            html! { a href="/sign-in" { "Sign in" } }
        } else {
            html! { a href="/builds" { "To the list of builds" } }
        };
        not_here(status, &sentence, &way_on)
    }
}

fn not_here(status: StatusCode, sentence: &str, way_on: &Markup) -> Response {
    let main = html! {
        h1 { "Not here" }
        p.lead { (sentence) }
        p { (way_on) }
    };
    (status, page(&Page { title: "Not here", main })).into_response()
}

/// What is refused before a page sees it (a form without a field that is needed, an address that is no text) is a page with
/// a sentence too: the library that takes requests apart has a few words of its own and no page.
pub(crate) async fn in_our_words(response: Response) -> Response {
    let is_bare = response.headers().get(CONTENT_TYPE).is_some_and(|kind| kind.as_bytes().starts_with(b"text/plain"));
    let status = response.status();
    if !(status.is_client_error() && is_bare) {
        return response;
    }
    const MOST: usize = 4_096;
    let said = axum::body::to_bytes(response.into_body(), MOST).await.unwrap_or_default();
    let said: String = String::from_utf8_lossy(&said).chars().filter(|sign| !sign.is_control()).collect();
    let sentence =
        format!("What was sent was not understood, and nothing was written. In the words of the library: {said}.");
    not_here(status, &sentence, &html! { a href="/builds" { "To the list of builds" } })
}

/// For everything no page answers to.
pub(crate) async fn no_such_page() -> Refusal {
    Refusal::NoSuchPage
}
