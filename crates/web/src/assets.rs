//! Style, script, typeface and the sign in the browser's tab: inside the program, kept by browsers as long as they are
//! the same.
//!
//! All files share one address that changes when any of them does, so they may name each other without knowing it.

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
    "bench.js": "text/javascript; charset=utf-8" from "bench.js";
    "mark.svg": "image/svg+xml" from "mark.svg";
    "idiomorph.js": "text/javascript; charset=utf-8" from "vendor/idiomorph/idiomorph.min.js";
    "latin.woff2": "font/woff2" from "vendor/atkinson-hyperlegible-next/latin.woff2";
    "latin-ext.woff2": "font/woff2" from "vendor/atkinson-hyperlegible-next/latin-ext.woff2";
}

/// The mark of all files together: FNV-1a, 64 bits. It tells versions apart and protects nothing.
static MARK: LazyLock<String> = LazyLock::new(|| {
    let bytes = ALL.iter().flat_map(|asset| asset.bytes);
    let hash = bytes
        .fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3));
    format!("{hash:016x}")
});

/// The address of a file, for a page.
pub(crate) fn address(name: &str) -> String {
    format!("/assets/{}/{name}", MARK.as_str())
}

pub(crate) fn routes() -> Router<App> {
    Router::new().route("/assets/{mark}/{name}", get(asset))
}

async fn asset(Path((mark, name)): Path<(String, String)>) -> Response {
    let Some(asset) = ALL.iter().find(|asset| asset.name == name) else {
        return StatusCode::NOT_FOUND.into_response();
    };
    // A page from before an update may still ask under the old mark: it gets the file, to be used once.
    let keep = if mark == *MARK { "public, max-age=31536000, immutable" } else { "no-store" };
    ([(CONTENT_TYPE, asset.kind), (CACHE_CONTROL, keep)], asset.bytes).into_response()
}
