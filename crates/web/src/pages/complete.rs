//! Complete this build: the best parts for the places that are open, what each wish costs, and which wishes clash.
//!
//! The search is exact and may take seconds, so it is done beside the threads that answer everybody, by two at a time, and
//! ended when its time is over. Who asks the same again gets the same answer.

use super::build::{findings, loaded};
use super::catalogue::found;
use super::take::{self, Pick, Source};
use crate::app::App;
use crate::loaded::Loaded;
use crate::pages::build::parts::PartAt;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::words;
use axum::extract::{Path, Query, State};
use axum::http::header::REFRESH;
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};
use tokio::sync::Notify;
use witnessmark_core::field::Value;
use witnessmark_core::part::Places;
use witnessmark_core::search::complete::{Clashing, Completion, List, Order, Price, WishOf, complete_until, shelf};
use witnessmark_core::search::complete_exact::{Cost, Quantity};
use witnessmark_core::search::fitting::Spot;

#[cfg(test)]
mod tests;

/// How long a search may take before it is ended.
const MOST_TIME: Duration = Duration::from_secs(10);
/// How long an answer waits for a search, so that most are shown at once.
const PATIENCE: Duration = Duration::from_millis(1_500);
/// The most lists that are told.
const MOST_LISTS: usize = 10;
/// How many open questions of a list are named.
const QUESTIONS_SHOWN: usize = 6;

pub(super) fn methods() -> MethodRouter<App> {
    get(show)
}

/// A search under way or over.
#[derive(Debug)]
pub(crate) struct Completing {
    /// What it answers: the build at a revision, the catalogue at a place of its log, and the wishes.
    pub(crate) of: String,
    began: Instant,
    answer: Mutex<Option<Arc<Completion>>>,
    moved: Notify,
}

impl Completing {
    fn answer(&self) -> Option<Arc<Completion>> {
        self.answer.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }
}

/// What was typed into the form, and what it means.
#[derive(Debug)]
struct Asked {
    aim: String,
    budget: String,
    mass: String,
    lists: usize,
    in_stock: bool,
    judged: bool,
    replace: Vec<String>,
    /// The button was pressed.
    wanted: bool,
    order: Order,
    /// What is wrong with the budget and with the mass.
    refused: [Option<String>; 2],
}

impl Asked {
    fn new(fields: Vec<(String, String)>) -> Result<Self, Refusal> {
        let mut asked = Asked {
            aim: "price".into(),
            budget: String::new(),
            mass: String::new(),
            lists: 3,
            in_stock: false,
            judged: false,
            replace: Vec::new(),
            wanted: false,
            order: Order::default(),
            refused: [None, None],
        };
        for (name, text) in fields {
            match name.as_str() {
                "aim" => asked.aim = text,
                "budget" => asked.budget = text,
                "mass" => asked.mass = text,
                "lists" => asked.lists = text.trim().parse().unwrap_or(3).clamp(1, MOST_LISTS),
                "in_stock" => asked.in_stock = true,
                "judged" => asked.judged = true,
                "replace" => {
                    let Some(spot) = Spot::from_path(&text) else {
                        let why = "it is no place on the bike".into();
                        return Err(Refusal::NothingSoNamed { name: text, why });
                    };
                    asked.replace.push(spot.path());
                }
                "go" => asked.wanted = true,
                _ => {}
            }
        }
        // A price and a mass are read as they are everywhere, with units and decimal commas.
        let amount = |path: &str, typed: &str| match typed.trim() {
            "" => Ok(None),
            typed => match witnessmark_intake::leaf(path, typed) {
                Ok(leaf) => match leaf.value {
                    Value::Number(value) => Ok(Some(value)),
                    _ => Ok(None),
                },
                Err(problem) => Err(super::build::capital(&format!("{}.", problem.sentence()))),
            },
        };
        let (budget, mass) = (amount("parts.frame.price", &asked.budget), amount("parts.frame.mass", &asked.mass));
        asked.refused = [budget.clone().err(), mass.clone().err()];
        asked.order = Order {
            aim: match asked.aim.as_str() {
                "mass" => Quantity::Mass,
                "new parts" => Quantity::NewParts,
                _ => Quantity::Price,
            },
            budget: budget.ok().flatten(),
            mass_max_g: mass.ok().flatten(),
            lists: asked.lists,
            replace: asked.replace.clone(),
            in_stock: asked.in_stock,
            judged: asked.judged,
        };
        Ok(asked)
    }
}

/// What became of a question.
enum Answered {
    NotAsked,
    Crowded,
    Working(Duration),
    Done(Arc<Completion>),
}

async fn show(
    State(app): State<App>,
    Path(id): Path<String>,
    Query(fields): Query<Vec<(String, String)>>,
) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let asked = Asked::new(fields)?;
    let is_refused = asked.refused.iter().any(Option::is_some);
    let answered = if asked.wanted && !is_refused { answered(&app, &loaded, &asked).await } else { Answered::NotAsked };
    let again = matches!(answered, Answered::Crowded | Answered::Working(_));
    let status = if is_refused { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    let mut response = (status, whole(&loaded, &asked, &answered)).into_response();
    if again {
        response.headers_mut().insert(REFRESH, HeaderValue::from_static("2"));
    }
    Ok(response)
}

/// Asks, or finds what somebody asked before, and waits a moment for it.
async fn answered(app: &App, loaded: &Arc<Loaded>, asked: &Asked) -> Answered {
    let of = format!("{} {} {} {:?}", loaded.id, loaded.revision, loaded.catalogue.seq, asked.order);
    let job = if let Some(job) = app.completing(&of) {
        job
    } else {
        let Some(turn) = app.turn_to_complete() else { return Answered::Crowded };
        let job = Arc::new(Completing { of, began: Instant::now(), answer: Mutex::default(), moved: Notify::new() });
        app.keep_completing(Arc::clone(&job));
        let (work, loaded, order) = (Arc::clone(&job), Arc::clone(loaded), asked.order.clone());
        tokio::task::spawn_blocking(move || {
            let go_on = || work.began.elapsed() < MOST_TIME;
            let answer = complete_until(&loaded.build, loaded.catalogue.parts(), &order, &go_on);
            *work.answer.lock().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(answer));
            drop(turn);
            work.moved.notify_waiters();
        });
        job
    };
    let _ = tokio::time::timeout(PATIENCE, async {
        loop {
            let moved = job.moved.notified();
            if job.answer().is_some() {
                return;
            }
            moved.await;
        }
    })
    .await;
    job.answer().map_or(Answered::Working(job.began.elapsed()), Answered::Done)
}

fn whole(loaded: &Loaded, asked: &Asked, answered: &Answered) -> Markup {
    let title = format!("Complete {}", loaded.title());
    let main = html! {
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { "Complete this build" }
        p.lead {
            "The best parts for the places that are open, out of the shop’s catalogue and this build’s shelf, under every check that is decided by facts of parts. What it says to be the best is proven to be."
        }
        @match answered {
            Answered::NotAsked => {}
            Answered::Crowded => p.note role="alert" { "Two builds are being completed at this moment. This page asks again by itself." },
            Answered::Working(since) => {
                p.lead role="status" { "Searching, for " (since.as_secs()) " s now; it is ended after " (MOST_TIME.as_secs()) " s with what was found until then. This page looks again by itself." }
            }
            Answered::Done(answer) => (result(loaded, answer)),
        }
        (form(loaded, asked))
    };
    page(&Page { title: &title, main })
}

fn form(loaded: &Loaded, asked: &Asked) -> Markup {
    let own = shelf(&loaded.build);
    let offered = |key: &str| !loaded.catalogue.of_kind(key).is_empty() || own.iter().any(|part| part.kind.key == key);
    let fitted = loaded.build.parts.each().into_iter();
    let could_open: Vec<Spot> = fitted
        .filter(|(kind, ..)| kind.places != Places::Many && offered(kind.key))
        .map(|(kind, place, _)| Spot { kind, place: place.to_owned() })
        .collect();
    let amount = |name: &str, label: &str, says: &str, typed: &str, refused: &Option<String>| {
        let note = format!("{name}-note");
        html! {
            div class=(if refused.is_some() { "field refused" } else { "field" }) {
                label for=(name) { (label) }
                input.figure id=(name) name=(name) value=(typed) autocomplete="off" inputmode="decimal"
                    aria-describedby={ (name) "-says" @if refused.is_some() { " " (note) } } aria-invalid=[refused.is_some().then_some("true")];
                p.says id={ (name) "-says" } { (says) }
                @if let Some(refused) = refused { div.note id=(note) role="alert" { p { (refused) } } }
            }
        }
    };
    html! {
        form.complete-form method="get" action={ "/builds/" (loaded.id) "/complete" } {
            div.fields {
                div.field {
                    label for="aim" { "What is to be least" }
                    select #aim name="aim" {
                        @for (word, says) in [("price", "the price of the new parts"), ("mass", "the mass of the bike"), ("new parts", "the number of new parts")] {
                            option value=(word) selected[word == asked.aim] { (says) }
                        }
                    }
                }
                (amount("budget", "Budget", "What the new parts may cost together; empty for no limit.", &asked.budget, &asked.refused[0]))
                (amount("mass", "Mass", "What the bike may weigh, such as 7,4 kg or 7400; empty for no limit.", &asked.mass, &asked.refused[1]))
                div.field {
                    label for="lists" { "Lists" }
                    select #lists name="lists" { @for count in 1..=MOST_LISTS { option selected[count == asked.lists] { (count) } } }
                    p.says { "The best, and the next bests." }
                }
            }
            label.tick { input type="checkbox" name="in_stock" value="yes" checked[asked.in_stock]; span { "only what lies on the shop’s shelf" } }
            label.tick { input type="checkbox" name="judged" value="yes" checked[asked.judged]; span { "only parts of which everything is known that decides whether they fit" } }
            @if !could_open.is_empty() {
                fieldset {
                    legend { "Fitted, and to be chosen anew" }
                    ul { @for spot in &could_open {
                        li { label.tick {
                            input type="checkbox" name="replace" value=(spot.path()) checked[asked.replace.contains(&spot.path())];
                            span { (spot.words()) }
                        } }
                    } }
                }
            }
            p.press { button name="go" value="yes" { "Search" } }
        }
    }
}

fn result(loaded: &Loaded, answer: &Completion) -> Markup {
    let places = |spots: &[Spot]| spots.iter().map(Spot::words).collect::<Vec<_>>().join(", ");
    html! {
        section #result aria-labelledby="result-title" {
            h2 #result-title { "What was found" }
            @if let Some(refusal) = &answer.refusal {
                p.note role="alert" { "Nothing was searched: " (refusal) "." }
                @if answer.open.is_empty() { p { "Tick below what is fitted and may be chosen anew, or bring parts of the missing kinds into the catalogue." } }
            } @else {
                p { "Open: " (places(&answer.open)) "." }
                (verdict(answer))
            }
            @if !answer.without_candidates.is_empty() {
                p { b { "Open, and nothing on offer: " } (places(&answer.without_candidates)) ". They are left open." }
            }
            @if !answer.at_odds.is_empty() {
                h3 { "What stays does not go together, whatever is chosen" }
                ol.findings { @for finding in &answer.at_odds { (findings::one(loaded, finding)) } }
            }
            @for (count, why) in [(answer.not_counted, "price or mass not known"), (answer.out_of_stock, "not in stock")] {
                @if count > 0 { p.quiet { (words::count(count, "part")) " left aside: " (why) "." } }
            }
            @for (rank, list) in answer.lists.iter().enumerate() { (one_list(loaded, answer, rank, list)) }
            (prices(answer))
            @if let Some(clashing) = &answer.clashing { (clash(clashing)) }
            @if !answer.lists.is_empty() {
                p.quiet {
                    "Price is that of the new parts, mass that of the bike"
                    @if !answer.mass_not_known.is_empty() { "; the mass of " (answer.mass_not_known.len()) " of the parts that stay is not known and not counted" }
                    ". What needs settings or the position is not asked here: take a list and the build’s page says."
                }
            }
        }
    }
}

fn verdict(answer: &Completion) -> Markup {
    let none = answer.lists.is_empty();
    html! {
        @if answer.ended_early {
            p.note role="alert" {
                b { "Not proven. " } "The search was ended after " (MOST_TIME.as_secs()) " s. "
                @if none { "No list was found until then; there may be one." } @else { "These are the best found until then; there may be better ones." }
                " Open fewer places, or take only parts that lie here."
            }
        } @else if none && answer.proven {
            p.lead { b { "No list keeps every wish." } " This is proven." }
        } @else if answer.proven {
            p.lead { b { "Proven:" } " no list is better than the first." }
        } @else {
            p.note role="alert" { b { "Not proven. " } "After " (answer.steps) " steps the search was ended; there may be a better list." }
        }
    }
}

/// The parts of a list that are new, as they are taken.
fn picks(list: &List) -> Vec<Pick> {
    let new = list.picks.iter().filter(|pick| !pick.stays);
    new.map(|pick| {
        let at = PartAt { section: "parts", kind: pick.spot.kind.key, place: pick.spot.place.clone() };
        // A part of the catalogue is a version of something; one of the build's shelf is not.
        let id = pick.part.id.clone();
        let from = if pick.part.version == 0 { Source::Shelf(id) } else { Source::Catalogue(id) };
        Pick { at, from }
    })
    .collect()
}

fn one_list(loaded: &Loaded, answer: &Completion, rank: usize, list: &List) -> Markup {
    let best = answer.lists.first();
    let as_in_best = |pick| rank > 0 && best.is_some_and(|best| best.picks.contains(pick));
    let title = if rank == 0 { "The best list".to_owned() } else { format!("Number {}", rank + 1) };
    let id = format!("list-{}", rank + 1);
    let same = list.picks.iter().filter(|pick| as_in_best(pick)).count();
    html! {
        section aria-labelledby=(id) {
            h3 id=(id) { (title) }
            p.sum { (sum(list.cost, answer.staying_mass_g)) }
            table.becomes {
                thead { tr { th scope="col" { "place" } th scope="col" { "part" } th scope="col" { "price, mass, stock" } } }
                tbody {
                    @for pick in list.picks.iter().filter(|pick| !as_in_best(pick)) {
                        tr {
                            th scope="row" { (pick.spot.words()) }
                            td.figure data-label="part" { @if pick.part.name().is_empty() { "what is fitted" } @else { (pick.part.name()) } @if pick.stays { " " span.tag { "stays" } } }
                            td data-label="price, mass, stock" {
                                @if pick.stays { (found::mass(&pick.part)) } @else { (found::figures(&pick.part)) }
                            }
                        }
                    }
                }
            }
            @if same > 0 { p.quiet { "The other " (same) " as in the best list." } }
            @if !list.questions.is_empty() {
                details.fold {
                    summary { (words::count(list.questions.len(), "question")) " that cannot be judged" }
                    ol.findings { @for finding in list.questions.iter().take(QUESTIONS_SHOWN) { (findings::told(finding)) } }
                    @if list.questions.len() > QUESTIONS_SHOWN { p.quiet { "and " (list.questions.len() - QUESTIONS_SHOWN) " more, on the build’s page once it is taken" } }
                }
            }
            @let new = picks(list);
            @if new.is_empty() { p.quiet { "Everything stays as it is." } } @else {
                p.links { a href=(take::address(loaded, &new)) { "see what taking " (if rank == 0 { "it".to_owned() } else { format!("number {}", rank + 1) }) " would change" } }
            }
        }
    }
}

/// What a list comes to: price of what is new, mass of the whole bike.
#[allow(clippy::cast_possible_truncation, reason = "a bike is some ten million milligrams")]
fn sum(cost: Cost, staying_g: f64) -> Markup {
    let bike_mg = cost.mass_mg + (staying_g * 1000.0).round() as i64;
    html! {
        span { b { (cost.price_cents / 100) "." (format!("{:02}", cost.price_cents % 100)) } }
        span { b { (bike_mg / 1000) } " g" }
        span { (words::count(usize::try_from(cost.new_parts).unwrap_or_default(), "new part")) }
    }
}

fn wish(wish: &WishOf) -> String {
    match wish {
        WishOf::Limit(Quantity::Price) => "the budget".to_owned(),
        WishOf::Limit(Quantity::Mass) => "the mass".to_owned(),
        WishOf::Limit(Quantity::NewParts) => "the number of new parts".to_owned(),
        WishOf::Keep(spot) => format!("keeping the {}", spot.words()),
    }
}

fn prices(answer: &Completion) -> Markup {
    let costs = |price: &&Price| price.without.is_some();
    let free = answer.prices.iter().filter(|price| !costs(price)).count();
    html! {
        @if !answer.prices.is_empty() {
            h3 #wishes-title { "What each wish costs" }
            ul {
                @for price in answer.prices.iter().filter(costs) {
                    li {
                        b { (super::build::capital(&wish(&price.wish))) } ": "
                        @if let Some(next) = price.next { "the next step of it is " span.sum { (sum(next, answer.staying_mass_g)) } }
                        @if let Some(without) = price.without { "without it " span.sum { (sum(without, answer.staying_mass_g)) } }
                        @if !price.proven { " (not proven)" }
                    }
                }
                @if free > 0 { li.quiet { (free) (if free == 1 { " wish costs" } else { " wishes cost" }) " nothing: without any of them the best list is no better." } }
            }
        }
    }
}

fn clash(clashing: &Clashing) -> Markup {
    html! {
        div.clash role="alert" {
            @if clashing.wishes.is_empty() {
                p { b { "The parts on offer make no complete list" } ", even with every limit and every fitted part given up." }
            } @else {
                p { b { "These wishes clash:" } }
                ul { @for one in &clashing.wishes { li { (wish(one)) } } }
                p { @if clashing.smallest { "No smaller set of wishes clashes: give one of them up." } @else { "Each is needed for the clash; a smaller set may clash too." } }
            }
            @if clashing.spots.is_empty() { p { "What stays is beyond it already." } } @else {
                p { "Places that are enough for it: " (clashing.spots.iter().map(Spot::words).collect::<Vec<_>>().join(", ")) "." }
            }
        }
    }
}
