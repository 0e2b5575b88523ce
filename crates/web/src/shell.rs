//! What is around every page: its head, the house's name, the way to the other pages, and who is at the bench.

use crate::assets;
use crate::sign;
use crate::sign_in::{self, Who};
use maud::{DOCTYPE, Markup, html};
use witnessmark_store::{ACTING_MS, Role, SessionKind};

/// A page: its title and what stands in it.
pub(crate) struct Page<'a> {
    /// What the browser's tab says.
    pub(crate) title: &'a str,
    /// What stands in it, with its one `h1`.
    pub(crate) main: Markup,
}

/// The whole page.
pub(crate) fn page(page: &Page<'_>) -> Markup {
    let asks = sign_in::asks();
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (page.title) " · Witness Mark" }
                link rel="preload" href=(assets::address("latin.woff2")) as="font" type="font/woff2" crossorigin;
                link rel="stylesheet" href=(assets::address("bench.css"));
                link rel="stylesheet" href=(assets::address("people.css"));
                link rel="icon" type="image/svg+xml" href=(assets::address("mark.svg"));
                script defer src=(assets::address("idiomorph.js")) {}
                script defer src=(assets::address("kept.js")) {}
                script defer src=(assets::address("bench.js")) {}
            }
            body data-looks[asks.role() == Some(Role::Viewer)] data-of=[asks.page_of()] data-rests=[rests(&asks)] {
                a.skip href="#main" { "To the content" }
                header.house {
                    a.brand href="/builds" { (sign::brand()) span { "Witness Mark" } }
                    nav aria-label="Workshop" {
                        a href="/builds" { "builds" }
                        a href="/due" { "due" }
                        a href="/catalogue" { "catalogue" }
                        a href="/checks" { "checks" }
                        @if asks.role() == Some(Role::Owner) { a href="/people" { "people" } }
                    }
                    (who(&asks))
                }
                main #main { (page.main) }
                footer.house {
                    p { "A part maker’s instructions and a qualified mechanic come first." }
                }
                noscript { p.noscript { "Without its script the fields of this page change nothing; its links and buttons work." } }
            }
        }
    }
}

/// After how many milliseconds without a touch whoever is at the bench rests, on a tablet without a network too.
fn rests(asks: &Who) -> Option<i64> {
    asks.session().filter(|session| session.kind == SessionKind::Bench && session.person.is_some()).map(|_| ACTING_MS)
}

/// Who is at the bench: typed, where there is no sign-in; else who is signed in, and the way to change that.
fn who(asks: &Who) -> Markup {
    html! {
        @match asks {
            Who::Here => {
                label.who {
                    span { "at the bench" }
                    input #who name="who" autocomplete="nickname" maxlength="40" placeholder="bench";
                }
            }
            Who::Stranger => {}
            Who::Known(session) if session.kind == SessionKind::Bench => {
                div.who {
                    @if let Some(person) = &session.person { input #who type="hidden" value=(person) data-signed; }
                    a href="/bench/turn" {
                        @match &session.person { Some(name) => { b { (name) } " at the bench" }, None => { "nobody at the bench" } }
                    }
                }
            }
            Who::Known(session) => {
                form.who method="post" action="/sign-out" {
                    input #who type="hidden" value=(session.person.as_deref().unwrap_or_default()) data-signed;
                    a href="/me" { b { (session.person.as_deref().unwrap_or_default()) } ", " (session.role) }
                    button { "sign out" }
                }
            }
        }
    }
}
