//! A part of the catalogue, and the columns in which it is written.

use crate::field::{Choice, Field, FieldValue, Given, Kind, Leaf, Origin, Record, Value, WrongKind};
use crate::part::{COMMON_FACTS, PartKind, Parts};
use crate::record;

record! {
    /// What a catalogue keeps of a part beside its facts. It changes without making a new version.
    pub struct Listing {
        stock: Count(0.0..1_000_000.0) "How many lie on the shelf.",
    }
}

/// Facts that speak of one specimen and not of its make: a catalogue keeps none of them.
pub const OF_A_SPECIMEN: &[&str] = &["supplied_by", "condition", "wear", "serial", "catalogue_id", "catalogue_version"];

/// The field in which a fact's own origin is written.
const ORIGIN: Field = Field {
    name: "from",
    kind: Kind::Choice(Origin::NAMES),
    low: f64::NEG_INFINITY,
    high: f64::INFINITY,
    says: "Where this very fact comes from, where that differs from the rest of its part.",
};

/// A column of a kind's table, beside the part's id.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Column {
    /// How many lie on the shelf.
    Stock,
    /// The fact at this place in the kind's fields.
    Fact(usize),
    /// Where that fact comes from.
    From(usize),
}

impl Column {
    /// The key by which it is written: `stock`, `length`, `length.from`.
    pub fn key(self, kind: &PartKind) -> String {
        match self {
            Column::Stock => Listing::FIELDS[0].key().to_owned(),
            Column::Fact(index) => kind.fields[index].key().to_owned(),
            Column::From(index) => format!("{}.from", kind.fields[index].key()),
        }
    }

    /// What stands in it.
    pub fn field(self, kind: &PartKind) -> Field {
        match self {
            Column::Stock => Listing::FIELDS[0],
            Column::Fact(index) => kind.fields[index],
            Column::From(_) => ORIGIN,
        }
    }
}

/// The columns of a kind, in the order in which they are written, without those for origins.
pub fn columns(kind: &'static PartKind) -> impl Iterator<Item = Column> {
    let facts = kind.fields.iter().enumerate().filter(|(_, field)| !OF_A_SPECIMEN.contains(&field.name));
    facts
        .map(|(index, _)| Column::Fact(index))
        .enumerate()
        .flat_map(|(place, column)| if place == 0 { [Some(column), Some(Column::Stock)] } else { [Some(column), None] })
        .flatten()
}

/// The column of a kind with this key.
pub fn column(kind: &'static PartKind, key: &str) -> Option<Column> {
    let (fact, of_origin) = match key.strip_suffix(".from") {
        Some(fact) => (fact, true),
        None => (key, false),
    };
    let found = columns(kind).find(|column| column.field(kind).key() == fact)?;
    match (found, of_origin) {
        (Column::Fact(index), true) => is_of_the_make(kind, index).then_some(Column::From(index)),
        (_, true) => None,
        (column, false) => Some(column),
    }
}

/// Whether the fact at this place was read or measured on the part, so that it has an origin: name, price and note are
/// the workshop's own words, and the newest ones hold.
pub(super) fn is_of_the_make(kind: &PartKind, index: usize) -> bool {
    index >= COMMON_FACTS || kind.fields[index].name.starts_with("mass")
}

/// A part of the catalogue.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its kind.
    pub kind: &'static PartKind,
    /// Its id among the parts of its kind: small letters, figures and hyphens.
    pub id: String,
    /// Which version of its facts this is; 0 as long as it is not kept anywhere.
    pub version: u32,
    /// How many lie on the shelf; `None` where nobody counts.
    pub stock: Option<Given<u32>>,
    /// What is known, by the place of the fact in the kind's fields, ascending.
    pub(super) facts: Vec<(usize, Leaf)>,
}

impl Entry {
    /// A part of which nothing is known yet.
    pub fn new(kind: &'static PartKind, id: impl Into<String>) -> Self {
        Entry { kind, id: id.into(), version: 0, stock: None, facts: Vec::new() }
    }

    /// What is known, each with its place in the kind's fields, ascending.
    pub fn facts(&self) -> impl Iterator<Item = (usize, &Leaf)> {
        self.facts.iter().map(|(index, leaf)| (*index, leaf))
    }

    /// The fact at this place in the kind's fields.
    pub fn fact(&self, index: usize) -> Option<&Leaf> {
        let at = self.facts.binary_search_by_key(&index, |(index, _)| *index).ok()?;
        Some(&self.facts[at].1)
    }

    /// The fact with this name, unit last: `length_mm`.
    pub fn named(&self, name: &str) -> Option<&Leaf> {
        self.fact(self.kind.fields.iter().position(|field| field.name == name)?)
    }

    /// A quantity by its name, in the unit the name says; `None` where it is not known or no quantity.
    pub fn number(&self, name: &str) -> Option<f64> {
        match self.named(name)?.value {
            Value::Number(value) => Some(value),
            Value::Count(value) => Some(f64::from(value)),
            _ => None,
        }
    }

    /// A text or the word of a choice, by the name of its field.
    pub fn text(&self, name: &str) -> Option<&str> {
        match &self.named(name)?.value {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }

    /// What the workshop calls it; its id where it has no name.
    pub fn name(&self) -> &str {
        self.text("name").unwrap_or(&self.id)
    }

    /// Fills or clears the fact at this place. A value of another kind is the caller's mistake and changes nothing.
    pub fn put(&mut self, index: usize, leaf: Option<Leaf>) {
        match (self.facts.binary_search_by_key(&index, |(index, _)| *index), leaf) {
            (Ok(at), Some(leaf)) => self.facts[at].1 = leaf,
            (Ok(at), None) => {
                self.facts.remove(at);
            }
            (Err(at), Some(leaf)) => self.facts.insert(at, (index, leaf)),
            (Err(_), None) => {}
        }
    }

    /// Fills a column with what was read for it; an origin needs its fact to be there.
    pub fn set(&mut self, column: Column, leaf: Leaf) {
        match column {
            Column::Stock => self.stock = Given::from_leaf(&leaf),
            Column::Fact(index) => {
                let origin = leaf.origin.or(self.fact(index).and_then(|leaf| leaf.origin));
                self.put(index, Some(Given { origin, ..leaf }));
            }
            Column::From(index) => {
                let origin = Origin::from_value(&leaf.value);
                let at = self.facts.binary_search_by_key(&index, |(index, _)| *index);
                if let Ok(at) = at {
                    self.facts[at].1.origin = origin;
                }
            }
        }
    }

    /// Where its facts come from, unless a fact says otherwise. What is written in a catalogue and does not say, comes
    /// from a catalogue.
    pub fn facts_from(&self) -> Origin {
        self.text("facts_from").and_then(Origin::from_name).unwrap_or(Origin::Catalogue)
    }

    /// Where the fact at this place comes from.
    pub fn origin(&self, index: usize) -> Origin {
        self.fact(index).and_then(|leaf| leaf.origin).unwrap_or_else(|| self.facts_from())
    }

    /// Every fact as it is kept: key and text as typed; an origin of its own follows its fact. Stock is no fact.
    pub fn leaves(&self) -> Vec<(String, String)> {
        let mut leaves = Vec::with_capacity(self.facts.len());
        for (index, leaf) in &self.facts {
            let key = self.kind.fields[*index].key();
            leaves.push((key.to_owned(), leaf.typed.clone()));
            if let Some(origin) = leaf.origin {
                leaves.push((format!("{key}.from"), origin.name().to_owned()));
            }
        }
        leaves
    }

    /// Copies the facts into a place of a build's parts, with the id and the version they were taken from.
    ///
    /// Where another part of the catalogue stands, it makes room whole. Otherwise what stands there is taken for the same
    /// part: a fact that is better known stays ([`Origin`]), since what was measured on the very part is not overwritten
    /// by what a catalogue says of its make; and so does what the catalogue does not know and what only a specimen has.
    /// Refuses a fact of the wrong kind of value.
    pub fn fit(&self, parts: &mut Parts, place: &str) -> Result<(), WrongKind> {
        let Some(record) = parts.record_mut(self.kind.key, place) else {
            return Err(WrongKind { field: self.kind.key });
        };
        let mut there = Entry::of(self.kind, &*record);
        if there.text("catalogue_id").is_some_and(|id| id != self.id) {
            there = Entry::new(self.kind, "");
        }
        let was_from = there.text("facts_from").and_then(Origin::from_name);
        let word = |text: &str| Given { value: Value::Text(text.to_owned()), typed: text.to_owned(), origin: None };
        for (index, field) in self.kind.fields.iter().enumerate() {
            let kept = there.fact(index);
            let kept_from = kept.and_then(|leaf| leaf.origin).or(was_from);
            let has_origin = is_of_the_make(self.kind, index);
            let leaf = match field.name {
                "facts_from" => Some(word(self.facts_from().name())),
                "catalogue_id" => Some(word(&self.id)),
                "catalogue_version" => Some(Given::from(self.version.max(1)).to_leaf()),
                name if OF_A_SPECIMEN.contains(&name) => kept.cloned(),
                _ => match self.fact(index) {
                    Some(fact) if !(has_origin && kept_from.is_some_and(|from| from < self.origin(index))) => {
                        Some(fact.clone())
                    }
                    // What stays keeps its origin when that of the part changes around it.
                    _ if has_origin => kept.map(|leaf| Given { origin: kept_from, ..leaf.clone() }),
                    _ => kept.cloned(),
                },
            };
            record.put(index, leaf)?;
        }
        Ok(())
    }

    /// The facts of a part of a build, as a part of no catalogue.
    pub fn of(kind: &'static PartKind, record: &dyn Record) -> Self {
        let mut entry = Entry::new(kind, "");
        entry.facts = (0..kind.fields.len()).filter_map(|index| Some((index, record.get(index)?))).collect();
        entry
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

    use super::*;
    use crate::part::{self, KINDS};

    fn stem(length_mm: f64) -> Entry {
        let kind = part::kind("stem").unwrap();
        let mut entry = Entry::new(kind, "plain-stem");
        let Some(Column::Fact(index)) = column(kind, "length") else { unreachable!("a stem has a length") };
        entry.put(index, Some(Given::from(length_mm).to_leaf()));
        entry
    }

    #[test]
    fn every_column_is_found_by_its_key_and_a_specimens_facts_are_none() {
        for kind in KINDS {
            for there in columns(kind) {
                assert_eq!(column(kind, &there.key(kind)), Some(there), "{}", kind.key);
            }
            for specimen in OF_A_SPECIMEN {
                assert_eq!(column(kind, specimen), None, "{}: {specimen}", kind.key);
                assert!(kind.fields.iter().any(|field| field.name == *specimen), "{specimen} is no fact");
            }
            assert_eq!(columns(kind).filter(|column| *column == Column::Stock).count(), 1);
        }
    }

    #[test]
    fn words_of_the_workshop_have_no_origin_and_measures_have_one() {
        let kind = part::kind("stem").unwrap();
        assert_eq!(column(kind, "price.from"), None);
        assert_eq!(column(kind, "stock.from"), None);
        assert!(matches!(column(kind, "mass.from"), Some(Column::From(_))));
        assert!(matches!(column(kind, "length.from"), Some(Column::From(_))));
    }

    #[test]
    fn a_build_copies_the_facts_and_remembers_the_version() {
        let mut entry = stem(110.0);
        entry.version = 3;
        let mut parts = Parts::default();
        entry.fit(&mut parts, "").unwrap();
        let fitted = parts.stem.at("").unwrap();
        assert_eq!(fitted.length_mm.as_ref().unwrap().value.to_bits(), 110.0_f64.to_bits());
        assert_eq!(fitted.catalogue_id.as_ref().unwrap().value, "plain-stem");
        assert_eq!(fitted.catalogue_version.as_ref().unwrap().value, 3);
        assert_eq!(fitted.facts_from.as_ref().unwrap().value, Origin::Catalogue);
    }

    #[test]
    fn what_was_measured_on_the_part_is_not_overwritten_by_what_a_catalogue_says() {
        let mut parts = Parts::default();
        let there = parts.stem.make("");
        there.length_mm = Some(Given { origin: Some(Origin::Measured), ..Given::from(109.4) });
        there.angle_deg = Some(Given { origin: Some(Origin::Assumed), ..Given::from(-6.0) });
        there.serial = Some("A 17".into());
        stem(110.0).fit(&mut parts, "").unwrap();
        let fitted = parts.stem.at("").unwrap();
        assert_eq!(fitted.length_mm, Some(Given { origin: Some(Origin::Measured), ..Given::from(109.4) }));
        assert_eq!(fitted.angle_deg.as_ref().unwrap().origin, Some(Origin::Assumed), "the catalogue does not know it");
        assert_eq!(fitted.serial, Some("A 17".into()));
    }

    #[test]
    fn an_assumption_gives_way_to_what_a_catalogue_says() {
        let mut parts = Parts::default();
        parts.stem.make("").length_mm = Some(Given { origin: Some(Origin::Assumed), ..Given::from(100.0) });
        stem(110.0).fit(&mut parts, "").unwrap();
        assert_eq!(parts.stem.at("").unwrap().length_mm, Some(Given::from(110.0)));
    }

    #[test]
    fn another_part_makes_room_whole() {
        let mut parts = Parts::default();
        stem(110.0).fit(&mut parts, "").unwrap();
        let there = parts.stem.make("");
        there.angle_deg = Some(Given { origin: Some(Origin::Measured), ..Given::from(-6.2) });
        there.serial = Some("A 17".into());
        Entry { id: "long-stem".into(), ..stem(120.0) }.fit(&mut parts, "").unwrap();
        let fitted = parts.stem.at("").unwrap();
        assert_eq!((&fitted.angle_deg, &fitted.serial), (&None, &None));
        assert_eq!(fitted.length_mm, Some(Given::from(120.0)));
    }
}
