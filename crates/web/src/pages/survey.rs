//! The position taken from a real bike: the readings, each editable in its place, what follows from them with its
//! plus-minus, which reading to doubt, and the one reading more that would help most, shown on the drawing and taken there.

mod add;
mod drawing;
pub(super) mod findings;
mod next;
mod numbers;
mod readings;
mod take;

#[cfg(test)]
mod tests;

use super::build::fragment::{Fragment, revision};
use super::build::{loaded, told_nothing};
use crate::app::App;
use crate::key;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Path, Query, State};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use next::Proposal;
use serde::Deserialize;
use witnessmark_core::survey::{Survey, survey as worked_out};

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(add::add)
}

/// What the address may ask for.
#[derive(Debug, Default, Deserialize)]
struct Asked {
    /// The reading that was just added: what it did to the ellipses is shown.
    after: Option<String>,
}

async fn show(State(app): State<App>, Path(id): Path<String>, Query(asked): Query<Asked>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    Ok(app.compute(move || whole(&loaded, asked.after.as_deref(), &add::Typed::default())).await)
}

/// The whole page; what was typed into its forms when it was refused, and why.
fn whole(loaded: &Loaded, after: Option<&str>, typed: &add::Typed) -> Markup {
    let surveyed = Surveyed::of(loaded, after);
    let key = key::draw();
    let main = html! {
        (revision(loaded))
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { "Survey" }
        p.links {
            a href="#survey-findings" { "findings" } a href="#survey-numbers" { "position" }
            a href="#survey-readings" { "readings" } a href="#survey-add" { "add a reading" }
            a href={ "/compare?a=" (loaded.id) } { "compare" }
            a href={ "/builds/" (loaded.id) "/carry" } { "carry over" }
        }
        (told_nothing())
        div.top {
            (drawing::figure(&surveyed))
            (next::section(&surveyed, typed, &key))
        }
        (findings::list(&surveyed))
        (numbers::numbers(&surveyed))
        (numbers::points(&surveyed))
        (numbers::sides(&surveyed))
        (take::section(&surveyed, &key))
        (readings::list(loaded, &surveyed.survey))
        (add::form(loaded, typed))
    };
    page(&Page { title: &format!("Survey of {}", loaded.title()), main })
}

/// A build's survey with what the page shows of it.
struct Surveyed<'a> {
    loaded: &'a Loaded,
    survey: Survey,
    /// The reading to take next.
    next: Option<Proposal>,
    /// The same survey with room for the points of the next reading.
    with_next: Option<Survey>,
    /// What it was before the reading that was just added.
    before: Option<Survey>,
}

impl<'a> Surveyed<'a> {
    fn of(loaded: &'a Loaded, after: Option<&str>) -> Self {
        let survey = worked_out(&loaded.build);
        let next = Proposal::of(&survey);
        let with_next = next.as_ref().map(|next| worked_out(&next.planned_in(&loaded.build)));
        let before = after.filter(|name| loaded.build.survey.contains_key(*name)).map(|name| {
            let mut build = loaded.build.clone();
            build.survey.remove(name);
            worked_out(&build)
        });
        Surveyed { loaded, survey, next, with_next, before }
    }
}

/// What a change of one field changed on this page: nothing, unless the survey depends on the field.
pub(crate) fn changed(before: &Loaded, now: &Loaded, paths: &[String]) -> Vec<Fragment> {
    // Half the bar's diameter decides which slip would explain a tape to the bar.
    let decides =
        |path: &String| ["survey.", "parts.bar.", "parts.cockpit."].iter().any(|start| path.starts_with(start));
    let nobody_read = before.build.survey.is_empty() && now.build.survey.is_empty();
    if nobody_read || !paths.iter().any(decides) {
        return Vec::new();
    }
    // One key for both, so that it makes no difference.
    let key = key::draw();
    let (was, is) = (Surveyed::of(before, None), Surveyed::of(now, None));
    let mut pieces = pieces(&is, &key);
    let old = self::pieces(&was, &key);
    pieces.retain(|piece| !old.iter().any(|one| one.id == piece.id && one.html.0 == piece.html.0));
    if readings::shape(before) != readings::shape(now) {
        pieces.push(Fragment { id: "survey-readings".into(), html: readings::list(now, &is.survey) });
    }
    pieces
}

/// Everything on the page that follows from the readings.
fn pieces(surveyed: &Surveyed<'_>, key: &str) -> Vec<Fragment> {
    let one = |id: &str, html: Markup| Fragment { id: id.to_owned(), html };
    let mut all = vec![
        one("survey-drawing", drawing::figure(surveyed)),
        one("survey-next", next::section(surveyed, &add::Typed::default(), key)),
        one("survey-findings", findings::list(surveyed)),
        one("survey-numbers", numbers::numbers(surveyed)),
        one("survey-points", numbers::points(surveyed)),
        one("survey-sides", numbers::sides(surveyed)),
        one("survey-take", take::section(surveyed, key)),
    ];
    all.extend(readings::pieces(surveyed.loaded, &surveyed.survey));
    all
}
