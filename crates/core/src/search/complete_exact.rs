//! One part for each place, all of them going together, at the least price, mass or number of new parts: exactly.
//!
//! A puzzle is a list of slots with candidates. Two candidates go together or they do not, which depends on their *classes*
//! alone: candidates of one class are alike in everything but price, mass and stock. The search is branch and bound:
//!
//! - *branch*: the slot with the fewest candidates left takes each of them in turn, the most promising first. What is left
//!   in the other slots is a set of bits, narrowed by one "and", until every candidate left has a partner in every slot.
//! - *bound*: no list is lighter than the sum of the lightest candidates left, and none is dearer than the budget. Where a
//!   limit binds, its multiplier λ ≥ 0 makes a better bound (Lagrange): for every list within the limit,
//!   aim ≥ Σ min(aim + λ·price) − λ·budget. Whatever λ is, the bound holds, so λ is found roughly and used exactly: all
//!   figures are whole (cents, milligrams), λ is a fraction over 1024, and no rounding enters a comparison.
//! - *dominance*: of a class, a candidate that at least as many others beat in price, mass and newness as lists are wanted,
//!   is in no wanted list, up to lists of equal figures.
//!
//! The work is counted in steps (one candidate put in place) and ends at a given number of them. What was found until then
//! is returned with [`Answer::proven`] false: never called the best. No clock is read, so that the answer is the same on
//! every machine.

use std::collections::BTreeMap;

/// A quantity that is summed over a list and can be aimed at or limited.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Quantity {
    /// Price, in hundredths.
    Price,
    /// Mass, in milligrams.
    Mass,
    /// How many parts are to be bought.
    NewParts,
}

/// Every quantity, in the order of [`Cost`]'s fields.
pub const QUANTITIES: [Quantity; 3] = [Quantity::Price, Quantity::Mass, Quantity::NewParts];

impl Quantity {
    /// What decides between lists that are equal in this one.
    #[must_use]
    pub fn second(self) -> Quantity {
        match self {
            Quantity::Price => Quantity::Mass,
            Quantity::Mass | Quantity::NewParts => Quantity::Price,
        }
    }
}

/// What a candidate, or a list, comes to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cost {
    /// Price, in hundredths.
    pub price_cents: i64,
    /// Mass, in milligrams.
    pub mass_mg: i64,
    /// How many parts are to be bought.
    pub new_parts: i64,
}

impl Cost {
    /// One of the three.
    pub fn of(self, quantity: Quantity) -> i64 {
        match quantity {
            Quantity::Price => self.price_cents,
            Quantity::Mass => self.mass_mg,
            Quantity::NewParts => self.new_parts,
        }
    }

    fn plus(self, other: Cost) -> Cost {
        Cost {
            price_cents: self.price_cents + other.price_cents,
            mass_mg: self.mass_mg + other.mass_mg,
            new_parts: self.new_parts + other.new_parts,
        }
    }

    /// In nothing worse.
    fn covers(self, other: Cost) -> bool {
        QUANTITIES.iter().all(|quantity| self.of(*quantity) <= other.of(*quantity))
    }
}

/// A part that could stand in a slot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Candidate {
    /// Its class within its slot.
    pub class: usize,
    /// What it comes to.
    pub cost: Cost,
}

/// A place to fill.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Slot {
    /// What could stand there.
    pub candidates: Vec<Candidate>,
}

impl Slot {
    fn classes(&self) -> usize {
        self.candidates.iter().map(|candidate| candidate.class + 1).max().unwrap_or(0)
    }
}

/// Which classes of one slot go with which of another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    columns: usize,
    goes: Vec<bool>,
}

impl Table {
    /// Asks of every pair of classes.
    pub fn new(rows: usize, columns: usize, mut goes: impl FnMut(usize, usize) -> bool) -> Self {
        let pairs = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column)));
        Table { columns, goes: pairs.map(|(row, column)| goes(row, column)).collect() }
    }

    /// Whether the two go together.
    pub fn goes(&self, row: usize, column: usize) -> bool {
        self.goes.get(row * self.columns + column).copied().unwrap_or(true)
    }
}

/// The most a list may come to; `None` where nobody sets a limit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Limits {
    /// Budget, in hundredths.
    pub price_cents: Option<i64>,
    /// Heaviest, in milligrams.
    pub mass_mg: Option<i64>,
    /// Most parts to be bought.
    pub new_parts: Option<i64>,
}

impl Limits {
    /// One of the three.
    pub fn of(self, quantity: Quantity) -> Option<i64> {
        match quantity {
            Quantity::Price => self.price_cents,
            Quantity::Mass => self.mass_mg,
            Quantity::NewParts => self.new_parts,
        }
    }

    /// The same with one of the three set or lifted.
    #[must_use]
    pub fn with(mut self, quantity: Quantity, limit: Option<i64>) -> Self {
        *match quantity {
            Quantity::Price => &mut self.price_cents,
            Quantity::Mass => &mut self.mass_mg,
            Quantity::NewParts => &mut self.new_parts,
        } = limit;
        self
    }
}

/// What there is to choose from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Puzzle {
    /// The places to fill.
    pub slots: Vec<Slot>,
    /// Which classes go together, by the two slots, the lower first; slots without a table always go together.
    pub tables: BTreeMap<(usize, usize), Table>,
}

/// What is wanted of a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// What is to be least.
    pub aim: Quantity,
    /// What the list may come to.
    pub limits: Limits,
    /// The candidate that is to stay, by slot.
    pub kept: BTreeMap<usize, usize>,
}

/// How much is wanted of a search, and how much work it may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// So many of the best lists.
    pub lists: usize,
    /// So many steps at most.
    pub steps: u64,
    /// Any list will do: the first one found ends the search.
    pub any: bool,
}

/// A complete list.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Chosen {
    /// What it comes to.
    pub cost: Cost,
    /// The candidate of each slot.
    pub candidates: Vec<usize>,
}

/// What a search found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The best lists, best first: by the aim, and among equals by its second ([`Quantity::second`]).
    pub lists: Vec<Chosen>,
    /// Nothing was left out: the lists are the best there are, and where there is none, none exists.
    pub proven: bool,
    /// Steps taken.
    pub steps: u64,
}

/// λ is a fraction over this.
const LAMBDA_UNIT: i64 = 1024;

/// A table of bits larger than this is not made: 32 million words are a quarter of a gigabyte.
const MOST_WORDS: usize = 32_000_000;

impl Puzzle {
    /// The best lists. `accepts` is asked of every complete list that would be among them, for what no pair can tell.
    pub fn solve(&self, wanted: &Wanted, effort: Effort, accepts: &mut dyn FnMut(&[usize]) -> bool) -> Answer {
        let nothing = |proven| Answer { lists: Vec::new(), proven, steps: 0 };
        let field = match Field::ready(self, wanted, effort.lists.max(1)) {
            Ready::TooLarge => return nothing(false),
            Ready::Impossible => return nothing(true),
            Ready::Field(field) => field,
        };
        let mut search = Search { field: &field, effort, accepts, best: Vec::new(), steps: 0, stopped: false };
        let mut root = field.all.clone();
        search.node(&mut root, 0);
        let enough = effort.any && !search.best.is_empty();
        let lists = search.best.into_iter().map(|(_, chosen)| chosen).collect();
        Answer { lists, proven: !search.stopped || enough, steps: search.steps }
    }

    /// What a list comes to.
    pub fn cost(&self, candidates: &[usize]) -> Cost {
        self.slots
            .iter()
            .zip(candidates)
            .fold(Cost::default(), |sum, (slot, candidate)| sum.plus(slot.candidates[*candidate].cost))
    }

    /// Whether every two of a list go together.
    pub fn goes(&self, candidates: &[usize]) -> bool {
        let class = |slot: usize| self.slots[slot].candidates[candidates[slot]].class;
        self.tables.iter().all(|((first, second), table)| table.goes(class(*first), class(*second)))
    }

    /// The same with some of its slots alone, ascending.
    #[must_use]
    pub fn of(&self, slots: &[usize]) -> Puzzle {
        let at = |slot: &usize| slots.iter().position(|kept| kept == slot);
        let tables =
            self.tables.iter().filter_map(|((first, second), table)| Some(((at(first)?, at(second)?), table.clone())));
        Puzzle { slots: slots.iter().map(|slot| self.slots[*slot].clone()).collect(), tables: tables.collect() }
    }
}

/// A candidate in the search: where it comes from, and what it comes to, with the multipliers of the limits last.
#[derive(Clone, Copy)]
struct Item {
    origin: usize,
    /// Row of bits in [`Field::rows`].
    row: usize,
    cost: Cost,
    /// λ-weighted: `LAMBDA_UNIT`·objective + Σ λ·cost.
    weighted: i64,
}

/// A slot in the search: its items, sorted by weight, and where its bits stand.
struct Bay {
    items: Vec<Item>,
    first_word: usize,
    words: usize,
    /// Items by each quantity, ascending.
    by: [Vec<usize>; 3],
}

/// The puzzle, made ready: every candidate a bit, every class a row of bits of what it goes with.
struct Field {
    bays: Vec<Bay>,
    words: usize,
    rows: Vec<u64>,
    all: Vec<u64>,
    limits: [i64; 3],
    objective: Objective,
    /// Σ λ·limit.
    lambda_limits: i64,
}

/// What is made least, in one figure. Where lists are counted in parts, very many are alike: there price decides within the
/// figure itself, and a bound on the figure bounds both. Prices and masses are hardly ever alike, and stand alone.
#[derive(Clone, Copy)]
struct Objective {
    aim: Quantity,
    /// One of the aim is worth more than any list comes to in its second; 0 where the second is left out.
    unit: i64,
}

impl Objective {
    fn new(puzzle: &Puzzle, aim: Quantity) -> Self {
        let dearest = |slot: &Slot| slot.candidates.iter().map(|one| one.cost.of(aim.second())).max().unwrap_or(0);
        let unit = match aim {
            Quantity::NewParts => 1 + puzzle.slots.iter().map(dearest).sum::<i64>(),
            Quantity::Price | Quantity::Mass => 0,
        };
        Objective { aim, unit }
    }

    fn of(self, cost: Cost) -> i64 {
        let aim = cost.of(self.aim);
        if self.unit == 0 { aim } else { aim * self.unit + cost.of(self.aim.second()) }
    }

    /// The largest figure of a list that is still wanted: with this limit on the aim, and better than the worst kept.
    fn most(self, limit: i64, worst: Option<Key>) -> i64 {
        if self.unit == 0 {
            return worst.map_or(limit, |(aim, _)| limit.min(aim));
        }
        let limited = limit.saturating_add(1).saturating_mul(self.unit).saturating_sub(1).min(NO_LIMIT);
        worst.map_or(limited, |(aim, second)| limited.min(aim * self.unit + second - 1))
    }
}

/// The start of a search.
enum Ready {
    /// The table of bits would be larger than [`MOST_WORDS`].
    TooLarge,
    /// Some slot is empty from the start: no list exists.
    Impossible,
    /// It can begin.
    Field(Field),
}

/// No limit, and far from where sums could overflow.
const NO_LIMIT: i64 = i64::MAX / 8;

impl Field {
    fn ready(puzzle: &Puzzle, wanted: &Wanted, lists: usize) -> Ready {
        let slots = puzzle.slots.iter().enumerate();
        let mut kept: Vec<Vec<usize>> = slots
            .map(|(at, slot)| wanted.kept.get(&at).map_or_else(|| undominated(slot, lists), |kept| vec![*kept]))
            .collect();
        if !consistent(puzzle, &mut kept) {
            return Ready::Impossible;
        }
        let limits = QUANTITIES.map(|quantity| wanted.limits.of(quantity).unwrap_or(NO_LIMIT));
        let objective = Objective::new(puzzle, wanted.aim);
        let lambda = multipliers(puzzle, wanted, objective, &kept);
        let mut first_word = 0;
        let mut first_row = 0;
        let mut bays = Vec::with_capacity(kept.len());
        for (slot, kept) in puzzle.slots.iter().zip(&kept) {
            let mut items: Vec<Item> = kept
                .iter()
                .map(|origin| {
                    let Candidate { class, cost } = slot.candidates[*origin];
                    let weighted = weight(cost, objective, lambda);
                    Item { origin: *origin, row: first_row + class, cost, weighted }
                })
                .collect();
            items.sort_by_key(|item| (item.weighted, item.cost, item.origin));
            let words = items.len().div_ceil(64);
            let by = QUANTITIES.map(|quantity| {
                let mut order: Vec<usize> = (0..items.len()).collect();
                order.sort_by_key(|item| items[*item].cost.of(quantity));
                order
            });
            bays.push(Bay { items, first_word, words, by });
            first_word += words;
            first_row += slot.classes();
        }
        if first_row.saturating_mul(first_word) > MOST_WORDS {
            return Ready::TooLarge;
        }
        let lambda_limits = QUANTITIES
            .iter()
            .map(|quantity| lambda[*quantity as usize] * wanted.limits.of(*quantity).unwrap_or(0))
            .sum();
        let mut field = Field {
            rows: Vec::with_capacity(first_row * first_word),
            all: vec![0; first_word],
            words: first_word,
            bays,
            limits,
            objective,
            lambda_limits,
        };
        field.fill_rows(puzzle);
        for bay in &field.bays {
            for item in 0..bay.items.len() {
                field.all[bay.first_word + item / 64] |= 1 << (item % 64);
            }
        }
        Ready::Field(field)
    }

    fn fill_rows(&mut self, puzzle: &Puzzle) {
        let mut first_row = 0;
        for (at, slot) in puzzle.slots.iter().enumerate() {
            for class in 0..slot.classes() {
                let start = self.rows.len();
                self.rows.resize(start + self.words, u64::MAX);
                for (other, bay) in self.bays.iter().enumerate() {
                    let (low, high) = (at.min(other), at.max(other));
                    let Some(table) = puzzle.tables.get(&(low, high)).filter(|_| at != other) else { continue };
                    for (item, candidate) in bay.items.iter().enumerate() {
                        let their = puzzle.slots[other].candidates[candidate.origin].class;
                        let goes = if at < other { table.goes(class, their) } else { table.goes(their, class) };
                        if !goes {
                            self.rows[start + bay.first_word + item / 64] &= !(1 << (item % 64));
                        }
                    }
                }
            }
            first_row += slot.classes();
        }
        debug_assert_eq!(self.rows.len(), first_row * self.words, "one row a class");
    }

    fn row(&self, row: usize) -> &[u64] {
        &self.rows[row * self.words..(row + 1) * self.words]
    }
}

fn weight(cost: Cost, objective: Objective, lambda: [i64; 3]) -> i64 {
    let limits: i64 = QUANTITIES.iter().map(|quantity| lambda[*quantity as usize] * cost.of(*quantity)).sum();
    LAMBDA_UNIT * objective.of(cost) + limits
}

/// The candidates of a slot that can be in one of so many best lists, up to lists of equal figures: of every class, those
/// that fewer than so many others of it beat or equal, the earlier one going first among equals.
fn undominated(slot: &Slot, lists: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..slot.candidates.len()).collect();
    order.sort_by_key(|at| (slot.candidates[*at].class, slot.candidates[*at].cost, *at));
    let mut kept: Vec<usize> = Vec::new();
    let mut of_class = 0;
    for at in order {
        let candidate = slot.candidates[at];
        if kept.last().is_some_and(|last: &usize| slot.candidates[*last].class != candidate.class) {
            of_class = kept.len();
        }
        // Whoever covers it stands earlier in the order; and one that was dropped was covered by enough that were kept.
        let better =
            kept[of_class..].iter().filter(|other| slot.candidates[**other].cost.covers(candidate.cost)).count();
        if better < lists {
            kept.push(at);
        }
    }
    kept
}

/// Takes away, class by class, what has no partner in some slot, until nothing changes; false where a slot runs empty.
fn consistent(puzzle: &Puzzle, kept: &mut [Vec<usize>]) -> bool {
    let mut alive: Vec<Vec<bool>> = puzzle
        .slots
        .iter()
        .zip(kept.iter())
        .map(|(slot, kept)| {
            let mut alive = vec![false; slot.classes()];
            for at in kept {
                alive[slot.candidates[*at].class] = true;
            }
            alive
        })
        .collect();
    // Each round takes a class away or is the last.
    loop {
        let mut changed = false;
        for ((first, second), table) in &puzzle.tables {
            for (one, other, turned) in [(*first, *second, false), (*second, *first, true)] {
                for class in 0..alive[one].len() {
                    let partner =
                        |their: usize| if turned { table.goes(their, class) } else { table.goes(class, their) };
                    if alive[one][class] && !(0..alive[other].len()).any(|their| alive[other][their] && partner(their))
                    {
                        alive[one][class] = false;
                        changed = true;
                    }
                }
            }
        }
        if !changed {
            break;
        }
    }
    for ((slot, kept), alive) in puzzle.slots.iter().zip(kept.iter_mut()).zip(&alive) {
        kept.retain(|at| alive[slot.candidates[*at].class]);
    }
    kept.iter().all(|kept| !kept.is_empty())
}

/// λ for each limit, over [`LAMBDA_UNIT`], 0 or more: roughly those of the best bound at the start. Any are right.
fn multipliers(puzzle: &Puzzle, wanted: &Wanted, objective: Objective, kept: &[Vec<usize>]) -> [i64; 3] {
    let bound = |lambda: [i64; 3]| -> i64 {
        let least: i64 = puzzle
            .slots
            .iter()
            .zip(kept)
            .map(|(slot, kept)| {
                kept.iter().map(|at| weight(slot.candidates[*at].cost, objective, lambda)).min().unwrap_or(0)
            })
            .sum();
        let limits: i64 = QUANTITIES
            .iter()
            .map(|quantity| lambda[*quantity as usize] * wanted.limits.of(*quantity).unwrap_or(0))
            .sum();
        least - limits
    };
    let limited =
        QUANTITIES.into_iter().filter(|quantity| *quantity != wanted.aim && wanted.limits.of(*quantity).is_some());
    let limited: Vec<Quantity> = limited.collect();
    let mut lambda = [0; 3];
    let mut best = bound(lambda);
    // Twice along each limit: the bound is concave in λ, so doubling finds where it falls and halving the top.
    for _ in 0..2 {
        for quantity in &limited {
            let at = *quantity as usize;
            let mut step = (LAMBDA_UNIT * 64).max(objective.unit);
            while step > 0 {
                for to in [lambda[at] + step, lambda[at] - step] {
                    let mut tried = lambda;
                    tried[at] = to;
                    if to >= 0 && bound(tried) > best {
                        best = bound(tried);
                        lambda = tried;
                    }
                }
                step /= 2;
            }
        }
    }
    lambda
}

/// The key by which lists are ordered: the aim, then its second.
type Key = (i64, i64);

struct Search<'a> {
    field: &'a Field,
    effort: Effort,
    accepts: &'a mut dyn FnMut(&[usize]) -> bool,
    best: Vec<(Key, Chosen)>,
    steps: u64,
    stopped: bool,
}

impl Search<'_> {
    /// The worst list that is still among the wanted ones, once there are enough.
    fn worst(&self) -> Option<Key> {
        if self.best.len() < self.effort.lists { None } else { self.best.last().map(|(key, _)| *key) }
    }

    /// Tries everything that is left. The depth is at most the number of slots, since each level fixes one.
    fn node(&mut self, left: &mut [u64], depth: usize) {
        if !self.narrow(left) {
            return;
        }
        let field = self.field;
        let open = field
            .bays
            .iter()
            .map(|bay| (count(left, bay), bay))
            .filter(|(many, _)| *many > 1)
            .min_by_key(|(many, _)| *many);
        let Some((_, bay)) = open else { return self.leaf(left) };
        assert!(depth <= field.bays.len(), "each level fixes a slot");
        let mut inside = left.to_vec();
        for item in 0..bay.items.len() {
            if !is_left(left, bay, item) {
                continue;
            }
            let enough = self.effort.any && !self.best.is_empty();
            if self.stopped || enough || self.steps >= self.effort.steps {
                self.stopped = true;
                return;
            }
            self.steps += 1;
            inside.copy_from_slice(left);
            only(&mut inside, bay, item);
            and(&mut inside, field.row(bay.items[item].row));
            self.node(&mut inside, depth + 1);
        }
    }

    /// Takes away what cannot be in a wanted list: false when a slot runs empty or the bound says no.
    fn narrow(&self, left: &mut [u64]) -> bool {
        // Each round takes at least one candidate away or is the last.
        loop {
            if !self.supported(left) {
                return false;
            }
            match self.bounded(left) {
                None => return false,
                Some(false) => return true,
                Some(true) => {}
            }
        }
    }

    /// Every candidate left has a partner left in every slot.
    fn supported(&self, left: &mut [u64]) -> bool {
        let field = self.field;
        let mut union = vec![0_u64; field.words];
        loop {
            let mut changed = false;
            for bay in &field.bays {
                union.fill(0);
                let mut last_row = usize::MAX;
                let mut any = false;
                for_each(left, bay, |item| {
                    any = true;
                    let row = bay.items[item].row;
                    if row != last_row {
                        last_row = row;
                        or(&mut union, field.row(row));
                    }
                });
                if !any {
                    return false;
                }
                for (word, partners) in left.iter_mut().zip(&union) {
                    let narrowed = *word & partners;
                    changed |= narrowed != *word;
                    *word = narrowed;
                }
            }
            if !changed {
                return true;
            }
        }
    }

    /// Holds what is left against limits and best lists: `None` when nothing can come of it, otherwise whether something
    /// was taken away.
    fn bounded(&self, left: &mut [u64]) -> Option<bool> {
        let field = self.field;
        let worst = self.worst();
        let mut limits = field.limits;
        let aim = field.objective.aim as usize;
        if let Some((most, _)) = worst {
            limits[aim] = limits[aim].min(most);
        }
        let mut least = [0_i64; 3];
        let mut weighted = 0;
        let mut each: Vec<([i64; 3], i64)> = Vec::with_capacity(field.bays.len());
        for bay in &field.bays {
            let first = first(left, bay)?;
            let lowest = QUANTITIES.map(|quantity| {
                let at = bay.by[quantity as usize].iter().find(|item| is_left(left, bay, **item));
                at.map_or(0, |item| bay.items[*item].cost.of(quantity))
            });
            for (sum, low) in least.iter_mut().zip(lowest) {
                *sum += low;
            }
            weighted += bay.items[first].weighted;
            each.push((lowest, bay.items[first].weighted));
        }
        if least.iter().zip(limits).any(|(least, limit)| *least > limit) {
            return None;
        }
        // The largest weight at which a list can still be wanted.
        let most_weighted =
            field.objective.most(limits[aim], worst).saturating_mul(LAMBDA_UNIT).saturating_add(field.lambda_limits);
        if weighted > most_weighted {
            return None;
        }
        if let Some((most, second)) = worst {
            let above = weighted - field.lambda_limits;
            let by_weight = above.div_euclid(LAMBDA_UNIT) + i64::from(above.rem_euclid(LAMBDA_UNIT) > 0);
            let least_aim = if field.objective.unit == 0 { least[aim].max(by_weight) } else { least[aim] };
            if least_aim >= most && least[field.objective.aim.second() as usize] >= second {
                return None;
            }
        }
        let mut changed = false;
        for (bay, (lowest, lightest)) in field.bays.iter().zip(each) {
            for quantity in QUANTITIES {
                let at = quantity as usize;
                let room = limits[at] - (least[at] - lowest[at]);
                for item in bay.by[at].iter().rev() {
                    if bay.items[*item].cost.of(quantity) <= room {
                        break;
                    }
                    changed |= take(left, bay, *item);
                }
            }
            let room = most_weighted.saturating_sub(weighted - lightest);
            for item in (0..bay.items.len()).rev() {
                if bay.items[item].weighted <= room {
                    break;
                }
                changed |= take(left, bay, item);
            }
        }
        Some(changed)
    }

    /// One candidate is left in every slot.
    fn leaf(&mut self, left: &[u64]) {
        let field = self.field;
        let chosen: Vec<&Item> =
            field.bays.iter().filter_map(|bay| first(left, bay).map(|item| &bay.items[item])).collect();
        let cost = chosen.iter().fold(Cost::default(), |sum, item| sum.plus(item.cost));
        let aim = field.objective.aim;
        let key = (cost.of(aim), cost.of(aim.second()));
        if self.worst().is_some_and(|worst| worst <= key) {
            return;
        }
        let candidates: Vec<usize> = chosen.iter().map(|item| item.origin).collect();
        if (self.accepts)(&candidates) {
            let at = self.best.partition_point(|(other, _)| *other <= key);
            self.best.insert(at, (key, Chosen { cost, candidates }));
            self.best.truncate(self.effort.lists);
        }
    }
}

fn is_left(left: &[u64], bay: &Bay, item: usize) -> bool {
    left[bay.first_word + item / 64] >> (item % 64) & 1 == 1
}

/// Takes a candidate away; whether it was there.
fn take(left: &mut [u64], bay: &Bay, item: usize) -> bool {
    let was = is_left(left, bay, item);
    left[bay.first_word + item / 64] &= !(1 << (item % 64));
    was
}

fn only(left: &mut [u64], bay: &Bay, item: usize) {
    left[bay.first_word..bay.first_word + bay.words].fill(0);
    left[bay.first_word + item / 64] = 1 << (item % 64);
}

fn count(left: &[u64], bay: &Bay) -> u32 {
    left[bay.first_word..bay.first_word + bay.words].iter().map(|word| word.count_ones()).sum()
}

fn first(left: &[u64], bay: &Bay) -> Option<usize> {
    let words = &left[bay.first_word..bay.first_word + bay.words];
    words.iter().enumerate().find(|(_, word)| **word != 0).map(|(at, word)| at * 64 + word.trailing_zeros() as usize)
}

fn for_each(left: &[u64], bay: &Bay, mut each: impl FnMut(usize)) {
    for (at, word) in left[bay.first_word..bay.first_word + bay.words].iter().enumerate() {
        let mut word = *word;
        while word != 0 {
            each(at * 64 + word.trailing_zeros() as usize);
            word &= word - 1;
        }
    }
}

fn and(left: &mut [u64], row: &[u64]) {
    for (word, with) in left.iter_mut().zip(row) {
        *word &= with;
    }
}

fn or(union: &mut [u64], row: &[u64]) {
    for (word, with) in union.iter_mut().zip(row) {
        *word |= with;
    }
}
