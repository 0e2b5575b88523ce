//! What reaches the asked position: the search backwards, best first, and a button that takes a way into the build.

use super::build::loaded;
use super::edit::by;
use crate::app::{App, Mechanic};
use crate::key;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use axum::extract::{Form, Path, State};
use axum::response::Redirect;
use axum::routing::{MethodRouter, get};
use maud::{Markup, html};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;
use witnessmark_core::finding::figure;
use witnessmark_core::search::{FrontWay, Reach, RearWay, reach, shelf_part};
use witnessmark_store::Change;

#[cfg(test)]
mod tests;

/// How many ways of each kind a page shows; the terminal's `--json` lists all that were kept.
const SHOWN: usize = 25;

pub(super) fn methods() -> MethodRouter<App> {
    get(show).post(take)
}

async fn show(State(app): State<App>, Path(id): Path<String>) -> Result<Markup, Refusal> {
    let loaded = loaded(&app, &id).await?;
    Ok(app.compute(move || whole(&loaded)).await)
}

fn whole(loaded: &Loaded) -> Markup {
    let reach = reach(&loaded.build);
    let main = html! {
        p.back { a href={ "/builds/" (loaded.id) } { (loaded.title()) } }
        h1 { "What reaches the asked position" }
        (front(loaded, &reach))
        (rear(loaded, &reach))
    };
    page(&Page { title: &format!("What reaches the position of {}", loaded.title()), main })
}

fn front(loaded: &Loaded, reach: &Reach) -> Markup {
    let front = &reach.front;
    html! {
        section.area {
            h2 { "Hoods" }
            @if let Some(missing) = &front.missing { p.quiet { "No search: " (missing) "." } } @else {
                p {
                    (front.within) " of " (front.tried) " combinations come within " (figure(front.within_mm, 1)) " mm"
                    @if let Some(nearest) = front.nearest_mm { "; the nearest misses by " (figure(nearest, 1)) " mm" }
                    "."
                }
            }
            @if !front.ways.is_empty() {
                table.ways {
                    thead { tr {
                        th scope="col" { "parts" } th scope="col" { "miss" } th scope="col" { "forward" } th scope="col" { "up" }
                        th scope="col" { "spacers" } th scope="col" { "bar roll" } th scope="col" { "lever" }
                        th scope="col" { "toe-in" } th scope="col" { "gives up" } td {}
                    } }
                    tbody { @for (rank, way) in front.ways.iter().take(SHOWN).enumerate() { (front_row(loaded, rank, way)) } }
                }
                (more(front.ways.len()))
            }
        }
    }
}

fn front_row(loaded: &Loaded, rank: usize, way: &FrontWay) -> Markup {
    html! {
        tr {
            th scope="row" {
                (shelf_part(&way.stem)) @if way.flipped { ", the other way up" }
                @if way.bar != way.stem { " + " (shelf_part(&way.bar)) }
            }
            td data-is="miss" { (figure(way.miss_mm, 1)) }
            td data-is="forward" { (signed(way.off.x_mm)) }
            td data-is="up" { (signed(way.off.y_mm)) }
            td data-is="spacers" { (figure(way.spacers_under_mm, 1)) }
            td data-is="bar roll" { (figure(way.bar_roll_deg, 1)) "°" }
            td data-is="lever" { (figure(way.lever_from_end_mm, 1)) }
            td data-is="toe-in" { (figure(way.toe_in_mm, 1)) }
            td.words { (way.sacrifices.join("; ")) }
            td { (button(loaded, "front", rank)) }
        }
    }
}

fn rear(loaded: &Loaded, reach: &Reach) -> Markup {
    let rear = &reach.rear;
    html! {
        section.area {
            h2 { "Saddle" }
            @if let Some(missing) = &rear.missing { p.quiet { "No search: " (missing) "." } }
            @if !rear.ways.is_empty() {
                table.ways {
                    thead { tr {
                        th scope="col" { "parts" } th scope="col" { "miss" } th scope="col" { "forward" } th scope="col" { "up" }
                        th scope="col" { "tilt" } th scope="col" { "post out" } th scope="col" { "rail" }
                        th scope="col" { "gives up" } td {}
                    } }
                    tbody { @for (rank, way) in rear.ways.iter().take(SHOWN).enumerate() { (rear_row(loaded, rank, way)) } }
                }
                (more(rear.ways.len()))
            }
        }
    }
}

fn rear_row(loaded: &Loaded, rank: usize, way: &RearWay) -> Markup {
    html! {
        tr {
            th scope="row" { (shelf_part(&way.saddle)) " + " (shelf_part(&way.post)) }
            td data-is="miss" { (figure(way.miss_mm, 1)) }
            td data-is="forward" { (signed(way.off.x_mm)) }
            td data-is="up" { (signed(way.off.y_mm)) }
            td data-is="tilt" { (figure(way.tilt_deg, 1)) "°" }
            td data-is="post out" { (figure(way.post_extension_mm, 1)) }
            td data-is="rail" { (signed(way.rail_position_mm)) }
            td.words { (way.sacrifices.join("; ")) }
            td { (button(loaded, "rear", rank)) }
        }
    }
}

fn button(loaded: &Loaded, end: &str, rank: usize) -> Markup {
    html! {
        form method="post" {
            input type="hidden" name="end" value=(end);
            input type="hidden" name="rank" value=(rank);
            input type="hidden" name="seen" value=(loaded.revision);
            input type="hidden" name="key" value=(key::draw());
            input type="hidden" name="who" value="";
            button type="submit" aria-label={ "take way " (rank + 1) " of the " (end) } { "take" }
        }
    }
}

fn more(all: usize) -> Markup {
    html! { @if all > SHOWN { p.quiet { "… and " (all - SHOWN) " more." } } }
}

fn signed(value: f64) -> String {
    if value >= 0.05 { format!("+{}", figure(value, 1)) } else { figure(value, 1) }
}

#[derive(Debug, Deserialize)]
struct Take {
    /// `front` or `rear`.
    end: String,
    /// The place of the way in its list.
    rank: usize,
    /// The revision that the list was made from: the same revision gives the same list.
    seen: i64,
    key: String,
    #[serde(default)]
    who: String,
}

async fn take(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    Form(take): Form<Take>,
) -> Result<Redirect, Refusal> {
    let loaded = loaded(&app, &id).await?;
    if loaded.revision != take.seen {
        let what = "The build was changed since this list was made. Look at the new list and take a way from there.";
        return Err(Refusal::Incomplete(what.into()));
    }
    let asked = Arc::clone(&loaded);
    let reach = app.compute(move || reach(&asked.build)).await;
    let wanted = match take.end.as_str() {
        "front" => reach.front.ways.get(take.rank).map(|way| front_leaves(&loaded, way)),
        _ => reach.rear.ways.get(take.rank).map(|way| rear_leaves(&loaded, way)),
    };
    let wanted = wanted.ok_or_else(|| Refusal::Incomplete("There is no such way in the list.".into()))?;
    let changes: Vec<Change> = wanted
        .into_iter()
        .map(|(path, after)| Change { before: loaded.text(&path).map(str::to_owned), path, after })
        .filter(|change| change.before != change.after)
        .collect();
    // A way that the build has taken already changes nothing.
    if !changes.is_empty() {
        mechanic.edit(&loaded.id, &changes, &by(&take.who, &take.key)).await?;
    }
    Ok(Redirect::to(&format!("/builds/{}", loaded.id)))
}

/// What the fields are to say; `None` where a field is to be cleared.
pub(super) type Wanted = BTreeMap<String, Option<String>>;

fn front_leaves(loaded: &Loaded, way: &FrontWay) -> Wanted {
    let mut wanted = Wanted::new();
    from_shelf(loaded, &way.stem, &mut wanted);
    from_shelf(loaded, &way.bar, &mut wanted);
    let mut set = |key: &str, value: f64| wanted.insert(format!("settings.{key}"), Some(value.to_string()));
    set("spacers_under", way.spacers_under_mm);
    set("bar_roll", way.bar_roll_deg);
    for side in ["left", "right"] {
        set(&format!("lever_from_end_{side}"), way.lever_from_end_mm);
        set(&format!("toe_in_{side}"), way.toe_in_mm);
    }
    let flipped = way.flipped.then(|| "yes".to_owned());
    let was = loaded.text("settings.stem_flipped");
    // "no" and "not said" are the same stem: only a change of it is written.
    if flipped.is_some() || was == Some("yes") {
        wanted.insert("settings.stem_flipped".into(), flipped.or_else(|| Some("no".into())));
    }
    wanted
}

fn rear_leaves(loaded: &Loaded, way: &RearWay) -> Wanted {
    let mut wanted = Wanted::new();
    from_shelf(loaded, &way.saddle, &mut wanted);
    from_shelf(loaded, &way.post, &mut wanted);
    // The search is exact to the last digit and a rule reads halves: a tenth is what can be set.
    let mut set = |key: &str, value: f64| {
        wanted.insert(format!("settings.{key}"), Some(((value * 10.0).round() / 10.0).to_string()))
    };
    set("post_extension", way.post_extension_mm);
    set("rail_position", way.rail_position_mm);
    set("saddle_tilt", way.tilt_deg);
    wanted
}

/// A part of the shelf takes the place of the fitted one: every fact of the fitted one goes, every fact of the other comes.
/// A one-piece cockpit stands in the place of stem and bar.
pub(super) fn from_shelf(loaded: &Loaded, path: &str, wanted: &mut Wanted) {
    let Some((kind, _)) = path.strip_prefix("shelf.").and_then(|rest| rest.split_once('.')) else { return };
    let replaced: &[&str] = match kind {
        "cockpit" => &["cockpit", "stem", "bar"],
        "stem" => &["stem", "cockpit"],
        "bar" => &["bar", "cockpit"],
        "saddle" => &["saddle"],
        _ => &["post"],
    };
    for old in replaced {
        let prefix = format!("parts.{old}.");
        for path in loaded.leaves.keys().filter(|path| path.starts_with(&prefix)) {
            wanted.entry(path.clone()).or_insert(None);
        }
    }
    let prefix = format!("{path}.");
    for (path, text) in &loaded.leaves {
        if let Some(fact) = path.strip_prefix(&prefix) {
            wanted.insert(format!("parts.{kind}.{fact}"), Some(text.clone()));
        }
    }
}
