//! At the stand: the work of this bike step by step, made for a tablet at arm's length.
//!
//! The whole work is one page. A step is shown when the address names it (`#step-cut-steerer`), so that going from step to
//! step needs no network; without a name in the address the list of steps is shown. What is typed is kept on the tablet
//! until the program has answered for it: see `bench.js`.

mod list;
mod step;

#[cfg(test)]
mod tests;

use super::build::fragment::{Fragment, new_since, revision};
use super::build::{loaded, told_nothing};
use crate::app::App;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Path, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use witnessmark_core::stand::{Work, stand};

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

async fn show(State(app): State<App>, Path(id): Path<String>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    Ok(app.compute(move || whole(&loaded)).await)
}

fn whole(loaded: &Loaded) -> Markup {
    let work = stand(&loaded.build, &loaded.plan);
    let main = html! {
        (revision(loaded))
        div #stand {
            (list::head(loaded, &work))
            (told_nothing())
            // What this tablet cannot do is for its script to find out.
            div #tablet {}
            (list::list(loaded, &work))
            @for at in 0..work.steps.len() { (step::section(loaded, &work, at)) }
        }
    };
    page(&Page { title: &format!("At the stand: {}", loaded.title()), main })
}

/// What a change changed on this page.
pub(crate) fn changed(before: &Loaded, now: &Loaded) -> Vec<Fragment> {
    new_since("stand", before, now, |loaded| pieces(loaded, &stand(&loaded.build, &loaded.plan)))
}

fn pieces(loaded: &Loaded, work: &Work) -> Vec<Fragment> {
    let one = |id: &str, html: Markup| Fragment { id: id.to_owned(), html };
    let mut all = vec![one("stand-head", list::head(loaded, work)), one("stand-list", list::list(loaded, work))];
    for (at, step) in work.steps.iter().enumerate() {
        all.push(Fragment { id: step::id_of(&step.key), html: step::section(loaded, work, at) });
    }
    all
}
