//! The carried position taken into the other build: asked of it, and set there, in one change.

use super::super::build::loaded;
use super::super::edit::by;
use super::super::reach::{Wanted, from_shelf};
use crate::app::{App, Mechanic};
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use axum::extract::{Form, Path, State};
use axum::response::Redirect;
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use witnessmark_core::carry::{Carried, carry};
use witnessmark_core::field::{Leaf, Value};
use witnessmark_store::Change;

#[derive(Debug, Deserialize)]
pub(super) struct Take {
    onto: String,
    /// The revisions from which the page was made: the same two give the same settings.
    seen: i64,
    seen_onto: i64,
    key: String,
    #[serde(default)]
    who: String,
}

pub(super) async fn take(
    State(app): State<App>,
    mechanic: Mechanic,
    Path(id): Path<String>,
    Form(take): Form<Take>,
) -> Result<Redirect, Refusal> {
    let (from, onto) = (loaded(&app, &id).await?, loaded(&app, &take.onto).await?);
    let (of, on) = (Arc::clone(&from), Arc::clone(&onto));
    let changes = app.compute(move || wanted(&on, &carry(&of.build, &on.build))).await;
    // A second tap finds it done.
    if !changes.is_empty() {
        if (from.revision, onto.revision) != (take.seen, take.seen_onto) {
            let what =
                "One of the two builds was changed since this was worked out. Look at it again and take it from there.";
            return Err(Refusal::Incomplete(what.into()));
        }
        mechanic.edit(&onto.id, &changes, &by(&take.who, &take.key)).await?;
    }
    Ok(Redirect::to(&format!("/builds/{}", onto.id)))
}

/// Every field of the other build that is to say something else.
pub(super) fn wanted(onto: &Loaded, carried: &Carried) -> Vec<Change> {
    let mut wanted = Wanted::new();
    let front = carried.front.iter().flat_map(|way| [&way.stem, &way.bar]);
    for path in front.chain(carried.rear.iter().flat_map(|way| [&way.saddle, &way.post])) {
        from_shelf(onto, path, &mut wanted);
    }
    let is: BTreeMap<String, Leaf> = onto.build.leaves().into_iter().collect();
    let will: BTreeMap<String, Leaf> =
        carried.build.leaves().into_iter().map(|(path, leaf)| (path, as_set(leaf))).collect();
    let numbers: BTreeSet<&str> = carried.rows.iter().map(|row| row.number.id).collect();
    for path in is.keys().chain(will.keys()).filter(|path| ours(path, &numbers)) {
        let (now, then) = (is.get(path), will.get(path));
        if now.map(|leaf| &leaf.value) != then.map(|leaf| &leaf.value) {
            wanted.insert(path.clone(), then.map(|leaf| leaf.typed.clone()));
        }
    }
    wanted
        .into_iter()
        .map(|(path, after)| Change { before: onto.text(&path).map(str::to_owned), path, after })
        .filter(|change| change.before != change.after)
        .collect()
}

/// The fields that a position decides beside the parts: what is asked of its numbers, what the fitter's figures were taken
/// with, and the settings. What the search tried is nobody's wish.
fn ours(path: &str, numbers: &BTreeSet<&str>) -> bool {
    let mut steps = path.split('.');
    match (steps.next(), steps.next()) {
        (Some("asked"), Some(number)) => numbers.contains(number),
        (Some("fit" | "settings"), _) => true,
        _ => false,
    }
}

/// A length or an angle to the tenth: the search is exact to the last digit, and nobody sets a hundredth.
fn as_set(leaf: Leaf) -> Leaf {
    let Value::Number(exact) = leaf.value else { return leaf };
    // What somebody typed keeps its digits.
    if leaf.typed != exact.to_string() {
        return leaf;
    }
    let tenths = (exact * 10.0).round() / 10.0;
    Leaf { value: Value::Number(tenths), typed: tenths.to_string(), ..leaf }
}
