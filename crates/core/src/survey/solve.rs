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
    let planned = |readings: &[Reading]| layout.network(readings).plan(&layout.start).map_err(refused);
    for Assumption { item, reading, only_where_open } in assumptions(layout, all) {
        readings.push(reading);
        let needed = !only_where_open || {
            let without_it = planned(&readings[..readings.len() - 1])?.open_count();
            planned(&readings)?.open_count() < without_it
        };
        if needed {
            items.push(item);
            places.push(None);
        } else {
            readings.pop();
        }
    }
    let adjusted = Box::new(layout.network(&readings).adjust(&layout.start).map_err(refused)?);
    Ok(Solved { items, readings, places, adjusted })
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
