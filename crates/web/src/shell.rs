//! What is around every page: its head, the house's name, the way to the other pages, and who is at the bench.

use crate::assets;
use crate::sign;
use maud::{DOCTYPE, Markup, html};

/// A page: its title and what stands in it.
pub(crate) struct Page<'a> {
    /// What the browser's tab says.
    pub(crate) title: &'a str,
    /// What stands in it, with its one `h1`.
    pub(crate) main: Markup,
}

/// The whole page.
pub(crate) fn page(page: &Page<'_>) -> Markup {
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
                link rel="icon" type="image/svg+xml" href=(assets::address("mark.svg"));
                script defer src=(assets::address("idiomorph.js")) {}
                script defer src=(assets::address("bench.js")) {}
            }
            body {
                a.skip href="#main" { "To the content" }
                header.house {
                    a.brand href="/builds" { (sign::brand()) span { "Witness Mark" } }
                    nav aria-label="Workshop" {
                        a href="/builds" { "builds" }
                        a href="/catalogue" { "catalogue" }
                        a href="/checks" { "checks" }
                    }
                    label.who {
                        span { "at the bench" }
                        input #who name="who" autocomplete="nickname" maxlength="40" placeholder="bench";
                    }
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
