//! What would fit at a place of the bike: the parts of the catalogue and of the build's shelf in three groups, each with
//! its reason.

use super::Fragment;
use super::build::fragment::Answer;
use super::build::{capital, loaded, parts::PartAt};
use super::catalogue::found;
use super::take::{self, Pick, Source};
use crate::app::App;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Path, Query, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use std::cmp::Ordering;
use std::collections::HashMap;
use std::sync::Arc;
use witnessmark_core::catalogue::Entry;
use witnessmark_core::field::Choice;
use witnessmark_core::finding::Finding;
use witnessmark_core::search::complete::shelf;
use witnessmark_core::search::fitting::{Candidates, Fitting, Spot, Verdict, fitting};

#[cfg(test)]
mod tests;

/// How many parts of a group are listed; all are counted.
const LISTED: usize = 40;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

#[derive(Clone, Debug, Default, Deserialize)]
struct Asked {
    /// Words that a part must meet to be listed.
    #[serde(default)]
    q: String,
    /// What the lists are sorted by.
    #[serde(default)]
    sort: String,
    /// Only what lies on the shop's shelf.
    here: Option<String>,
}

/// A part that could stand at the place.
struct Row<'a> {
    entry: &'a Entry,
    from: Source,
    verdict: Verdict,
    reason: Option<&'a Finding>,
    /// Its place among those that meet the words, best first.
    rank: usize,
}

async fn show(
    State(app): State<App>,
    Path((id, path)): Path<(String, String)>,
    Query(asked): Query<Asked>,
    headers: HeaderMap,
) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let no_place = || Refusal::NothingSoNamed { name: path.clone(), why: "no part has its place there".into() };
    let at = PartAt::from_path(&path).filter(|at| at.section == "parts").ok_or_else(no_place)?;
    let spot = Spot::from_path(&path).ok_or_else(no_place)?;
    let pieces = headers.contains_key("x-pieces");
    let judged = Arc::clone(&loaded);
    let words = asked.clone();
    // Judging ten thousand parts takes milliseconds, and making them ready the first time more.
    let groups = app.compute(move || groups(&judged, &spot, &words)).await;
    if pieces {
        return Ok(Answer { status: StatusCode::OK, pieces: vec![groups], stale: false }.into_response());
    }
    Ok(whole(&loaded, &at, &asked, &groups).into_response())
}

fn whole(loaded: &Loaded, at: &PartAt, asked: &Asked, groups: &Fragment) -> Markup {
    let title = format!("What would fit: {}", at.words());
    let fitted = loaded.build.parts.record(at.kind, &at.place);
    let name = fitted
        .zip(witnessmark_core::part::kind(at.kind))
        .map(|(record, kind)| Entry::of(kind, record).name().to_owned());
    let action = format!("/builds/{}/fitting/{}", loaded.id, at.path());
    let main = html! {
        p.back { a href={ "/builds/" (loaded.id) "#part." (at.path()) } { (loaded.title()) } }
        h1 { (title) }
        p.lead {
            @match name {
                Some(name) if !name.is_empty() => { "Fitted now: " b { (name) } "." }
                Some(_) => "A part without a name is fitted now."
                None => "Nothing is fitted there yet."
            }
            " Every part is held against its neighbours on this bike by the checks that need nothing but facts of parts."
        }
        form.search role="search" method="get" action=(action) data-search {
            label for="q" { "Words and figures to narrow it" }
            span.box {
                input #q name="q" type="search" value=(asked.q) autocomplete="off" spellcheck="false" autocapitalize="off" maxlength="200";
                button { "Narrow" }
            }
            span.choices-of {
                label { "sorted by " select name="sort" {
                    @for word in ["price", "mass", "name"] { option selected[word == asked.sort] { (word) } }
                } }
                label.tick { input type="checkbox" name="here" value="yes" checked[asked.here.is_some()]; span { "only what lies here" } }
            }
        }
        (groups.html)
        p.links {
            a href={ "/builds/" (loaded.id) "/part/" (at.path()) } { "type the facts of a part by hand" }
            a href="/catalogue" { "the whole catalogue" }
        }
    };
    page(&Page { title: &title, main })
}

/// The three groups.
fn groups(loaded: &Loaded, spot: &Spot, asked: &Asked) -> Fragment {
    let ready = loaded.catalogue.ready(spot.kind);
    let own = Candidates::new(spot.kind, shelf(&loaded.build));
    let judged = fitting(&loaded.build, &spot.place, &ready.candidates);
    let own_judged = fitting(&loaded.build, &spot.place, &own);
    let wanted = narrowed(&ready.index, &ready.candidates, &asked.q);
    let mut all = rows(&own, &own_judged, |entry| Source::Shelf(entry.id.clone()));
    all.extend(rows(&ready.candidates, &judged, |entry| Source::Catalogue(entry.id.clone())));
    let total = all.len();
    if let Some(wanted) = wanted {
        all.retain_mut(|row| match (wanted.get(row.entry.id.as_str()), &row.from) {
            (Some(rank), Source::Catalogue(_)) => {
                row.rank = *rank;
                true
            }
            (_, Source::Shelf(_)) => meets(row.entry, &asked.q),
            (None, Source::Catalogue(_)) => false,
        });
    }
    if asked.here.is_some() {
        all.retain(|row| row.entry.stock.as_ref().is_none_or(|stock| stock.value > 0));
    }
    all.sort_by(|one, other| order(one, other, &asked.sort));
    let group = |belongs: fn(&Verdict) -> bool| all.iter().filter(|row| belongs(&row.verdict)).collect::<Vec<_>>();
    let fits = group(|verdict| matches!(verdict, Verdict::Fits | Verdict::FitsWith(_)));
    let open = group(|verdict| matches!(verdict, Verdict::NotKnown(_)));
    let not = group(|verdict| matches!(verdict, Verdict::DoesNotFit(_)));
    let html = html! {
        div #found data-found {
            p role="status" {
                @if total == 0 {
                    "No " (crate::words::of_key(spot.kind.key)) " is in the catalogue or on this build’s shelf. "
                    a href="/catalogue/import" { "Bring parts in" } "."
                } @else {
                    b { (fits.len()) " fit" } " · " b { (open.len()) " cannot be judged" } " · " b { (not.len()) " do not fit" }
                    @if all.len() < total { " · " (total - all.len()) " left aside" }
                }
            }
            (one_group(loaded, spot, "fits", "Fit every neighbour", &fits))
            (one_group(loaded, spot, "open", "Cannot be judged", &open))
            (one_group(loaded, spot, "not", "Do not fit", &not))
        }
    };
    Fragment { id: "found".into(), html }
}

fn rows<'a>(candidates: &'a Candidates, judged: &'a Fitting, from: impl Fn(&Entry) -> Source) -> Vec<Row<'a>> {
    let pairs = candidates.parts().iter().zip(&judged.verdicts);
    pairs
        .map(|(entry, verdict)| Row {
            entry,
            from: from(entry),
            verdict: *verdict,
            reason: judged.reason(*verdict),
            rank: 0,
        })
        .collect()
}

/// The parts that meet the words, each with its rank; `None` where there are no words.
fn narrowed<'a>(
    index: &'a witnessmark_core::catalogue::Index,
    candidates: &Candidates,
    typed: &str,
) -> Option<HashMap<&'a str, usize>> {
    let words = found::query(typed);
    if words.trim().is_empty() {
        return None;
    }
    let found = index.find(&words, candidates.parts().len());
    Some(found.best.iter().enumerate().map(|(rank, hit)| (hit.id, rank)).collect())
}

/// Whether a part of the build's shelf meets the words: the shelf is small and no index is kept of it.
fn meets(entry: &Entry, typed: &str) -> bool {
    witnessmark_core::catalogue::Index::new([entry]).find(typed, 1).all > 0
}

/// What is not known comes last.
fn order(one: &Row<'_>, other: &Row<'_>, sort: &str) -> Ordering {
    let figure = |row: &Row<'_>, name: &str| row.entry.number(name).unwrap_or(f64::INFINITY);
    let by = |name: &str| figure(one, name).total_cmp(&figure(other, name));
    let first = match sort {
        "mass" => by("mass_g"),
        "name" => Ordering::Equal,
        _ => by("price"),
    };
    first.then_with(|| one.entry.name().cmp(other.entry.name())).then_with(|| one.rank.cmp(&other.rank))
}

/// The shape of a group, told apart without colour: a line that goes through, one that is broken, a question.
fn shape(group: &str) -> Markup {
    let path = match group {
        "fits" => "M3 10.5 8 16 17 4",
        "not" => "M4 4l12 12M16 4 4 16",
        _ => "M6 7a4 4 0 1 1 6 3.4c-1.6 1-2 1.6-2 3.1M10 17v.6",
    };
    html! { svg.shape viewBox="0 0 20 20" aria-hidden="true" { path d=(path) {} } }
}

fn one_group(loaded: &Loaded, spot: &Spot, id: &str, title: &str, rows: &[&Row<'_>]) -> Markup {
    if rows.is_empty() {
        return html! {};
    }
    html! {
        section class={ "group " (id) } aria-labelledby={ (id) "-title" } {
            h2 id={ (id) "-title" } { (shape(id)) " " (title) " " small { (rows.len()) } }
            ol.hits { @for row in rows.iter().take(LISTED) { li { (one(loaded, spot, row)) } } }
            @if rows.len() > LISTED { p.quiet { "and " (rows.len() - LISTED) " more: type words or figures to narrow it" } }
        }
    }
}

fn one(loaded: &Loaded, spot: &Spot, row: &Row<'_>) -> Markup {
    let at = PartAt { section: "parts", kind: spot.kind.key, place: spot.place.clone() };
    let way = take::address(loaded, &[Pick { at, from: row.from.clone() }]);
    let fitted = loaded.build.parts.record(spot.kind.key, &spot.place);
    let is_fitted = matches!(&row.from, Source::Catalogue(id)
        if fitted.is_some_and(|record| Entry::of(spot.kind, record).text("catalogue_id") == Some(id)));
    html! {
        span.hit {
            a href=(way) { (capital(row.entry.name())) } " "
            (found::figures(row.entry)) " "
            @if matches!(row.from, Source::Shelf(_)) { span.tag { "on this build’s shelf" } }
            @if is_fitted { span.tag { "fitted now" } }
        }
        @if let Some(reason) = row.reason {
            p.reason {
                @if matches!(row.verdict, Verdict::FitsWith(_)) { b { (reason.severity.name()) ": " } }
                (reason.what) " " (reason.why)
                @if matches!(row.verdict, Verdict::NotKnown(_)) { " " b { "Do: " } (reason.action) }
                " " a.lesser href={ "/checks#" (reason.check) } { (reason.check) }
            }
        }
    }
}
