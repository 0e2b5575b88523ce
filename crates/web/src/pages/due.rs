//! What is due across all bikes that were handed over: overdue, today, in the next thirty days; by bike, with its rider.

use super::build::head::shape;
use super::service::{Asked, OnDay, When, counted};
use crate::app::App;
use crate::due::{Bike, Bikes, bikes_of};
use crate::refusal::Refusal;
use crate::register::{Line, NO_TITLE};
use crate::shell::{Page, page};
use crate::words;
use axum::extract::{Query, State};
use axum::routing::{MethodRouter, get};
use jiff::civil::Date;
use maud::{Markup, html};
use std::sync::Arc;
use witnessmark_core::field::Choice;
use witnessmark_core::service::Service;

#[cfg(test)]
mod tests;

/// How many bikes stand in one part of the page before the rest is counted.
const MOST: usize = 100;
/// How many finished builds without a day are named before the rest is counted.
const NAMED: usize = 20;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

async fn show(State(app): State<App>, Query(asked): Query<OnDay>) -> Result<Markup, Refusal> {
    let asked = Asked::from(asked);
    let bikes = bikes_of(&app).await?;
    let due = [
        part_of(&bikes, asked.day, |when| matches!(when, When::Over(_))),
        part_of(&bikes, asked.day, |when| when == When::Today),
        part_of(&bikes, asked.day, |when| matches!(when, When::Ahead(_))),
    ];
    let finished = &bikes.finished_without;
    let finished = app.lines_of(&finished[..finished.len().min(NAMED)]).await?;
    let count = |part: &[OneBike<'_>]| part.iter().map(|one| one.services.len()).sum::<usize>();
    let [over, now, ahead] = &due;
    let main = html! {
        h1 { "Due" }
        p.links { a href={ "/due.json?day=" (asked.day) } { "as JSON" } }
        p.counts { (counted(count(over), count(now), count(ahead))) }
        p { (words::count(bikes.out.len(), "bike")) " handed over." }
        (asked.form())
        @for (part, title, id) in [(over, "Overdue", "overdue"), (now, "Today", "today"), (ahead, "In the next 30 days", "ahead")] {
            section.area aria-labelledby=(id) {
                h2 id=(id) { (title) }
                @if part.is_empty() { p.quiet { "Nothing." } }
                ol.bikes-due { @for one in part.iter().take(MOST) { (bike(one, asked.day)) } }
                @if part.len() > MOST { p { "And at " (words::count(part.len() - MOST, "more bike")) " that have waited less long." } }
            }
        }
        (not_counted(&bikes, &finished))
    };
    Ok(page(&Page { title: "Due", main }))
}

/// A bike with those of its services that belong here.
struct OneBike<'a> {
    bike: &'a Bike,
    services: Vec<(&'a Service, When)>,
}

/// The bikes with a service of this part of the page, the one that has waited longest first.
fn part_of(bikes: &Bikes, day: Date, belongs: fn(When) -> bool) -> Vec<OneBike<'_>> {
    let mut part: Vec<OneBike<'_>> = bikes
        .out
        .iter()
        .map(|bike| {
            let each = bike.plan.list.iter().map(|service| (service, When::of(service, day)));
            OneBike { bike, services: each.filter(|(_, when)| belongs(*when)).collect() }
        })
        .filter(|one| !one.services.is_empty())
        .collect();
    // A bike's services come earliest first, so its first says how long it has waited.
    part.sort_by_key(|one| one.services.first().and_then(|(service, _)| service.due_on.clone().ok()));
    part
}

fn bike(one: &OneBike<'_>, day: Date) -> Markup {
    let bike = one.bike;
    html! {
        li {
            h3 {
                a href={ "/builds/" (bike.id) "/service?day=" (day) } { (title(bike)) }
                @if let Some(rider) = &bike.rider { span.quiet { " " (rider) } }
            }
            ul {
                @for (service, when) in &one.services {
                    li {
                        a href={ "/builds/" (bike.id) "/service#service." (service.id) } { (service.name) }
                        " "
                        @let class = when.severity().map_or("", |severity| severity.name());
                        span class={ "count " (class) } {
                            @if let Some(severity) = when.severity() { (shape(severity)) }
                            (when.said())
                        }
                        @if let Ok(due) = service.due_on { span.quiet { " " (due) } }
                    }
                }
            }
        }
    }
}

fn title(bike: &Bike) -> &str {
    bike.title.as_deref().unwrap_or(NO_TITLE)
}

/// What does not count here, so that nobody takes silence for *nothing due*.
fn not_counted(bikes: &Bikes, finished: &[Arc<Line>]) -> Markup {
    let unreadable: Vec<&Bike> = bikes.out.iter().map(AsRef::as_ref).filter(|bike| bike.unreadable).collect();
    let without = bikes.builds.saturating_sub(bikes.out.len());
    html! {
        section.area aria-labelledby="not-counted" {
            h2 #not-counted { "Not counted here" }
            @if without == 0 && unreadable.is_empty() { p.quiet { "Every bike has its day of hand-over." } }
            @if without > 0 {
                p { (words::count(without, "build")) " without a day of hand-over: what is due on them is not known." }
            }
            @if !finished.is_empty() {
                p.says.caution { "Said to be finished, and without that day; if they are out, fill it in:" }
                ul {
                    @for line in finished {
                        li { a href={ "/builds/" (line.id) "#field.job.handed_over_on" } { (line.title()) } }
                    }
                    @if bikes.finished_without.len() > finished.len() {
                        li { "and " (bikes.finished_without.len() - finished.len()) " more" }
                    }
                }
            }
            @if !unreadable.is_empty() {
                p.says.stop { "Their kept day of hand-over cannot be read:" }
                ul { @for bike in unreadable.iter().take(MOST) { li { a href={ "/builds/" (bike.id) "#field.job.handed_over_on" } { (title(bike)) } } } }
            }
        }
    }
}
