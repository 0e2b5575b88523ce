//! Pieces of the page that change when the build does, each under its id; an answer to a change is those that differ.

use super::{drawing, field, findings, head, numbers, parts, walk};
use crate::loaded::Loaded;
use axum::http::header::{CONTENT_TYPE, HeaderName};
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::OnceLock;
use witnessmark_core::number::{self, Area};

/// A piece of the page.
#[derive(Clone, Debug)]
pub(crate) struct Fragment {
    /// The id of its element.
    pub(crate) id: String,
    /// The element.
    pub(crate) html: Markup,
}

/// The fingerprints of pieces, by their ids: enough to tell which have changed, in a thousandth of the room.
pub(crate) type Prints = BTreeMap<String, u64>;

impl Fragment {
    /// Two pieces that differ have the same fingerprint once in 2^64 times.
    fn print(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        self.html.0.hash(&mut hasher);
        hasher.finish()
    }
}

/// The fingerprints of these pieces.
pub(crate) fn prints(pieces: &[Fragment]) -> Prints {
    pieces.iter().map(|piece| (piece.id.clone(), piece.print())).collect()
}

/// The areas in the order in which a mechanic walks round the bike.
pub(crate) const AREAS: [Area; 7] = [
    Area::Cockpit,
    Area::FrontEnd,
    Area::FrameAndRouting,
    Area::Transmission,
    Area::WheelsAndBrakes,
    Area::Saddle,
    Area::Finish,
];

/// Everything on the page that follows from the plan.
fn worked_out(loaded: &Loaded) -> Vec<Fragment> {
    let one = |id: &str, html: Markup| Fragment { id: id.to_owned(), html };
    let mut all = vec![
        one("head", head::head(loaded)),
        one("drawing", drawing::figure(&loaded.plan)),
        one("findings", findings::list(loaded)),
        one("walk", walk::nav(loaded)),
    ];
    all.extend(number::all().flat_map(|number| numbers::rows(loaded, number)));
    all.extend(parts::summaries(loaded));
    all
}

/// What changed between two states of a build: what follows from the plan, and the fields themselves.
pub(crate) fn changed(before: &Loaded, now: &Loaded) -> Vec<Fragment> {
    let paths = now.differs_from(before);
    let mut pieces: Vec<Fragment> =
        paths.iter().filter_map(|path| field::fragment(now, path, field::Note::None)).collect();
    pieces.extend(crate::pages::survey::changed(before, now, &paths));
    for area in AREAS {
        if parts::paths(before, area) != parts::paths(now, area) {
            pieces.push(parts::list(now, area));
        }
    }
    let was = before.prints.get_or_init(|| prints(&worked_out(before)));
    pieces.extend(new_since(was, worked_out(now), &now.prints));
    pieces
}

/// The pieces that say something else than they said before. Their fingerprints are kept: what is new now is what was
/// before the next change.
pub(crate) fn new_since(was: &Prints, mut pieces: Vec<Fragment>, keep: &OnceLock<Prints>) -> Vec<Fragment> {
    let is = keep.get_or_init(|| prints(&pieces));
    pieces.retain(|piece| was.get(&piece.id) != is.get(&piece.id));
    pieces
}

/// The mark that says which state of the build a page shows.
pub(crate) fn revision(loaded: &Loaded) -> Markup {
    html! { span #revision hidden data-build=(loaded.id) data-revision=(loaded.revision) {} }
}

/// An answer to a change.
pub(crate) struct Answer {
    /// How it went.
    pub(crate) status: StatusCode,
    /// What is new.
    pub(crate) pieces: Vec<Fragment>,
    /// The page has missed something and is to be fetched again.
    pub(crate) stale: bool,
}

impl IntoResponse for Answer {
    fn into_response(self) -> Response {
        // Each piece in a template of its own: a table's row is parsed as such only there.
        let body = html! { @for piece in &self.pieces { template { (piece.html) } } };
        let mut response = (self.status, body.into_string()).into_response();
        let headers = response.headers_mut();
        headers.insert(CONTENT_TYPE, HeaderValue::from_static("text/html; charset=utf-8"));
        if self.stale {
            headers.insert(HeaderName::from_static("x-stale"), HeaderValue::from_static("1"));
        }
        response
    }
}
