//! Style, script, typeface and the sign in the browser's tab: inside the program, kept by browsers as long as they are
//! the same.
//!
//! All files share one address that changes when any of them does, so they may name each other without knowing it.
//!
//! The worker alone has an address that stays, because a browser asks there whether there is a newer one. It hands out the
//! pages that a tablet keeps (see `kept.js`), so its address lies above all of them.

use crate::app::App;
use axum::Router;
use axum::extract::Path;
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use std::sync::LazyLock;

struct Asset {
    name: &'static str,
    kind: &'static str,
    bytes: &'static [u8],
}

macro_rules! assets {
    ($($name:literal: $kind:literal from $file:literal;)+) => {
        const ALL: &[Asset] = &[$(Asset {
            name: $name,
            kind: $kind,
            bytes: include_bytes!(concat!("../assets/", $file)),
        }),+];
    };
}

assets! {
    "bench.css": "text/css; charset=utf-8" from "bench.css";
    "people.css": "text/css; charset=utf-8" from "people.css";
    "bench.js": "text/javascript; charset=utf-8" from "bench.js";
    "kept.js": "text/javascript; charset=utf-8" from "kept.js";
    "mark.svg": "image/svg+xml" from "mark.svg";
    "idiomorph.js": "text/javascript; charset=utf-8" from "vendor/idiomorph/idiomorph.min.js";
    "latin.woff2": "font/woff2" from "vendor/atkinson-hyperlegible-next/latin.woff2";
    "latin-ext.woff2": "font/woff2" from "vendor/atkinson-hyperlegible-next/latin-ext.woff2";
}

/// The worker, without the names of the files it keeps.
const WORKER: &str = include_str!("../assets/worker.js");
/// Where it is asked for.
pub(crate) const WORKER_AT: &str = "/worker.js";

/// The mark of all files together: FNV-1a, 64 bits. It tells versions apart and protects nothing.
static MARK: LazyLock<String> = LazyLock::new(|| {
    let bytes = ALL.iter().flat_map(|asset| asset.bytes).chain(WORKER.as_bytes());
    let hash = bytes
        .fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3));
    format!("{hash:016x}")
});

/// The address of a file, for a page.
pub(crate) fn address(name: &str) -> String {
    format!("/assets/{}/{name}", MARK.as_str())
}

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/assets/{mark}/{name}", get(asset)).route(WORKER_AT, get(worker))
}

async fn worker() -> Response {
    let files: Vec<String> = ALL.iter().map(|asset| format!("\"{}\"", address(asset.name))).collect();
    // Names of files and a hash: nothing in them has to be escaped.
    let script = WORKER.replace("{mark}", &MARK).replace("\"{files}\"", &files.join(", "));
    ([(CONTENT_TYPE, "text/javascript; charset=utf-8"), (CACHE_CONTROL, "no-cache")], script).into_response()
}

async fn asset(Path((mark, name)): Path<(String, String)>) -> Response {
    let Some(asset) = ALL.iter().find(|asset| asset.name == name) else {
        return StatusCode::NOT_FOUND.into_response();
    };
    // A page from before an update may still ask under the old mark: it gets the file, to be used once.
    let keep = if mark == *MARK { "public, max-age=31536000, immutable" } else { "no-store" };
    ([(CONTENT_TYPE, asset.kind), (CACHE_CONTROL, keep)], asset.bytes).into_response()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Workshop;

    /// A browser takes a changed worker for a new one; then what the old one kept goes.
    #[tokio::test]
    async fn the_worker_names_every_file_under_the_mark_and_is_asked_for_anew() {
        let workshop = Workshop::open().await;
        let worker = workshop.get(WORKER_AT).await;
        assert_eq!((worker.status, worker.headers["cache-control"].as_str()), (200, "no-cache"));
        assert!(worker.headers["content-type"].starts_with("text/javascript"));
        assert!(worker.headers["content-security-policy"].starts_with("default-src 'self'"));
        for asset in ALL {
            assert!(worker.body.contains(&format!("\"{}\"", address(asset.name))), "{}", asset.name);
        }
        assert!(!worker.body.contains("{mark}") && !worker.body.contains("{files}"), "every gap is filled");
    }
}
