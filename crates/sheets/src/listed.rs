//! The parts of a bike as they stand on an order, a quote or an export: equal ones together, each with who brings it.

use crate::money::Cents;
use crate::words::of_key;
use witnessmark_core::Build;
use witnessmark_core::field::{Choice, Record, Value};
use witnessmark_core::part::{Condition, PartKind, Supplier};

/// A part, or several alike.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Listed {
    pub(crate) kind: &'static PartKind,
    /// The places where they go, in words; empty for a kind with one place.
    pub(crate) places: Vec<String>,
    pub(crate) name: Option<String>,
    pub(crate) supplier: Option<Supplier>,
    pub(crate) condition: Option<Condition>,
    /// The price of one.
    pub(crate) price: Option<Cents>,
    /// The mass of one.
    pub(crate) mass_g: Option<f64>,
    pub(crate) catalogue: Option<String>,
    pub(crate) serial: Option<String>,
    pub(crate) note: Option<String>,
}

impl Listed {
    pub(crate) fn count(&self) -> usize {
        self.places.len().max(1)
    }

    /// The kind in words.
    pub(crate) fn what(&self) -> String {
        of_key(self.kind.key)
    }

    /// The price of all of them.
    pub(crate) fn sum(&self) -> Option<Cents> {
        self.price.map(|price| price.times(self.count()))
    }

    /// The same part in another place.
    fn is_like(&self, other: &Listed) -> bool {
        self.kind.key == other.kind.key
            && self.name.is_some()
            && self.name == other.name
            && self.supplier == other.supplier
            && self.condition == other.condition
            && self.price == other.price
            && self.mass_g == other.mass_g
            && self.catalogue == other.catalogue
            && self.serial.is_none()
            && other.serial.is_none()
            && self.note == other.note
    }
}

/// Every part of the bike by itself, in the order of the walk-round.
pub(crate) fn each(build: &Build) -> Vec<Listed> {
    build.parts.each().into_iter().map(|(kind, place, record)| one(kind, place, record)).collect()
}

/// The parts of the bike, equal ones together.
pub(crate) fn together(build: &Build) -> Vec<Listed> {
    let mut all: Vec<Listed> = Vec::new();
    for part in each(build) {
        match all.iter_mut().find(|listed| listed.is_like(&part)) {
            Some(listed) => listed.places.extend(part.places),
            None => all.push(part),
        }
    }
    all
}

fn one(kind: &'static PartKind, place: &str, record: &dyn Record) -> Listed {
    let places = if place.is_empty() { Vec::new() } else { vec![of_key(place)] };
    Listed {
        kind,
        places,
        name: text(record, "name"),
        supplier: text(record, "supplied_by").and_then(|word| Supplier::from_name(&word)),
        condition: text(record, "condition").and_then(|word| Condition::from_name(&word)),
        price: record.number("price").and_then(Cents::of),
        mass_g: record.number("mass_g"),
        catalogue: text(record, "catalogue_id"),
        serial: text(record, "serial"),
        note: text(record, "note"),
    }
}

/// The text, or the word, of the field with this name.
fn text(record: &dyn Record, name: &str) -> Option<String> {
    let index = record.fields().iter().position(|field| field.name == name)?;
    match record.get(index)?.value {
        Value::Text(text) => Some(text),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a part that is not there is to stop the test")]

    use super::*;
    use witnessmark_core::build::sample::sample;

    #[test]
    fn equal_parts_stand_together_and_none_is_lost() {
        let mut build = sample();
        for place in ["front", "rear"] {
            let tyre = build.parts.tyre.make(place);
            tyre.name = Some("road tyre 28".into());
            (tyre.serial, tyre.note) = (None, None);
        }
        let alone = each(&build);
        let listed = together(&build);
        assert_eq!(listed.iter().map(Listed::count).sum::<usize>(), alone.len());
        let tyres = listed.iter().find(|part| part.kind.key == "tyre").unwrap();
        assert_eq!(tyres.places, ["front", "rear"]);
    }

    #[test]
    fn parts_with_serial_numbers_of_their_own_stay_apart() {
        let mut build = sample();
        for place in ["front", "rear"] {
            let wheel = build.parts.wheel.make(place);
            wheel.name = Some("wheel 44".into());
            wheel.serial = Some(place.into());
        }
        let wheels = together(&build).into_iter().filter(|part| part.kind.key == "wheel").count();
        assert_eq!(wheels, 2);
    }
}
