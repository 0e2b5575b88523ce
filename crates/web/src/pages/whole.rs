//! Pages that show one side of a build's plan and carry the fields on which it depends: bolts, tape, mass, tyres.
//!
//! Such a page is one piece. A change of a field on it is answered with the whole of it, and the script keeps what a person
//! has unfolded or is typing.

use super::build::fragment::{Fragment, new_since, revision};
use super::build::{loaded, told_nothing};
use crate::app::App;
use crate::loaded::Loaded;
use crate::pages::build::field::{Note, shown};
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Path, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};

/// A page that is one piece.
pub(super) struct Whole {
    /// Its word, as it stands in the address.
    pub(super) word: &'static str,
    /// Its title, before the name of the build.
    pub(super) title: &'static str,
    /// What stands on it below its `h1`.
    pub(super) body: fn(&Loaded) -> Markup,
}

static ALL: [&Whole; 4] = [&super::fasteners::WHOLE, &super::tape::WHOLE, &super::mass::WHOLE, &super::tyres::WHOLE];

impl Whole {
    /// What the page answers to.
    pub(super) fn methods(&'static self) -> MethodRouter<App> {
        get(async move |State(app): State<App>, Path(id): Path<String>| -> Result<Markup, Refusal> {
            let loaded = loaded(&app, &id).await?;
            Ok(app.compute(move || self.show(&loaded)).await)
        })
    }

    fn show(&self, loaded: &Loaded) -> Markup {
        let main = html! {
            (revision(loaded))
            p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
            h1 { (self.title) }
            (self.piece(loaded))
            (told_nothing())
        };
        page(&Page { title: &format!("{} of {}", self.title, loaded.title()), main })
    }

    fn piece(&self, loaded: &Loaded) -> Markup {
        html! { div #whole data-page=(self.word) { ((self.body)(loaded)) } }
    }
}

/// What a change changed on the page with this word; `None` where it is none of these pages.
pub(super) fn changed(word: &str, before: &Loaded, now: &Loaded) -> Option<Vec<Fragment>> {
    let whole = ALL.into_iter().find(|whole| whole.word == word)?;
    Some(new_since(whole.word, before, now, |loaded| vec![Fragment { id: "whole".into(), html: whole.piece(loaded) }]))
}

/// Fields of the document in their place.
pub(super) fn fields(loaded: &Loaded, paths: &[&str]) -> Markup {
    html! { div.fields { @for path in paths { (shown(loaded, path, Note::None).unwrap_or_default()) } } }
}
