//! The network solved: with the assumptions it needs, and with the readings that are left in.

use super::net::{Assumption, Item, Layout, assumptions};
use crate::model::Missing;
use std::collections::BTreeSet;
use witnessmark_mechanics::adjustment::{Adjustment, MOST_READINGS, Refusal};
use witnessmark_mechanics::network::Reading;

/// A solved network.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Solved {
    /// The readings that count, then the assumptions that were needed; in the order of the adjustment.
    pub(super) items: Vec<Item>,
    /// The same for the network.
    pub(super) readings: Vec<Reading>,
    /// For each item its place in the document's list; `None` for an assumption.
    pub(super) places: Vec<Option<usize>>,
    /// The adjustment.
    pub(super) adjusted: Box<Adjustment>,
}

/// Solves what was read, save for the readings at these places.
pub(super) fn solve(layout: &Layout, all: &[Item], without: &BTreeSet<usize>) -> Result<Solved, Missing> {
    let mut items: Vec<Item> = Vec::new();
    let mut readings: Vec<Reading> = Vec::new();
    let mut places = Vec::new();
    for (place, item) in all.iter().enumerate() {
        if item.value.is_none() || without.contains(&place) {
            continue;
        }
        let Some(reading) = layout.reading(item) else { continue };
        items.push(item.clone());
        readings.push(reading);
        places.push(Some(place));
    }
    let plan = |readings: &[Reading]| layout.network(readings).plan(&layout.start);
    for assumption in assume(&assumptions(layout, all), &mut readings, plan) {
        items.push(assumption.item.clone());
        places.push(None);
    }
    let adjusted = Box::new(layout.network(&readings).adjust(&layout.start).map_err(refused)?);
    Ok(Solved { items, readings, places, adjusted })
}

/// Adds the assumptions that count: those that always do, and those without which something would stay open.
pub(super) fn assume<'a>(
    all: &'a [Assumption],
    readings: &mut Vec<Reading>,
    plan: impl Fn(&[Reading]) -> Result<Adjustment, Refusal>,
) -> Vec<&'a Assumption> {
    let open = |readings: &[Reading]| plan(readings).map_or(0, |planned| planned.open_count());
    let mut made: Vec<&Assumption> = all.iter().filter(|assumption| !assumption.only_where_open).collect();
    readings.extend(made.iter().map(|assumption| assumption.reading));
    let mut left = open(readings);
    for assumption in all.iter().filter(|assumption| assumption.only_where_open) {
        if left == 0 {
            break;
        }
        readings.push(assumption.reading);
        let with_it = open(readings);
        if with_it < left {
            left = with_it;
            made.push(assumption);
        } else {
            readings.pop();
        }
    }
    made
}

pub(super) fn refused(refusal: Refusal) -> Missing {
    Missing::refused(match refusal {
        Refusal::TooMany => format!("a survey has at most {MOST_READINGS} readings"),
        Refusal::NotANumber => "the readings lead to no number".to_owned(),
        Refusal::DoesNotSettle => {
            "the readings contradict each other so grossly that no bike fits them: look for a slip of a hundred millimetres"
                .to_owned()
        }
    })
}
