//! An invented catalogue of any size, for tests and measurements. No part in it exists.

use super::{Column, Entry, columns};
use crate::field::{Given, Kind, Leaf, Value};
use crate::part::KINDS;

/// Words that no maker uses for a part of any kind.
const NAMES: &[&str] = &[
    "Alder", "Basalt", "Cinder", "Dune", "Ember", "Fathom", "Gorse", "Heron", "Islet", "Juniper", "Kelp", "Larch",
    "Marl", "Nettle", "Osier", "Plover", "Quarry", "Rowan", "Sedge", "Tarn", "Umber", "Vetch", "Wren", "Yarrow",
];

/// So many parts, spread over all kinds; the same ones each time, and each fact within its range.
pub fn invented(count: usize) -> Vec<Entry> {
    let mut dice = Dice(0x5eed);
    (0..count).map(|at| one(at, &mut dice)).collect()
}

fn one(at: usize, dice: &mut Dice) -> Entry {
    let kind = &KINDS[at % KINDS.len()];
    let number = at / KINDS.len();
    let family = NAMES[dice.below(NAMES.len())];
    let mut entry = Entry::new(kind, format!("{}-{number}", family.to_lowercase()));
    entry.version = 1;
    for column in columns(kind) {
        let field = column.field(kind);
        let leaf = match (column, field.name) {
            (Column::Fact(_), "name") => text(format!("{family} {} {number}", kind.key.replace('_', " "))),
            (Column::Stock, _) => Given::from(dice.count(0.0, 12.0)).to_leaf(),
            (Column::Fact(_), "facts_from") => text("maker's sheet".to_owned()),
            (Column::From(_), _) | (Column::Fact(_), "note" | "mass_plus_minus_g") => continue,
            // A catalogue is never complete.
            (Column::Fact(_), name) if name != "price" && name != "mass_g" && dice.below(10) < 3 => continue,
            (Column::Fact(_), _) => match value(field.kind, field.low, field.high, dice) {
                Some(leaf) => leaf,
                None => continue,
            },
        };
        entry.set(column, leaf);
    }
    entry
}

fn value(kind: Kind, low: f64, high: f64, dice: &mut Dice) -> Option<Leaf> {
    Some(match kind {
        Kind::Length | Kind::Angle | Kind::Mass | Kind::Torque | Kind::Pressure | Kind::Percent | Kind::Plain => {
            Given::from(dice.within(low, high)).to_leaf()
        }
        Kind::Money => Given::from(dice.within(5.0, 900.0)).to_leaf(),
        Kind::Count => Given::from(dice.count(low.max(0.0), high)).to_leaf(),
        Kind::Text => text(format!("{} {}", NAMES[dice.below(NAMES.len())].to_lowercase(), dice.below(60))),
        Kind::YesNo => Given::from(dice.below(2) == 0).to_leaf(),
        Kind::Choice(words) => text((*words.get(dice.below(words.len()))?).to_owned()),
        Kind::Lengths | Kind::Angles | Kind::Counts | Kind::Day => return None,
    })
}

fn text(typed: String) -> Leaf {
    Given { value: Value::Text(typed.clone()), typed, origin: None }
}

/// Numbers that look like chance and are the same everywhere: Marsaglia's xorshift, 64 bits (Journal of Statistical
/// Software 8, 2003, triple 13, 7, 17).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    #[allow(clippy::cast_possible_truncation, reason = "the remainder is below a usize")]
    fn below(&mut self, end: usize) -> usize {
        (self.next() % end.max(1) as u64) as usize
    }

    /// A half, a fifth or a whole between the two, as figures of catalogues are.
    #[allow(clippy::cast_precision_loss, reason = "a thousand steps are exact")]
    fn within(&mut self, low: f64, high: f64) -> f64 {
        let share = self.below(1_001) as f64 / 1_000.0;
        let value = low + share * (high - low);
        let rounded = (value * 2.0).round() / 2.0;
        if low <= rounded && rounded <= high { rounded } else { value }
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count's range is within u32")]
    fn count(&mut self, low: f64, high: f64) -> u32 {
        self.within(low, high).round() as u32
    }
}
