//! The service plan of a bike: what wears, how often it is looked at, at what it is done with, what was read last, and
//! when it is next. Here it is also written down that it was done.

use super::build::head::shape;
use super::build::{capital, loaded};
use super::edit::{NOBODY, by};
use crate::app::{App, Mechanic};
use crate::due::AHEAD_DAYS;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::{key, words};
use axum::extract::{Form, Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get};
use jiff::civil::Date;
use maud::{Markup, html};
use serde::Deserialize;
use witnessmark_core::field::Choice;
use witnessmark_core::finding::{Severity, figure};
use witnessmark_core::service::{DueBy, Service, ServicePlan, service};
use witnessmark_sheets::finish::every;
use witnessmark_store::{Change, EditError};

#[cfg(test)]
mod tests;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(done)
}

/// The day for which is asked.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct OnDay {
    /// As typed; empty for today.
    day: String,
}

/// A day that was asked for and what it means.
pub(crate) struct Asked {
    pub(crate) typed: String,
    pub(crate) day: Date,
    refused: bool,
}

impl From<OnDay> for Asked {
    fn from(asked: OnDay) -> Self {
        let typed = asked.day.trim().to_owned();
        let day = typed.parse::<Date>().ok();
        Asked { refused: day.is_none() && !typed.is_empty(), day: day.unwrap_or_else(today), typed }
    }
}

impl Asked {
    /// The form that asks for another day.
    pub(super) fn form(&self) -> Markup {
        html! {
            form.try method="get" {
                div.field {
                    label for="day" { "as it stands on" }
                    input #day name="day" value=(if self.typed.is_empty() { self.day.to_string() } else { self.typed.clone() })
                        placeholder="2027-06-01" autocomplete="off" inputmode="numeric"
                        aria-invalid=[self.refused.then_some("true")] aria-describedby=[self.refused.then_some("day-note")];
                    @if self.refused {
                        div.note #day-note role="alert" {
                            p { "A day is written year, month, day: 2027-06-01. Shown is " (self.day) "." }
                        }
                    }
                }
                button { "Show that day" }
            }
        }
    }
}

fn today() -> Date {
    words::today().parse().unwrap_or_default()
}

/// How a service stands on a day, as a workshop sorts its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum When {
    /// So many days ago.
    Over(i32),
    Today,
    /// In so many days, not more than [`AHEAD_DAYS`].
    Ahead(i32),
    Later,
    /// There is no day to count from.
    Unknown,
}

impl When {
    pub(crate) fn of(service: &Service, day: Date) -> Self {
        let Ok(due) = &service.due_on else { return When::Unknown };
        match (*due - day).get_days() {
            days if days < 0 => When::Over(-days),
            0 => When::Today,
            days if days <= AHEAD_DAYS => When::Ahead(days),
            _ => When::Later,
        }
    }

    pub(super) fn said(self) -> String {
        let days = |days: i32| words::count(usize::try_from(days).unwrap_or_default(), "day");
        match self {
            When::Over(over) => format!("{} overdue", days(over)),
            When::Today => "due today".into(),
            When::Ahead(ahead) => format!("in {}", days(ahead)),
            When::Later => "later".into(),
            When::Unknown => "no day yet".into(),
        }
    }

    /// The class that colours it; the shape beside it says the same.
    pub(super) fn severity(self) -> Option<Severity> {
        match self {
            When::Over(_) => Some(Severity::Stop),
            When::Today | When::Unknown => Some(Severity::Caution),
            When::Ahead(_) | When::Later => None,
        }
    }
}

async fn show(State(app): State<App>, Path(id): Path<String>, Query(asked): Query<OnDay>) -> Result<Markup, Refusal> {
    Ok(whole(&*loaded(&app, &id).await?, &asked.into(), None))
}

/// That a service was done, as typed.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Typed {
    service: String,
    on: String,
    read: String,
    /// What the page showed, so that nothing is overwritten that nobody saw.
    was_on: String,
    was_read: String,
    who: String,
    key: String,
}

/// What was not taken, and why.
struct Refused<'a> {
    typed: &'a Typed,
    says: String,
    /// It is the reading that was not taken, not the day.
    of_reading: bool,
}

async fn done(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    Form(typed): Form<Typed>,
) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let plan = service(&loaded.build);
    let Some(of) = plan.of(&typed.service) else {
        // Done once and written down by the first tap of two; or no such service at all.
        if loaded.build.serviced.contains_key(&typed.service) {
            return Ok(Redirect::to(&format!("/builds/{}/service", loaded.id)).into_response());
        }
        return Err(Refusal::NothingSoNamed { name: typed.service, why: "this bike has no such service".into() });
    };
    let path = |key: &str| format!("serviced.{}.{key}", of.id);
    let (on, read) = (typed.on.trim(), typed.read.trim());
    if let Some((says, of_reading)) = not_taken(&path("on"), on, &path("read"), read) {
        let refused = Refused { typed: &typed, says, of_reading };
        let shown = whole(&loaded, &OnDay::default().into(), Some(&refused));
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, shown).into_response());
    }
    let by = by(&typed.who, &typed.key);
    let some = |text: &str| Some(text.to_owned()).filter(|text| !text.is_empty());
    let name = some(&by.who).filter(|who| who != NOBODY);
    let changes: Vec<Change> = [
        (path("on"), some(&typed.was_on), some(on)),
        // A reading belongs to its day: one that was not taken anew is no reading of today.
        (path("read"), some(&typed.was_read), some(read)),
        (path("by"), loaded.text(&path("by")).map(str::to_owned), name),
    ]
    .into_iter()
    .filter(|(_, before, after)| before != after)
    .map(|(path, before, after)| Change { path, before, after })
    .collect();
    let to = format!("/builds/{}/service#{}", loaded.id, anchor(&of.id));
    if changes.is_empty() {
        return Ok(Redirect::to(&to).into_response());
    }
    match mechanic.edit(&loaded.id, &changes, &by).await {
        Ok(_) => Ok(Redirect::to(&to).into_response()),
        Err(EditError::Clash(clashes)) => {
            let now = super::build::loaded(&app, &id).await?;
            let last = clashes.first().and_then(|clash| clash.last_change.as_ref());
            let says = format!(
                "{} wrote this service down meanwhile; what stands above is theirs. Nothing was overwritten; yours stands \
                 here to be put once more.",
                last.map_or("Somebody", |last| last.who.as_str())
            );
            let refused = Refused { typed: &typed, says, of_reading: false };
            Ok((StatusCode::CONFLICT, whole(&now, &OnDay::default().into(), Some(&refused))).into_response())
        }
        Err(other) => Err(other.into()),
    }
}

/// Why a day or a reading is not taken, and whether it is the reading.
fn not_taken(on_path: &str, on: &str, read_path: &str, read: &str) -> Option<(String, bool)> {
    if on.is_empty() {
        return Some(("Say on which day it was done: 2027-06-01.".into(), false));
    }
    let unreadable = |path: &str, text: &str| {
        let problem = witnessmark_intake::leaf(path, text).err()?;
        Some(capital(&format!("{}.", problem.sentence())))
    };
    if let Some(says) = unreadable(on_path, on) {
        return Some((says, false));
    }
    // A bench may be a day ahead of the clock that this machine goes by.
    let tomorrow = today().tomorrow().unwrap_or(Date::MAX);
    if on.parse::<Date>().is_ok_and(|on| tomorrow < on) {
        return Some((format!("{on} lies ahead: nothing is done on it yet."), false));
    }
    (!read.is_empty()).then(|| unreadable(read_path, read))?.map(|says| (says, true))
}

fn anchor(id: &str) -> String {
    format!("service.{id}")
}

fn whole(loaded: &Loaded, asked: &Asked, refused: Option<&Refused<'_>>) -> Markup {
    let plan = service(&loaded.build);
    let main = html! {
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { "Service" }
        p.links {
            a href={ "/builds/" (loaded.id) "/service/calendar.ics" } { "calendar file, iCalendar" }
            a href={ "/builds/" (loaded.id) "/service.json?day=" (asked.day) } { "as JSON" }
            a href="/due" { "due across all bikes" }
            a href={ "/builds/" (loaded.id) "/history" } { "changes" }
        }
        (in_short(&plan, asked.day))
        (counted_from(loaded, &plan))
        (asked.form())
        @for (title, id, belongs) in GROUPS {
            @let group: Vec<&Service> = plan.list.iter().filter(|one| belongs(When::of(one, asked.day))).collect();
            @if !group.is_empty() {
                section.area aria-labelledby=(id) {
                    h2 id=(id) { (title) }
                    ol.services { @for one in group { (item(loaded, one, asked.day, refused)) } }
                }
            }
        }
        (over_and_done(loaded, &plan))
    };
    page(&Page { title: &format!("Service of {}", loaded.title()), main })
}

/// The groups of the page: what it is called, the id of its heading, and what belongs in it.
type Group = (&'static str, &'static str, fn(When) -> bool);
const GROUPS: &[Group] = &[
    ("Overdue", "overdue", |when| matches!(when, When::Over(_))),
    ("Today", "today", |when| when == When::Today),
    ("In the next 30 days", "ahead", |when| matches!(when, When::Ahead(_))),
    ("No day to count from", "unknown", |when| when == When::Unknown),
    ("Later", "later", |when| when == When::Later),
];

/// The first thing anybody wants to know.
fn in_short(plan: &ServicePlan, day: Date) -> Markup {
    let count = |belongs: fn(When) -> bool| plan.list.iter().filter(|one| belongs(When::of(one, day))).count();
    let over = count(|when| matches!(when, When::Over(_)));
    let now = count(|when| when == When::Today);
    let ahead = count(|when| matches!(when, When::Ahead(_)));
    let unknown = count(|when| when == When::Unknown);
    html! {
        @if plan.list.is_empty() {
            p.lead { "No part is listed that wants service yet." }
        } @else {
            p.counts {
                (counted(over, now, ahead))
                @if unknown > 0 { span.count.caution { (shape(Severity::Caution)) (unknown) " without a day" } }
            }
        }
    }
}

/// How many are overdue, due today and coming up.
pub(super) fn counted(over: usize, now: usize, ahead: usize) -> Markup {
    html! {
        span class={ "count " (if over == 0 { "none" } else { "stop" }) } { (shape(Severity::Stop)) (over) " overdue" }
        span class={ "count " (if now == 0 { "none" } else { "caution" }) } { (shape(Severity::Caution)) (now) " today" }
        span class={ "count " (if ahead == 0 { "none" } else { "" }) } { (ahead) " in the next " (AHEAD_DAYS) " days" }
    }
}

fn counted_from(loaded: &Loaded, plan: &ServicePlan) -> Markup {
    let field = |path: &str| format!("/builds/{}#field.{path}", loaded.id);
    html! {
        @match &plan.from {
            Ok(from) => p { "Counted from hand-over, " (from) "." },
            Err(_) => {
                p.says.stop {
                    "This bike has no day of hand-over that can be read: nothing counts from it yet. "
                    a href=(field("job.handed_over_on")) { "Fill it in" } "."
                }
            }
        }
        @match plan.km_a_year {
            Some(km) => p.quiet { (figure(km, 0)) " km in a year; what comes first, the days or the kilometres, counts." },
            None => p.quiet {
                "By days alone: "
                a href=(field("rider.km_a_year")) { "what is ridden in a year" }
                " is not told, and who rides far is due sooner."
            },
        }
    }
}

fn item(loaded: &Loaded, one: &Service, day: Date, refused: Option<&Refused<'_>>) -> Markup {
    let when = When::of(one, day);
    let refused = refused.filter(|refused| refused.typed.service == one.id);
    let class = when.severity().map_or("", |severity| severity.name());
    html! {
        li id=(anchor(&one.id)) class={ "service " (class) } {
            h3 {
                (capital(&one.name)) " "
                span class={ "count " (class) } {
                    @if let Some(severity) = when.severity() { (shape(severity)) }
                    @if when != When::Later { (when.said()) }
                }
            }
            p { (one.action) }
            dl.facts {
                dt { "next" }
                dd {
                    @match &one.due_on {
                        Ok(due) => { b { (due) } ", " (why(one)) },
                        Err(missing) => { (capital(&missing.to_string())) "." },
                    }
                }
                dt { "how often" } dd { (every(one)) }
                @if let Some(limit) = &one.limit { dt { "done with at" } dd { (limit) } }
                dt { "last read" }
                dd { @match &one.read { Some(read) => b { (read) }, None => span.quiet { "nothing read yet" } } }
                dt { "last done" }
                dd {
                    @match one.last {
                        Some(last) => { (last) @if let Some(who) = &one.done_by { ", " (who) } },
                        None if loaded.build.job.handed_over_on.is_some() => span.quiet { "not since hand-over" },
                        None => span.quiet { "not yet" },
                    }
                }
                dt { "part" }
                dd { a href={ "/builds/" (loaded.id) "/part/" (one.part) } { (words::of_key(&one.part.trim_start_matches("parts.").replace('.', " "))) } }
                dt { "source" } dd.quiet { (one.source()) }
            }
            (form(loaded, one, day, refused))
        }
    }
}

/// Why it is due then.
fn why(one: &Service) -> &'static str {
    match one.by {
        DueBy::Agreed => "as agreed",
        DueBy::Part => "by the part",
        DueBy::Days => "by time",
        DueBy::Distance => "by what is ridden",
    }
}

fn form(loaded: &Loaded, one: &Service, day: Date, refused: Option<&Refused<'_>>) -> Markup {
    let id = |field: &str| format!("{field}-{}", one.id);
    let kept = |key: &str| loaded.text(&format!("serviced.{}.{key}", one.id)).unwrap_or_default();
    let today = day.to_string();
    let (on, read) = refused.map_or((today.as_str(), ""), |it| (it.typed.on.as_str(), it.typed.read.as_str()));
    let on_refused = refused.filter(|it| !it.of_reading);
    let read_refused = refused.filter(|it| it.of_reading);
    html! {
        details.fold open[refused.is_some()] {
            summary { "It was done" span.aside { ": " (one.name) } }
            form.done method="post" action={ "/builds/" (loaded.id) "/service" } {
                div.field {
                    label for=(id("on")) { "on" }
                    input id=(id("on")) name="on" value=(on) autocomplete="off" placeholder="2027-06-01" inputmode="numeric"
                        aria-invalid=[on_refused.map(|_| "true")] aria-describedby=[on_refused.map(|_| id("note"))];
                    @if let Some(refused) = on_refused { div.note id=(id("note")) role="alert" { p { (refused.says) } } }
                }
                div.field {
                    label for=(id("read")) { "what was read, with what" }
                    input id=(id("read")) name="read" value=(read) maxlength="200" autocomplete="off"
                        aria-invalid=[read_refused.map(|_| "true")]
                        aria-describedby=(if read_refused.is_some() { id("note") } else { id("limit") });
                    @if let Some(limit) = &one.limit { p.says id=(id("limit")) { "done with at: " (limit) } }
                    @else { p.says id=(id("limit")) { "empty where nothing is read" } }
                    @if let Some(refused) = read_refused { div.note id=(id("note")) role="alert" { p { (refused.says) } } }
                }
                input type="hidden" name="service" value=(one.id);
                input type="hidden" name="was_on" value=(kept("on"));
                input type="hidden" name="was_read" value=(kept("read"));
                input type="hidden" name="who" value="";
                input type="hidden" name="key" value=(key::draw());
                div.press { button { "Write it down" } }
            }
        }
    }
}

/// What is done once and was, and records of what this bike does not want any more.
fn over_and_done(loaded: &Loaded, plan: &ServicePlan) -> Markup {
    let over: Vec<_> = loaded.build.serviced.iter().filter(|(id, _)| plan.of(id).is_none()).collect();
    html! {
        @if !over.is_empty() {
            section.area aria-labelledby="over" {
                h2 #over { "Over and done" }
                ul {
                    @for (id, record) in over {
                        li {
                            (capital(&words::of_key(id)))
                            @if let Some(on) = &record.on { ", " (on.value) }
                            @if let Some(by) = &record.by { ", " (by.value) }
                            @if let Some(read) = &record.read { ": " (read.value) }
                        }
                    }
                }
            }
        }
    }
}
