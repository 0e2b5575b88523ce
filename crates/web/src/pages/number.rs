//! One number of a build: what it is, how it is taken, how it was asked and read.

use super::build::{capital, fragment, loaded, numbers, told_nothing};
use crate::app::App;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Path, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use witnessmark_core::number;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

async fn show(State(app): State<App>, Path((id, name)): Path<(String, String)>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let Some(number) = number::by_id(&name) else {
        return Err(Refusal::NothingSoNamed { name, why: "no number has this id".into() });
    };
    let main = html! {
        (fragment::revision(&loaded))
        p.back { a href={ "/builds/" (loaded.id) "#of." (number.id) } { (loaded.title()) } }
        h1 { (capital(number.name)) }
        (told_nothing())
        (numbers::table_of(&loaded, &[number], number.name))
        (numbers::more(&loaded, number))
    };
    Ok(page(&Page { title: number.name, main }))
}
