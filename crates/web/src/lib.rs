//! On screen: pages and a JSON mirror of a plan, served by this machine to this machine.
//!
//! A page presents a [`witnessmark_core::Plan`] and computes nothing. What is typed goes through
//! [`witnessmark_intake`], what is kept through [`witnessmark_store`]. Everything a page needs (style, script, typeface)
//! is inside the program, so it works without any network.
//!
//! - [`router`]: the pages as a service, for a program of one's own.
//! - [`serve`]: the same on an open door, until told to stop; [`serve_tls`]: the same over TLS.
//! - [`api::mirror`] and [`api::mirror_reach`]: a plan, and what reaches the asked position, as plain data for JSON.
//!
//! - [`bring_parts`]: files of parts into the catalogue, all or nothing.
//!
//! What is **not** here: who may sign in (the store keeps that), what a number means, how a text is read, how a change is kept.

pub mod api;

mod app;
mod assets;
mod bring;
mod catalogue;
mod computing;
mod copies;
pub mod due;
mod guard;
mod key;
mod loaded;
mod pages;
pub mod person;
mod refusal;
mod register;
mod shell;
mod sign;
mod sign_in;
mod tls;
mod uploads;
mod words;

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]
mod testing;

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]
mod at_random;

pub use app::App;
pub use bring::bring_parts;
pub use copies::{CopyFolder, KeptCopy};
pub use tls::{Certificate, Unusable, serve_tls};
pub use uploads::picture_for_paper;

use axum::Router;
use std::future::Future;
use std::net::SocketAddr;
use tokio::net::TcpListener;

/// All pages, behind the guard.
pub fn router(app: App) -> Router {
    Router::new()
        .merge(pages::routes())
        .merge(api::routes())
        .merge(assets::routes())
        .fallback(refusal::no_such_page)
        .layer(axum::middleware::map_response(refusal::in_our_words))
        .layer(axum::middleware::from_fn_with_state(app.clone(), sign_in::doorman))
        .layer(axum::middleware::from_fn_with_state(app.clone(), guard::guard))
        .with_state(app)
}

/// Serves the pages on a door that is already open, until `shutdown` is over; what is being answered then is finished.
/// Refuses when the door itself fails.
pub async fn serve(
    listener: TcpListener,
    app: App,
    shutdown: impl Future<Output = ()> + Send + 'static,
) -> std::io::Result<()> {
    let app = app.listening_on(listener.local_addr()?);
    app.make_ready();
    let service = router(app).into_make_service_with_connect_info::<SocketAddr>();
    axum::serve(listener, service).with_graceful_shutdown(shutdown).await
}
