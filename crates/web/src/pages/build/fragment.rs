//! Pieces of the page that change when the build does, each under its id; an answer to a change is those that differ.

use super::{drawing, field, findings, head, numbers, parts, walk};
use crate::loaded::Loaded;
use axum::http::header::{CONTENT_TYPE, HeaderName};
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::{Arc, Mutex, PoisonError};
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
type Prints = BTreeMap<String, u64>;

/// The fingerprints of those pages of a build that somebody has changed something on.
#[derive(Debug, Default)]
pub(crate) struct PagePrints(Mutex<BTreeMap<&'static str, Arc<Prints>>>);

impl PagePrints {
    /// Those of a page; they are taken where nobody has asked for them yet.
    fn of(&self, page: &'static str, take: impl FnOnce() -> Prints) -> Arc<Prints> {
        // Whoever panicked while holding it left whole prints behind: they are put in by one insert.
        let kept = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(prints) = kept().get(page) {
            return Arc::clone(prints);
        }
        let prints = Arc::new(take());
        Arc::clone(kept().entry(page).or_insert(prints))
    }
}

impl Fragment {
    /// Two pieces that differ have the same fingerprint once in 2^64 times.
    fn print(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        self.html.0.hash(&mut hasher);
        hasher.finish()
    }
}

fn prints(pieces: &[Fragment]) -> Prints {
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
    pieces.extend(new_since("build", before, now, worked_out));
    pieces
}

/// The pieces of a page that say something else than they said before. Their fingerprints are kept: what is new now is what
/// was before the next change.
pub(crate) fn new_since(
    page: &'static str,
    before: &Loaded,
    now: &Loaded,
    pieces: impl Fn(&Loaded) -> Vec<Fragment>,
) -> Vec<Fragment> {
    let was = before.prints.of(page, || prints(&pieces(before)));
    let mut fresh = pieces(now);
    let is = now.prints.of(page, || prints(&fresh));
    fresh.retain(|piece| was.get(&piece.id) != is.get(&piece.id));
    fresh
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
