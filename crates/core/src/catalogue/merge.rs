//! What becomes of a part when more is said about it: a better origin beats a worse one.

use super::entry::is_of_the_make;
use super::{Column, Entry};
use crate::field::{Given, Leaf, Origin};

/// What somebody says about a part: facts, and facts that are to be taken away.
#[derive(Clone, Debug, PartialEq)]
pub struct Incoming {
    /// The part as it would be if nothing else were known.
    pub entry: Entry,
    /// What is said to be not known: the fact that is kept is to go.
    pub not_known: Vec<Column>,
}

/// A fact before and after.
#[derive(Clone, Debug, PartialEq)]
pub struct FactChange {
    /// The place of the fact in the kind's fields.
    pub index: usize,
    /// What was known.
    pub before: Option<Leaf>,
    /// What is known from then on.
    pub after: Option<Leaf>,
}

/// What becomes of a part.
#[derive(Clone, Debug, PartialEq)]
pub enum Became {
    /// It was not in the catalogue.
    Added(Entry),
    /// Its facts change: a new version. Stock may change with them.
    Changed {
        /// The new version.
        entry: Entry,
        /// What is different in it.
        changes: Vec<FactChange>,
        /// How many facts were kept because they are better known than what was said.
        better_known: usize,
    },
    /// Only the number on the shelf changes.
    Restocked(Entry),
    /// It stays as it is.
    Unchanged {
        /// How many facts were kept because they are better known than what was said.
        better_known: usize,
    },
}

/// Joins what is said with what is kept.
///
/// A fact that is not mentioned stays as it is. A fact that is mentioned replaces the one that is kept, unless the kept one
/// has the better [`Origin`]; between two of the same origin the newer one holds. Name, price and note have no origin:
/// there the newer one holds always. Equal values are equal, however they were typed.
pub fn merge(kept: Option<&Entry>, said: &Incoming) -> Became {
    let Some(kept) = kept else {
        let mut entry = said.entry.clone();
        entry.version = 1;
        return Became::Added(entry);
    };
    let kind = kept.kind;
    let (was_from, now_from) =
        (kept.facts_from(), if says_origin(&said.entry) { said.entry.facts_from() } else { kept.facts_from() });
    let mut entry = kept.clone();
    let mut better_known = 0;
    for index in 0..kind.fields.len() {
        let goes = said.not_known.contains(&Column::Fact(index));
        let new = said.entry.fact(index);
        if new.is_none() && !goes {
            continue;
        }
        if is_of_the_make(kind, index) {
            let new_from = new.and_then(|leaf| leaf.origin).unwrap_or(said.entry.facts_from());
            if kept.fact(index).is_some() && kept.origin(index) < new_from {
                better_known += usize::from(kept.fact(index).map(|leaf| &leaf.value) != new.map(|leaf| &leaf.value));
                continue;
            }
            let same = same_value(kept.fact(index), new) && kept.origin(index) == new_from;
            if !same {
                entry.put(index, new.map(|leaf| Given { origin: Some(new_from), ..leaf.clone() }));
            }
        } else if !same_value(kept.fact(index), new) {
            entry.put(index, new.cloned());
        }
    }
    settle_origins(&mut entry, was_from, now_from);
    if said.not_known.contains(&Column::Stock) {
        entry.stock = None;
    } else if said.entry.stock.is_some() {
        entry.stock.clone_from(&said.entry.stock);
    }
    let changes = differences(kept, &entry);
    if !changes.is_empty() {
        entry.version = kept.version + 1;
        return Became::Changed { entry, changes, better_known };
    }
    if kept.stock.as_ref().map(|given| given.value) == entry.stock.as_ref().map(|given| given.value) {
        Became::Unchanged { better_known }
    } else {
        Became::Restocked(Entry { stock: entry.stock, ..kept.clone() })
    }
}

/// Facts that differ between two versions of a part, in value or in where they come from.
pub(super) fn differences(before: &Entry, after: &Entry) -> Vec<FactChange> {
    (0..before.kind.fields.len())
        .filter(|index| {
            if before.kind.fields[*index].name == "facts_from" {
                // Not to say where facts come from and to say “catalogue” are one.
                return before.facts_from() != after.facts_from();
            }
            let has_origin = is_of_the_make(before.kind, *index) && before.fact(*index).is_some();
            !same_value(before.fact(*index), after.fact(*index))
                || has_origin && before.origin(*index) != after.origin(*index)
        })
        .map(|index| FactChange { index, before: before.fact(index).cloned(), after: after.fact(index).cloned() })
        .collect()
}

fn same_value(one: Option<&Leaf>, other: Option<&Leaf>) -> bool {
    one.map(|leaf| &leaf.value) == other.map(|leaf| &leaf.value)
}

fn says_origin(entry: &Entry) -> bool {
    entry.text("facts_from").is_some()
}

/// The part's own origin may have changed. Each fact still says where it itself comes from: in so many words where that
/// differs from its part, and silently where it does not.
fn settle_origins(entry: &mut Entry, was_from: Origin, now_from: Origin) {
    let kind = entry.kind;
    let indexes: Vec<usize> = entry.facts().map(|(index, _)| index).collect();
    for index in indexes {
        let Some(leaf) = entry.fact(index).cloned() else { continue };
        let origin =
            is_of_the_make(kind, index).then_some(leaf.origin.unwrap_or(was_from)).filter(|origin| *origin != now_from);
        entry.put(index, Some(Given { origin, ..leaf }));
    }
    debug_assert_eq!(entry.facts_from(), now_from, "facts_from was merged with the other words of the workshop");
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops where it fails")]

    use super::*;
    use crate::catalogue::column;
    use crate::field::Value;
    use crate::part;

    fn leaf(value: f64) -> Leaf {
        Given::from(value).to_leaf()
    }

    fn word(text: &str) -> Leaf {
        Given { value: Value::Text(text.into()), typed: text.into(), origin: None }
    }

    fn stem(facts: &[(&str, Leaf)]) -> Entry {
        let kind = part::kind("stem").unwrap();
        let mut entry = Entry::new(kind, "plain");
        for (key, leaf) in facts {
            entry.set(column(kind, key).unwrap(), leaf.clone());
        }
        Entry { version: 1, ..entry }
    }

    fn said(facts: &[(&str, Leaf)]) -> Incoming {
        Incoming { entry: stem(facts), not_known: Vec::new() }
    }

    fn changed(kept: &Entry, said: &Incoming) -> (Entry, Vec<String>) {
        match merge(Some(kept), said) {
            Became::Changed { entry, changes, .. } => {
                let keys = changes.iter().map(|change| entry.kind.fields[change.index].key().to_owned()).collect();
                (entry, keys)
            }
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn what_is_not_mentioned_stays_and_what_is_mentioned_makes_a_new_version() {
        let kept = stem(&[("length", leaf(110.0)), ("angle", leaf(-6.0))]);
        let (entry, keys) = changed(&kept, &said(&[("length", leaf(120.0))]));
        assert_eq!(keys, ["length"]);
        assert_eq!((entry.number("length_mm"), entry.number("angle_deg")), (Some(120.0), Some(-6.0)));
        assert_eq!(entry.version, 2);
    }

    #[test]
    fn a_value_typed_otherwise_is_no_change() {
        let kept = stem(&[("length", leaf(110.0))]);
        let said = said(&[("length", Given { typed: "11 cm".into(), ..leaf(110.0) })]);
        assert_eq!(merge(Some(&kept), &said), Became::Unchanged { better_known: 0 });
    }

    #[test]
    fn a_better_origin_beats_a_worse_one_and_never_the_other_way_round() {
        let measured = stem(&[("length", leaf(109.4)), ("length.from", word("measured here"))]);
        let from_sheet = said(&[("facts_from", word("maker's sheet")), ("length", leaf(110.0)), ("angle", leaf(-6.0))]);
        let (entry, keys) = changed(&measured, &from_sheet);
        assert_eq!(keys, ["facts_from", "angle"]);
        assert_eq!((entry.number("length_mm"), entry.number("angle_deg")), (Some(109.4), Some(-6.0)));
        let at = |key| match column(entry.kind, key) {
            Some(Column::Fact(index)) => entry.origin(index),
            other => panic!("{other:?}"),
        };
        assert_eq!((at("length"), at("angle")), (Origin::Measured, Origin::Sheet));

        let assumed = stem(&[("facts_from", word("assumed")), ("length", leaf(100.0)), ("angle", leaf(0.0))]);
        let (entry, _) = changed(&assumed, &said(&[("facts_from", word("catalogue")), ("length", leaf(110.0))]));
        assert_eq!(entry.number("length_mm"), Some(110.0));
        let angle = entry.facts().find(|(index, _)| entry.kind.fields[*index].key() == "angle").unwrap();
        assert_eq!(angle.1.origin, Some(Origin::Assumed), "what was assumed is not made better by its neighbour");
    }

    #[test]
    fn a_measure_that_a_catalogue_contradicts_is_kept_and_counted() {
        let kept = stem(&[("facts_from", word("measured here")), ("length", leaf(109.4))]);
        let (entry, keys) = match merge(Some(&kept), &said(&[("length", leaf(110.0)), ("price", leaf(90.0))])) {
            Became::Changed { entry, changes, better_known } => {
                assert_eq!(better_known, 1);
                (entry.clone(), changes.len())
            }
            other => panic!("{other:?}"),
        };
        assert_eq!((entry.number("length_mm"), entry.number("price"), keys), (Some(109.4), Some(90.0), 1));
    }

    #[test]
    fn a_fact_said_to_be_not_known_goes() {
        let kept = stem(&[("length", leaf(110.0)), ("angle", leaf(-6.0))]);
        let length = column(kept.kind, "length").unwrap();
        let (entry, keys) = changed(&kept, &Incoming { entry: stem(&[]), not_known: vec![length] });
        assert_eq!((entry.number("length_mm"), keys.as_slice()), (None, ["length".to_owned()].as_slice()));
    }

    #[test]
    fn stock_changes_without_a_new_version() {
        let kept = stem(&[("length", leaf(110.0))]);
        let said = said(&[("stock", Given::from(4_u32).to_leaf())]);
        let Became::Restocked(entry) = merge(Some(&kept), &said) else { panic!("{:?}", merge(Some(&kept), &said)) };
        assert_eq!((entry.stock.as_ref().unwrap().value, entry.version), (4, 1));
    }
}
