//! Invented puzzles of any size, for tests and measurements: the same ones as `reference/generate/choose.py` makes.
//!
//! A puzzle is drawn from a seed: slots hang together in a tree with a few joints more, and at each joint the parts either
//! carry the same figure or one at most the other's, as interfaces do. Dearer parts are lighter, more or less; a third of
//! the slots have a part at hand that costs nothing and is heavy.

use super::complete_exact::{Candidate, Cost, Puzzle, Slot, Table};
use std::collections::BTreeMap;

/// What a puzzle is drawn from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draw {
    /// The seed.
    pub seed: u64,
    /// How many slots, two or more.
    pub slots: usize,
    /// Candidates a slot.
    pub candidates: usize,
    /// At most so many different figures at a joint.
    pub figures: usize,
    /// Joints beside those of the tree.
    pub more_joints: usize,
}

/// Where two slots meet.
struct Joint {
    first: usize,
    second: usize,
    alike: bool,
    figures: usize,
}

/// The puzzle of a draw.
pub fn puzzle(draw: Draw) -> Puzzle {
    let mut dice = Dice(draw.seed);
    let joints = joints(draw, &mut dice);
    let mut slots = Vec::with_capacity(draw.slots);
    let mut figures: Vec<Vec<Vec<usize>>> = Vec::with_capacity(draw.slots);
    for at in 0..draw.slots {
        let (slot, of_class) = slot(at, draw, &joints, &mut dice);
        slots.push(slot);
        figures.push(of_class);
    }
    let mut tables = BTreeMap::new();
    for joint in &joints {
        let place = |slot: usize| joints.iter().filter(|other| other.touches(slot)).position(|other| other.is(joint));
        let (Some(one), Some(two)) = (place(joint.first), place(joint.second)) else { continue };
        let (rows, columns) = (&figures[joint.first], &figures[joint.second]);
        let table = Table::new(rows.len(), columns.len(), |row, column| {
            let (a, b) = (rows[row][one], columns[column][two]);
            if joint.alike { a == b } else { a <= b }
        });
        tables.insert((joint.first, joint.second), table);
    }
    Puzzle { slots, tables }
}

impl Joint {
    fn touches(&self, slot: usize) -> bool {
        self.first == slot || self.second == slot
    }

    fn is(&self, other: &Joint) -> bool {
        (self.first, self.second) == (other.first, other.second)
    }
}

fn joints(draw: Draw, dice: &mut Dice) -> Vec<Joint> {
    let mut joints: Vec<Joint> = Vec::new();
    for at in 1..draw.slots + draw.more_joints {
        let (first, second) = if at < draw.slots {
            (dice.below(at), at)
        } else {
            let first = dice.below(draw.slots - 1);
            (first, first + 1 + dice.below(draw.slots - 1 - first))
        };
        let alike = dice.below(4) != 0;
        let figures = 2 + dice.below(draw.figures - 1);
        let joint = Joint { first, second, alike, figures };
        if !joints.iter().any(|other| other.is(&joint)) {
            joints.push(joint);
        }
    }
    joints
}

/// A slot, and the figures of each of its classes, joint by joint.
fn slot(at: usize, draw: Draw, joints: &[Joint], dice: &mut Dice) -> (Slot, Vec<Vec<usize>>) {
    let price_cents = dice.amount(2_000, 60_000);
    let mass_mg = dice.amount(50_000, 900_000);
    let owned = dice.below(3) == 0;
    let mut classes: Vec<Vec<usize>> = Vec::new();
    let mut candidates = Vec::with_capacity(draw.candidates);
    for number in 0..draw.candidates {
        let quality = dice.amount(0, 1_000);
        let mut cost = Cost {
            price_cents: price_cents * (500 + quality) / 500 + dice.amount(0, price_cents / 4 + 1),
            mass_mg: mass_mg * (1_500 - quality) / 1_000 + dice.amount(0, mass_mg / 10 + 1),
            new_parts: 1,
        };
        if owned && number == 0 {
            cost = Cost { price_cents: 0, mass_mg: mass_mg * 2, new_parts: 0 };
        }
        let figures: Vec<usize> =
            joints.iter().filter(|joint| joint.touches(at)).map(|joint| dice.below(joint.figures)).collect();
        let class = classes.iter().position(|other| *other == figures).unwrap_or_else(|| {
            classes.push(figures);
            classes.len() - 1
        });
        candidates.push(Candidate { class, cost });
    }
    (Slot { candidates }, classes)
}

/// Splitmix64 (Steele, Lea and Flood, OOPSLA 2014): the same numbers in any language.
pub struct Dice(pub u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// One of so many, from 0.
    #[allow(clippy::cast_possible_truncation, reason = "the remainder is below a usize")]
    pub fn below(&mut self, end: usize) -> usize {
        (self.next() % end.max(1) as u64) as usize
    }

    fn amount(&mut self, low: i64, span: i64) -> i64 {
        low + i64::try_from(self.next() % span.unsigned_abs().max(1)).unwrap_or_default()
    }
}

/// Pairs that go together, over all tables and candidates, and the sum of all prices and masses: two programs that drew the
/// same puzzle agree in it.
pub fn fingerprint(puzzle: &Puzzle) -> (usize, i64) {
    let pairs = puzzle.tables.iter().map(|((first, second), table)| {
        let columns = &puzzle.slots[*second].candidates;
        let goes = |row: &Candidate| columns.iter().filter(|column| table.goes(row.class, column.class)).count();
        puzzle.slots[*first].candidates.iter().map(goes).sum::<usize>()
    });
    let each = puzzle.slots.iter().flat_map(|slot| &slot.candidates);
    (pairs.sum(), each.map(|candidate| candidate.cost.price_cents + candidate.cost.mass_mg).sum())
}
