//! Reaching a field of the document by its path: `parts.stem.length`, `asked.hood-x.left.value`, `settings.bar_roll`.
//!
//! Files, pages, edits and the store all speak in paths; this is the one place that knows how they lead to a field.

use super::{
    Asked, AskedForm, Build, FastenerRecord, Fit, Job, Liked, NumberKey, Quote, Reading, ReadingForm, Rider, Search,
    ServiceRecord, Settings, SheetPhoto, Show, StepRecord, SurveyReading, Weighing, Work, Wrench,
};
use crate::field::{Choice, Field, Given, Kind, Leaf, Origin, Record, Value, WrongKind};
use crate::number::{self, Number, Side, Sides};
use crate::part::{self, KINDS, Places};
use std::collections::BTreeMap;

/// A top table of the document.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Section {
    /// Its key.
    pub key: &'static str,
    /// What stands in it.
    pub says: &'static str,
}

/// The top tables, in the order in which a document is written.
pub const SECTIONS: &[Section] = &[
    Section { key: "job", says: "What this build is for." },
    Section { key: "rider", says: "Who rides it." },
    Section { key: "fit", says: "The bike or jig on which the position was found." },
    Section { key: "asked", says: "The numbers asked for, each as received, with the fitter's own definition." },
    Section { key: "parts", says: "The parts of the bike." },
    Section { key: "settings", says: "How the parts are set." },
    Section { key: "measured", says: "The numbers as read off the bike." },
    Section { key: "survey", says: "Readings between points of the bike, each under a name of its own." },
    Section { key: "steps", says: "What was done at the stand, each step under its id." },
    Section { key: "fasteners", says: "What was done to each bolt, under the bolt's id." },
    Section { key: "wrenches", says: "The torque wrenches used, each under its name." },
    Section { key: "serviced", says: "When each service was last done, under the id of the service." },
    Section { key: "weighing", says: "How the finished bike was weighed." },
    Section { key: "liked", says: "Pressures that the rider liked elsewhere." },
    Section { key: "quote", says: "The head of the quote." },
    Section { key: "work", says: "The lines of work on the quote, each under a name of its own." },
    Section { key: "show", says: "What the customer agreed that the page of the finished bike shows." },
    Section { key: "shown", says: "The numbers that the customer agreed to show." },
    Section { key: "photos", says: "Which photos stand on which sheet, each under the name it is kept by." },
    Section { key: "shelf", says: "Parts that could be fitted instead." },
    Section { key: "search", says: "What the search for a position may change." },
];

/// A path that leads nowhere: which of its keys is unknown, and what could stand there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unknown {
    /// The place of the unknown key in the path, counted from 0.
    pub at: usize,
    /// The key found there; empty when the path ends too early.
    pub key: String,
    /// What could stand there.
    pub candidates: Vec<String>,
}

/// Where a path leads.
enum Place {
    Plain(&'static str, usize),
    Asked(NumberKey, Slot),
    Part { shelf: bool, kind: &'static str, place: String, index: usize, origin: bool },
    Measured(NumberKey, Slot),
    Named(&'static str, String, usize),
    Shown(&'static str),
}

/// A field beside or inside the table of an asked or measured number.
enum Slot {
    Value,
    Margin,
    Form(usize),
}

const ORIGIN: Field = Field {
    name: "from",
    kind: Kind::Choice(Origin::NAMES),
    low: f64::NEG_INFINITY,
    high: f64::INFINITY,
    says: "Where this fact comes from.",
};

/// Whether a number may be shown.
const SHOWN: Field = Field {
    name: "shown",
    kind: Kind::YesNo,
    low: f64::NEG_INFINITY,
    high: f64::INFINITY,
    says: "The customer agreed that this number is shown.",
};

fn value_field(number: &Number) -> Field {
    // Twice the customary range on either side is still a slip worth a finding; beyond that the text is absurd.
    let (low, high) = number.customary.map_or((f64::NEG_INFINITY, f64::INFINITY), |range| {
        let width = range.high - range.low;
        (range.low - 2.0 * width, range.high + 2.0 * width)
    });
    Field { name: "value", kind: number.kind, low, high, says: number.definition }
}

fn tolerance_field(number: &Number) -> Field {
    Field { name: "tolerance", kind: number.kind, low: 0.0, high: 10_000.0, says: "How far off is still right." }
}

fn plus_minus_field(number: &Number) -> Field {
    Field { name: "plus_minus", kind: number.kind, low: 0.0, high: 10_000.0, says: "How well it was read." }
}

fn unknown(at: usize, keys: &[&str], candidates: impl IntoIterator<Item = impl Into<String>>) -> Unknown {
    Unknown {
        at,
        key: keys.get(at).copied().unwrap_or_default().to_owned(),
        candidates: candidates.into_iter().map(Into::into).collect(),
    }
}

fn find_field(fields: &'static [Field], at: usize, keys: &[&str]) -> Result<usize, Unknown> {
    let key = keys.get(at).copied().unwrap_or_default();
    fields
        .iter()
        .position(|field| field.key() == key)
        .ok_or_else(|| unknown(at, keys, fields.iter().map(Field::key)))
        .and_then(|index| end_of_path(at, keys, index))
}

fn end_of_path<T>(at: usize, keys: &[&str], found: T) -> Result<T, Unknown> {
    if keys.len() > at + 1 { Err(unknown(at + 1, keys, Vec::<String>::new())) } else { Ok(found) }
}

/// The fields of a number's table in the document: value and margin first, then how it was asked or read.
fn number_slot(at: usize, keys: &[&str], margin: &'static str, form: &'static [Field]) -> Result<Slot, Unknown> {
    let slot = match keys.get(at).copied().unwrap_or_default() {
        "value" => Slot::Value,
        key if key == margin => Slot::Margin,
        key => {
            let Some(index) = form.iter().position(|field| field.key() == key) else {
                let names = ["value", margin].into_iter().chain(form.iter().map(Field::key));
                return Err(unknown(at, keys, names));
            };
            Slot::Form(index)
        }
    };
    end_of_path(at, keys, slot)
}

fn number_key(keys: &[&str], both_sides_at_once: bool) -> Result<(&'static Number, Side, usize), Unknown> {
    let id = keys.get(1).copied().unwrap_or_default();
    let number = number::by_id(id).ok_or_else(|| unknown(1, keys, number::all().map(|number| number.id)))?;
    if number.sides == Sides::One {
        return Ok((number, Side::None, 2));
    }
    let word = keys.get(2).copied().unwrap_or_default();
    match number.sides.each().iter().find(|side| side.word() == word) {
        Some(side) => Ok((number, *side, 3)),
        None if both_sides_at_once => Ok((number, Side::None, 2)),
        None => Err(unknown(2, keys, number.sides.each().iter().map(|side| side.word()))),
    }
}

fn part_place(keys: &[&str]) -> Result<Place, Unknown> {
    let shelf = keys[0] == "shelf";
    let kind = part::kind(keys.get(1).copied().unwrap_or_default())
        .ok_or_else(|| unknown(1, keys, KINDS.iter().map(|kind| kind.key)))?;
    let places = if shelf { Places::Many } else { kind.places };
    let (place, at) = match places {
        Places::One => (String::new(), 2),
        Places::FrontRear | Places::LeftRight => {
            let word = keys.get(2).copied().unwrap_or_default();
            if !places.names().contains(&word) {
                return Err(unknown(2, keys, places.names().iter().copied()));
            }
            (word.to_owned(), 3)
        }
        Places::Many => {
            let word = keys.get(2).copied().unwrap_or_default();
            if !part::is_name(word) {
                return Err(unknown(2, keys, ["a name of your own in small letters, figures and hyphens"]));
            }
            (word.to_owned(), 3)
        }
    };
    let origin = keys.len() == at + 2 && keys[at + 1] == "from";
    let index = find_field(kind.fields, at, if origin { &keys[..=at] } else { keys })?;
    Ok(Place::Part { shelf, kind: kind.key, place, index, origin })
}

fn place_of(path: &str) -> Result<(Place, Field), Unknown> {
    let keys: Vec<&str> = path.split('.').collect();
    match keys[0] {
        section @ ("job" | "rider" | "fit" | "settings" | "weighing" | "liked" | "quote" | "show" | "search") => {
            let fields = plain_fields(section);
            let index = find_field(fields, 1, &keys)?;
            let key = SECTIONS.iter().find(|known| known.key == section).map_or("", |known| known.key);
            Ok((Place::Plain(key, index), fields[index]))
        }
        "asked" => {
            let (number, side, at) = number_key(&keys, true)?;
            let slot = number_slot(at, &keys, "tolerance", AskedForm::FIELDS)?;
            let field = match slot {
                Slot::Value => value_field(number),
                Slot::Margin => tolerance_field(number),
                Slot::Form(index) => AskedForm::FIELDS[index],
            };
            Ok((Place::Asked((number.id, side), slot), field))
        }
        "measured" => {
            let (number, side, at) = number_key(&keys, false)?;
            let slot = number_slot(at, &keys, "plus_minus", ReadingForm::FIELDS)?;
            let field = match slot {
                Slot::Value => value_field(number),
                Slot::Margin => plus_minus_field(number),
                Slot::Form(index) => ReadingForm::FIELDS[index],
            };
            Ok((Place::Measured((number.id, side), slot), field))
        }
        "shown" => {
            let id = keys.get(1).copied().unwrap_or_default();
            let number = number::by_id(id).ok_or_else(|| unknown(1, &keys, number::all().map(|number| number.id)))?;
            end_of_path(1, &keys, (Place::Shown(number.id), SHOWN))
        }
        "parts" | "shelf" => {
            let place = part_place(&keys)?;
            let field = match &place {
                Place::Part { origin: true, .. } => ORIGIN,
                Place::Part { kind, index, .. } => part::kind(kind).map_or(ORIGIN, |kind| kind.fields[*index]),
                _ => ORIGIN,
            };
            Ok((place, field))
        }
        section => {
            let Some((key, fields)) = named_section(section) else {
                return Err(unknown(0, &keys, SECTIONS.iter().map(|section| section.key)));
            };
            let name = keys.get(1).copied().unwrap_or_default();
            if !part::is_name(name) {
                return Err(unknown(1, &keys, ["a name of your own in small letters, figures and hyphens"]));
            }
            let index = find_field(fields, 2, &keys)?;
            Ok((Place::Named(key, name.to_owned(), index), fields[index]))
        }
    }
}

fn plain_fields(section: &str) -> &'static [Field] {
    match section {
        "job" => Job::FIELDS,
        "rider" => Rider::FIELDS,
        "fit" => Fit::FIELDS,
        "settings" => Settings::FIELDS,
        "weighing" => Weighing::FIELDS,
        "liked" => Liked::FIELDS,
        "quote" => Quote::FIELDS,
        "show" => Show::FIELDS,
        _ => Search::FIELDS,
    }
}

/// The sections whose records stand each under a name: the table from which their fields are found, read, put and listed.
macro_rules! named {
    ($($section:ident: $record:ty;)+) => {
        /// The section of this key, where its records stand each under a name, and their fields.
        fn named_section(key: &str) -> Option<(&'static str, &'static [Field])> {
            match key {
                $(stringify!($section) => Some((stringify!($section), <$record>::FIELDS)),)+
                _ => None,
            }
        }

        impl Build {
            fn named(&self, section: &str, name: &str) -> Option<&dyn Record> {
                match section {
                    $(stringify!($section) => self.$section.get(name).map(|record| record as &dyn Record),)+
                    _ => None,
                }
            }

            fn each_named(&self, section: &str) -> Vec<(&str, &dyn Record)> {
                match section {
                    $(stringify!($section) => {
                        self.$section.iter().map(|(name, record)| (name.as_str(), record as &dyn Record)).collect()
                    })+
                    _ => Vec::new(),
                }
            }

            fn put_named(&mut self, section: &str, name: &str, index: usize, leaf: Option<Leaf>) -> Result<(), WrongKind> {
                match section {
                    $(stringify!($section) => put_named(&mut self.$section, name, index, leaf),)+
                    _ => Ok(()),
                }
            }
        }
    };
}

named! {
    survey: SurveyReading;
    steps: StepRecord;
    fasteners: FastenerRecord;
    wrenches: Wrench;
    serviced: ServiceRecord;
    work: Work;
    photos: SheetPhoto;
}

/// Fills in or clears a field of a named record; one left without any field is taken away.
fn put_named<T: Record + Default + PartialEq>(
    map: &mut BTreeMap<String, T>,
    name: &str,
    index: usize,
    leaf: Option<Leaf>,
) -> Result<(), WrongKind> {
    let record = map.entry(name.to_owned()).or_default();
    let done = record.put(index, leaf);
    if *record == T::default() {
        map.remove(name);
    }
    done
}

/// A text value as a leaf: origins are words that nobody converts.
fn text_leaf(text: &str) -> Leaf {
    Given { value: Value::Text(text.to_owned()), typed: text.to_owned(), origin: None }
}

impl Build {
    /// The field that a path leads to.
    pub fn field(path: &str) -> Result<Field, Unknown> {
        place_of(path).map(|(_, field)| field)
    }

    fn plain(&self, section: &str) -> &dyn Record {
        match section {
            "job" => &self.job,
            "rider" => &self.rider,
            "fit" => &self.fit,
            "settings" => &self.settings,
            "weighing" => &self.weighing,
            "liked" => &self.liked,
            "quote" => &self.quote,
            "show" => &self.show,
            _ => &self.search,
        }
    }

    fn plain_mut(&mut self, section: &str) -> &mut dyn Record {
        match section {
            "job" => &mut self.job,
            "rider" => &mut self.rider,
            "fit" => &mut self.fit,
            "settings" => &mut self.settings,
            "weighing" => &mut self.weighing,
            "liked" => &mut self.liked,
            "quote" => &mut self.quote,
            "show" => &mut self.show,
            _ => &mut self.search,
        }
    }

    /// What stands at a path; `None` where nothing is filled in.
    pub fn get(&self, path: &str) -> Result<Option<Leaf>, Unknown> {
        let (place, _) = place_of(path)?;
        Ok(match place {
            Place::Plain(section, index) => self.plain(section).get(index),
            Place::Asked(key, slot) => self.asked.get(&key).and_then(|asked| match slot {
                Slot::Value => asked.value.as_ref().map(Given::to_leaf),
                Slot::Margin => asked.tolerance.as_ref().map(Given::to_leaf),
                Slot::Form(index) => asked.form.get(index),
            }),
            Place::Measured(key, slot) => self.measured.get(&key).and_then(|reading| match slot {
                Slot::Value => reading.value.as_ref().map(Given::to_leaf),
                Slot::Margin => reading.plus_minus.as_ref().map(Given::to_leaf),
                Slot::Form(index) => reading.form.get(index),
            }),
            Place::Named(section, name, index) => self.named(section, &name).and_then(|record| record.get(index)),
            Place::Shown(id) => self.shown.get(id).map(Given::to_leaf),
            Place::Part { shelf, kind, place, index, origin } => {
                let parts = if shelf { &self.shelf } else { &self.parts };
                let leaf = parts.record(kind, &place).and_then(|record| record.get(index));
                if origin { leaf.and_then(|leaf| leaf.origin).map(|origin| text_leaf(origin.name())) } else { leaf }
            }
        })
    }

    /// Fills in or clears what stands at a path. A table left without any field is taken away, so that a document and its
    /// leaves say the same. The leaf must be of the field's kind, which the way in has seen to; a leaf of another kind
    /// changes nothing and is reported as an unknown with no candidates.
    pub fn set(&mut self, path: &str, leaf: Option<Leaf>) -> Result<(), Unknown> {
        let (place, _) = place_of(path)?;
        let refused = |_| Unknown { at: 0, key: path.to_owned(), candidates: Vec::new() };
        match place {
            Place::Plain(section, index) => self.plain_mut(section).put(index, leaf).map_err(refused),
            Place::Asked(key, slot) => {
                let asked = self.asked.entry(key).or_default();
                match slot {
                    Slot::Value => asked.value = leaf.as_ref().and_then(Given::from_leaf),
                    Slot::Margin => asked.tolerance = leaf.as_ref().and_then(Given::from_leaf),
                    Slot::Form(index) => asked.form.put(index, leaf).map_err(refused)?,
                }
                if *asked == Asked::default() {
                    self.asked.remove(&key);
                }
                Ok(())
            }
            Place::Measured(key, slot) => {
                let reading = self.measured.entry(key).or_default();
                match slot {
                    Slot::Value => reading.value = leaf.as_ref().and_then(Given::from_leaf),
                    Slot::Margin => reading.plus_minus = leaf.as_ref().and_then(Given::from_leaf),
                    Slot::Form(index) => reading.form.put(index, leaf).map_err(refused)?,
                }
                if *reading == Reading::default() {
                    self.measured.remove(&key);
                }
                Ok(())
            }
            Place::Named(section, name, index) => self.put_named(section, &name, index, leaf).map_err(refused),
            Place::Shown(id) => {
                match leaf.as_ref().and_then(Given::from_leaf) {
                    Some(given) => self.shown.insert(id, given),
                    None => self.shown.remove(id),
                };
                Ok(())
            }
            Place::Part { shelf, kind, place, index, origin } => {
                let parts = if shelf { &mut self.shelf } else { &mut self.parts };
                if let Some(record) = parts.record_mut(kind, &place) {
                    let was = record.get(index);
                    let becomes = if origin {
                        // An origin without a fact has nothing to belong to and is let go.
                        was.map(|mut fact| {
                            fact.origin = leaf.and_then(|leaf| match leaf.value {
                                Value::Text(word) => Origin::from_name(&word),
                                _ => None,
                            });
                            fact
                        })
                    } else {
                        leaf.map(|mut leaf| {
                            leaf.origin = leaf.origin.or(was.and_then(|was| was.origin));
                            leaf
                        })
                    };
                    record.put(index, becomes).map_err(refused)?;
                }
                parts.drop_if_empty(kind, &place);
                Ok(())
            }
        }
    }

    /// Every filled-in field with its path, in the order of the document; an origin of its own follows its fact.
    pub fn leaves(&self) -> Vec<(String, Leaf)> {
        let mut all = Vec::new();
        for section in SECTIONS {
            match section.key {
                "asked" => {
                    for (key, asked) in sorted(&self.asked) {
                        let prefix = number_prefix("asked", key);
                        push(&mut all, &prefix, "value", asked.value.as_ref().map(Given::to_leaf));
                        push(&mut all, &prefix, "tolerance", asked.tolerance.as_ref().map(Given::to_leaf));
                        push_record(&mut all, &prefix, &asked.form);
                    }
                }
                "measured" => {
                    for (key, reading) in sorted(&self.measured) {
                        let prefix = number_prefix("measured", key);
                        push(&mut all, &prefix, "value", reading.value.as_ref().map(Given::to_leaf));
                        push(&mut all, &prefix, "plus_minus", reading.plus_minus.as_ref().map(Given::to_leaf));
                        push_record(&mut all, &prefix, &reading.form);
                    }
                }
                "shown" => {
                    for number in number::all() {
                        push(&mut all, "shown", number.id, self.shown.get(number.id).map(Given::to_leaf));
                    }
                }
                key @ ("parts" | "shelf") => {
                    let parts = if key == "parts" { &self.parts } else { &self.shelf };
                    for (kind, place, record) in parts.each() {
                        push_record(&mut all, &part_path(key, kind.key, place), record);
                    }
                }
                key if named_section(key).is_some() => {
                    for (name, record) in self.each_named(key) {
                        push_record(&mut all, &format!("{key}.{name}"), record);
                    }
                }
                key => push_record(&mut all, key, self.plain(key)),
            }
        }
        all
    }
}

/// The path of a part: `parts.stem`, `parts.tyre.front`.
pub(crate) fn part_path(section: &str, kind: &str, place: &str) -> String {
    if place.is_empty() { format!("{section}.{kind}") } else { format!("{section}.{kind}.{place}") }
}

fn number_prefix(section: &str, (id, side): NumberKey) -> String {
    if side == Side::None { format!("{section}.{id}") } else { format!("{section}.{id}.{}", side.word()) }
}

/// In the order of the walk-round, which is the order of the registry.
fn sorted<T>(map: &std::collections::BTreeMap<NumberKey, T>) -> Vec<(NumberKey, &T)> {
    let mut all: Vec<_> = map.iter().map(|(key, value)| (*key, value)).collect();
    all.sort_by_key(|((id, side), _)| (number::by_id(id).map(number::place), *side));
    all
}

fn push(all: &mut Vec<(String, Leaf)>, prefix: &str, key: &str, leaf: Option<Leaf>) {
    if let Some(leaf) = leaf {
        let origin = leaf.origin;
        all.push((format!("{prefix}.{key}"), Given { origin: None, ..leaf }));
        if let Some(origin) = origin {
            all.push((format!("{prefix}.{key}.from"), text_leaf(origin.name())));
        }
    }
}

fn push_record(all: &mut Vec<(String, Leaf)>, prefix: &str, record: &dyn Record) {
    for (index, field) in record.fields().iter().enumerate() {
        push(all, prefix, field.key(), record.get(index));
    }
}
