//! What each wish costs, and which wishes clash.
//!
//! A wish is a limit that somebody set or a part that somebody wants to keep; it can be lifted. What it costs is told by the
//! same search without it. Where no list exists, a set of wishes is told that together leave none, while without any one of
//! them there is one: what is left when each wish is lifted in turn for as long as there is still no list. Whether a smaller
//! set clashes too is found out by trying every one that is smaller, so the set is the smallest as far as
//! [`Clash::smallest`] says.

use super::complete_exact::{Answer, Chosen, Effort, Limits, Puzzle, QUANTITIES, Quantity, Wanted};
use std::collections::BTreeMap;

/// Something that is wanted and could be given up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wish {
    /// To stay within this limit.
    Limit(Quantity),
    /// To keep the part of this slot.
    Keep(usize),
}

/// Wishes that cannot be granted together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    /// The wishes; without any one of them there is a list, unless there are none.
    pub wishes: Vec<Wish>,
    /// Slots that are enough for the clash: with fewer of them there is none. Every slot where no pair tells.
    pub slots: Vec<usize>,
    /// No smaller set of wishes clashes.
    pub smallest: bool,
}

/// What a wish costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Toll {
    /// The wish.
    pub wish: Wish,
    /// The best list without it; `None` where it is the same, or where none was found.
    pub without: Option<Chosen>,
    /// For a limit: the list that is better for the least more, which is the next step of it.
    pub next: Option<Chosen>,
    /// Both are proven.
    pub proven: bool,
}

impl Wanted {
    /// Every wish in it.
    pub fn wishes(&self) -> Vec<Wish> {
        let limits = QUANTITIES.into_iter().filter(|quantity| self.limits.of(*quantity).is_some());
        limits.map(Wish::Limit).chain(self.kept.keys().map(|slot| Wish::Keep(*slot))).collect()
    }

    /// The same with these wishes alone.
    #[must_use]
    pub fn only(&self, wishes: &[Wish]) -> Wanted {
        let limits = QUANTITIES.into_iter().fold(Limits::default(), |limits, quantity| {
            let limit = self.limits.of(quantity).filter(|_| wishes.contains(&Wish::Limit(quantity)));
            limits.with(quantity, limit)
        });
        let kept = self.kept.iter().filter(|(slot, _)| wishes.contains(&Wish::Keep(**slot)));
        Wanted { aim: self.aim, limits, kept: kept.map(|(slot, candidate)| (*slot, *candidate)).collect() }
    }
}

/// Whether lists exist, with the work that may still be spent on such questions.
struct Asker<'a> {
    puzzle: &'a Puzzle,
    accepts: &'a mut dyn FnMut(&[usize]) -> bool,
    steps: u64,
}

impl Asker<'_> {
    /// `None` when the work ran out.
    fn exists(&mut self, wanted: &Wanted) -> Option<bool> {
        // Aiming at what is limited finds a list within the limit soonest.
        let limited = QUANTITIES.into_iter().find(|quantity| wanted.limits.of(*quantity).is_some());
        let wanted = Wanted { aim: limited.unwrap_or(wanted.aim), ..wanted.clone() };
        let effort = Effort { lists: 1, steps: self.steps, any: true };
        let answer = self.puzzle.solve(&wanted, effort, self.accepts);
        // A question costs a step even where the answer is plain, so that thousands of them end too.
        self.steps = self.steps.saturating_sub(answer.steps + 1);
        if answer.lists.is_empty() && !answer.proven { None } else { Some(!answer.lists.is_empty()) }
    }
}

/// Which wishes clash, when there is no list; `None` where there is one, or where the work runs out before that is known.
pub fn clash(puzzle: &Puzzle, wanted: &Wanted, steps: u64, accepts: &mut dyn FnMut(&[usize]) -> bool) -> Option<Clash> {
    let mut asker = Asker { puzzle, accepts, steps };
    if asker.exists(wanted)? {
        return None;
    }
    let all = wanted.wishes();
    let mut wishes = all.clone();
    for wish in &all {
        let without: Vec<Wish> = wishes.iter().copied().filter(|other| other != wish).collect();
        // Where the work runs out the wish stays: the set clashes all the same, and is not called the smallest.
        if asker.exists(&wanted.only(&without)) == Some(false) {
            wishes = without;
        }
    }
    let mut smallest = true;
    'sizes: for size in 0..wishes.len() {
        for set in subsets(&all, size) {
            match asker.exists(&wanted.only(&set)) {
                Some(true) => {}
                Some(false) => {
                    wishes = set;
                    break 'sizes;
                }
                None => {
                    smallest = false;
                    break 'sizes;
                }
            }
        }
    }
    let slots = slots_enough(puzzle, &wanted.only(&wishes), asker.steps.max(100_000));
    Some(Clash { wishes, slots, smallest })
}

/// Every subset of this size, in order. There are (n over size) of them; the caller's work ends the walk.
fn subsets(all: &[Wish], size: usize) -> impl Iterator<Item = Vec<Wish>> + '_ {
    let mut next: Option<Vec<usize>> = (size <= all.len()).then(|| (0..size).collect());
    std::iter::from_fn(move || {
        let places = next.take()?;
        let mut following = places.clone();
        // The last place that can still move on; those behind it follow close.
        if let Some(at) = (0..size).rev().find(|at| places[*at] < all.len() - size + at) {
            following[at] += 1;
            for behind in at + 1..size {
                following[behind] = following[behind - 1] + 1;
            }
            next = Some(following);
        }
        Some(places.into_iter().map(|place| all[place]).collect())
    })
}

/// Slots that already have no list among them.
fn slots_enough(puzzle: &Puzzle, wanted: &Wanted, steps: u64) -> Vec<usize> {
    let every: Vec<usize> = (0..puzzle.slots.len()).collect();
    let impossible = |slots: &[usize]| {
        let part = puzzle.of(slots);
        let kept = slots.iter().enumerate().filter_map(|(at, slot)| Some((at, *wanted.kept.get(slot)?)));
        let wanted = Wanted { kept: kept.collect::<BTreeMap<_, _>>(), ..wanted.clone() };
        let mut accepts = |_: &[usize]| true;
        Asker { puzzle: &part, accepts: &mut accepts, steps }.exists(&wanted) == Some(false)
    };
    if !impossible(&every) {
        return every;
    }
    let mut slots = every.clone();
    for slot in every {
        let without: Vec<usize> = slots.iter().copied().filter(|other| *other != slot).collect();
        if impossible(&without) {
            slots = without;
        }
    }
    slots
}

/// What each wish costs, given the best list with all of them.
pub fn tolls(
    puzzle: &Puzzle,
    wanted: &Wanted,
    best: &Chosen,
    steps: u64,
    accepts: &mut dyn FnMut(&[usize]) -> bool,
) -> Vec<Toll> {
    let all = wanted.wishes();
    let mut tolls = Vec::with_capacity(all.len());
    for wish in &all {
        let others: Vec<Wish> = all.iter().copied().filter(|other| other != wish).collect();
        let effort = Effort { lists: 1, steps, any: false };
        let found = |answer: Answer| (answer.lists.into_iter().next(), answer.proven);
        let (without, mut proven) = found(puzzle.solve(&wanted.only(&others), effort, accepts));
        let better = |list: &Chosen| list.cost.of(wanted.aim) < best.cost.of(wanted.aim);
        let without = without.filter(better);
        let mut next = None;
        if let (Wish::Limit(limited), Some(_)) = (wish, &without) {
            // Least of the limited quantity among the lists that are better by whatever little.
            let mut step = wanted.only(&others);
            step.limits = step.limits.with(wanted.aim, Some(best.cost.of(wanted.aim) - 1));
            step.aim = *limited;
            let (found, sure) = found(puzzle.solve(&step, effort, accepts));
            next = found;
            proven &= sure;
        }
        tolls.push(Toll { wish: *wish, without, next, proven });
    }
    tolls
}
