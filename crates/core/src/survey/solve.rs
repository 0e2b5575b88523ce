//! The network solved: with the assumptions it needs, and with the readings that are left in.

use super::net::{Assumption, Item, Layout, assumptions};
use crate::model::Missing;
use std::collections::BTreeSet;
use witnessmark_mechanics::adjustment::{Adjustment, MOST_READINGS, Refusal};
use witnessmark_mechanics::network::{Reading, Taken};

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
    /// Where something is open: the same with every point held, very loosely, to where it usually is. A plumb line on a bike
    /// that may stand a third of a degree askew says strictly nothing of how far ahead a point is whose height nobody
    /// read; but no bike has that height anywhere.
    pub(super) loosely: Option<Box<Adjustment>>,
}

/// No point of a road bike lies further than this from where it usually is. Common practice, no source.
const USUAL_WITHIN_MM: f64 = 300.0;

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
    let loosely = (adjusted.open_count() > 0).then(|| loosely(layout, &readings, adjusted.values())).flatten();
    Ok(Solved { items, readings, places, adjusted, loosely })
}

fn loosely(layout: &Layout, readings: &[Reading], values: &[f64]) -> Option<Box<Adjustment>> {
    let held = layout.spots.iter().flat_map(|spot| [spot.x_mm, spot.y_mm]).map(|figure| Reading {
        taken: Taken::Itself(figure),
        value: figure.value(&layout.start),
        sd: USUAL_WITHIN_MM / 3.0_f64.sqrt(),
    });
    let all: Vec<Reading> = readings.iter().copied().chain(held).take(MOST_READINGS).collect();
    layout.network(&all).plan(values).ok().map(Box::new)
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
