//! The exact search against every list there is, against OR-tools CP-SAT, and against values worked out by both.

#![allow(clippy::unwrap_used, clippy::disallowed_methods, reason = "a table that cannot be read is to stop the test")]

use super::complete_exact::{
    Candidate, Chosen, Cost, Effort, Limits, Puzzle, QUANTITIES, Quantity, Slot, Table, Wanted,
};
use super::complete_sample::{Dice, Draw, fingerprint, puzzle};
use super::complete_why::{Wish, clash, tolls};
use std::collections::{BTreeMap, BTreeSet};

const STEPS: u64 = 20_000_000;

fn best(puzzle: &Puzzle, wanted: &Wanted, lists: usize) -> Vec<Chosen> {
    let answer = puzzle.solve(wanted, Effort { lists, steps: STEPS, any: false }, &mut |_| true);
    assert!(answer.proven, "{} steps are not enough", answer.steps);
    answer.lists
}

fn within(wanted: &Wanted, cost: Cost) -> bool {
    QUANTITIES.iter().all(|quantity| wanted.limits.of(*quantity).is_none_or(|limit| cost.of(*quantity) <= limit))
}

/// Every list that is as wanted, best first.
fn every_list(puzzle: &Puzzle, wanted: &Wanted) -> Vec<Chosen> {
    let mut lists = vec![Vec::new()];
    for (at, slot) in puzzle.slots.iter().enumerate() {
        let candidates = 0..slot.candidates.len();
        let stay = candidates.filter(|candidate| wanted.kept.get(&at).is_none_or(|kept| kept == candidate));
        let stay: Vec<usize> = stay.collect();
        lists = lists
            .iter()
            .flat_map(|list: &Vec<usize>| stay.iter().map(move |candidate| [list.as_slice(), &[*candidate]].concat()))
            .collect();
    }
    let mut all: Vec<Chosen> = lists
        .into_iter()
        .filter(|list| puzzle.goes(list))
        .map(|candidates| Chosen { cost: puzzle.cost(&candidates), candidates })
        .filter(|list| within(wanted, list.cost))
        .collect();
    all.sort_by_key(|list| key(list, wanted.aim));
    all
}

fn key(list: &Chosen, aim: Quantity) -> (i64, i64) {
    (list.cost.of(aim), list.cost.of(aim.second()))
}

#[test]
fn the_best_few_are_those_of_trying_every_list_and_the_clash_is_the_smallest() {
    let mut seen_clashes = 0;
    let mut seen_lists = 0;
    for seed in 0..300 {
        let mut dice = Dice(90_000 + seed);
        let draw = Draw {
            seed,
            slots: 2 + dice.below(4),
            candidates: 2 + dice.below(5),
            figures: 2 + dice.below(3),
            more_joints: dice.below(3),
        };
        let puzzle = puzzle(draw);
        let aim = QUANTITIES[dice.below(3)];
        let free = Wanted { aim, limits: Limits::default(), kept: BTreeMap::new() };
        let all = every_list(&puzzle, &free);
        let mut wanted = free.clone();
        for quantity in QUANTITIES {
            if dice.below(2) == 0 && !all.is_empty() {
                let limit = all[dice.below(all.len())].cost.of(quantity) - i64::from(dice.below(3) == 0);
                wanted.limits = wanted.limits.with(quantity, Some(limit));
            }
        }
        for slot in 0..draw.slots {
            if dice.below(3) == 0 {
                wanted.kept.insert(slot, dice.below(draw.candidates));
            }
        }
        let truth = every_list(&puzzle, &wanted);
        for lists in [1, 4] {
            let found = best(&puzzle, &wanted, lists);
            let keys = |lists: &[Chosen]| lists.iter().map(|list| key(list, aim)).collect::<Vec<_>>();
            assert_eq!(keys(&found), keys(&truth[..truth.len().min(lists)]), "{draw:?} {wanted:?}");
            let different: BTreeSet<&Vec<usize>> = found.iter().map(|list| &list.candidates).collect();
            assert_eq!(different.len(), found.len(), "the same list twice");
            for list in &found {
                assert!(puzzle.goes(&list.candidates) && puzzle.cost(&list.candidates) == list.cost);
            }
        }
        seen_lists += usize::from(!truth.is_empty());
        let found = clash(&puzzle, &wanted, STEPS, &mut |_| true);
        assert_eq!(found.is_some(), truth.is_empty(), "{draw:?}");
        let Some(found) = found else { continue };
        seen_clashes += 1;
        let none = |wishes: &[Wish]| every_list(&puzzle, &wanted.only(wishes)).is_empty();
        assert!(found.smallest && none(&found.wishes), "{draw:?} {found:?}");
        let all_wishes = wanted.wishes();
        for bits in 0..1_u32 << all_wishes.len() {
            let set: Vec<Wish> =
                (0..all_wishes.len()).filter(|at| bits >> at & 1 == 1).map(|at| all_wishes[at]).collect();
            assert!(set.len() >= found.wishes.len() || !none(&set), "{draw:?}: {set:?} is smaller than {found:?}");
        }
        let part = puzzle.of(&found.slots);
        let kept = found.slots.iter().enumerate();
        let kept = kept.filter_map(|(at, slot)| Some((at, *wanted.only(&found.wishes).kept.get(slot)?))).collect();
        let of_part = Wanted { kept, ..wanted.only(&found.wishes) };
        assert!(every_list(&part, &of_part).is_empty(), "{draw:?}: the slots named are enough");
    }
    assert!(seen_clashes > 50 && seen_lists > 50, "{seen_clashes} clashes, {seen_lists} with lists");
}

#[test]
fn what_a_wish_costs_is_the_optimum_without_it_and_the_next_step_is_the_least_that_betters() {
    let mut seen = 0;
    for seed in 0..200 {
        let draw = Draw { seed: 5_000 + seed, slots: 4, candidates: 5, figures: 2, more_joints: 0 };
        let puzzle = puzzle(draw);
        let free = Wanted { aim: Quantity::Mass, limits: Limits::default(), kept: BTreeMap::new() };
        let all = every_list(&puzzle, &free);
        let Some(cheapest) = all.iter().map(|list| list.cost.price_cents).min() else { continue };
        let limits = Limits { price_cents: Some(cheapest + 5_000), ..Limits::default() };
        let wanted = Wanted { limits, kept: BTreeMap::from([(1, 0)]), ..free };
        let Some(first) = best(&puzzle, &wanted, 1).pop() else { continue };
        for toll in tolls(&puzzle, &wanted, &first, STEPS, &mut |_| true) {
            assert!(toll.proven);
            let others: Vec<Wish> = wanted.wishes().into_iter().filter(|wish| *wish != toll.wish).collect();
            let without = every_list(&puzzle, &wanted.only(&others));
            let better: Vec<&Chosen> = without.iter().filter(|list| list.cost.mass_mg < first.cost.mass_mg).collect();
            assert_eq!(toll.without.as_ref().map(|list| key(list, Quantity::Mass)), {
                better.first().map(|list| key(list, Quantity::Mass))
            });
            if toll.wish == Wish::Limit(Quantity::Price) {
                let least = better.iter().map(|list| list.cost.price_cents).min();
                assert_eq!(toll.next.map(|list| list.cost.price_cents), least);
                seen += usize::from(least.is_some());
            }
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn a_search_that_runs_out_of_work_says_that_nothing_is_proven() {
    let puzzle = puzzle(Draw { seed: 1_004, slots: 16, candidates: 30, figures: 5, more_joints: 4 });
    let wanted = Wanted { aim: Quantity::Price, limits: Limits::default(), kept: BTreeMap::new() };
    let answer = puzzle.solve(&wanted, Effort { lists: 3, steps: 2, any: false }, &mut |_| true);
    assert!(!answer.proven && answer.steps <= 2, "{answer:?}");
}

#[test]
fn a_list_that_is_not_accepted_makes_room_for_the_next_best() {
    let puzzle = puzzle(Draw { seed: 3, slots: 4, candidates: 4, figures: 2, more_joints: 0 });
    let wanted = Wanted { aim: Quantity::Price, limits: Limits::default(), kept: BTreeMap::new() };
    // Without classes, so that lists may be refused one by one.
    let mut loose = puzzle.clone();
    for slot in &mut loose.slots {
        for (class, candidate) in slot.candidates.iter_mut().enumerate() {
            candidate.class = class;
        }
    }
    for ((first, second), table) in &mut loose.tables {
        let class = |slot: usize, at: usize| puzzle.slots[slot].candidates[at].class;
        let old = table.clone();
        *table = Table::new(4, 4, |row, column| old.goes(class(*first, row), class(*second, column)));
    }
    let all = every_list(&loose, &wanted);
    let refused = all[0].candidates.clone();
    let answer = loose.solve(&wanted, Effort { lists: 1, steps: STEPS, any: false }, &mut |list| list != refused);
    assert_eq!(key(&answer.lists[0], Quantity::Price), key(&all[1], Quantity::Price));
}

/// Computed with OR-tools CP-SAT: `reference/generate/choose.py`.
const TABLE: &str = include_str!("../../../../reference/choose.csv");

#[test]
fn the_optimum_is_that_of_a_solver_that_shares_no_line_with_ours() {
    let number = |cell: &str| cell.parse::<i64>().ok();
    let count = |cell: &str| cell.parse::<usize>().unwrap();
    let mut rows = 0;
    for line in TABLE.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [seed, slots, candidates, figures, more, pairs, sum, aim, budget, mass, kept, status, value, size] =
            cells[..]
        else {
            unreachable!("{line}: fourteen columns")
        };
        let draw = Draw {
            seed: seed.parse().unwrap(),
            slots: count(slots),
            candidates: count(candidates),
            figures: count(figures),
            more_joints: count(more),
        };
        let puzzle = puzzle(draw);
        assert_eq!(fingerprint(&puzzle), (count(pairs), number(sum).unwrap()), "{line}: another puzzle was drawn");
        let aim = match aim {
            "price" => Quantity::Price,
            "mass" => Quantity::Mass,
            _ => Quantity::NewParts,
        };
        let limits = Limits { price_cents: number(budget), mass_mg: number(mass), new_parts: None };
        let kept = kept.split("; ").filter_map(|keep| keep.split_once(':'));
        let wanted = Wanted { aim, limits, kept: kept.map(|(slot, at)| (count(slot), count(at))).collect() };
        let found = best(&puzzle, &wanted, 3);
        assert_eq!(found.is_empty(), status == "infeasible", "{line}");
        assert_eq!(found.first().map(|list| list.cost.of(aim)), number(value), "{line}");
        if let Some(size) = number(size) {
            let clash = clash(&puzzle, &wanted, STEPS, &mut |_| true).unwrap();
            assert!(clash.smallest && i64::try_from(clash.wishes.len()) == Ok(size), "{line}: {clash:?}");
        }
        rows += 1;
    }
    assert!(rows > 300, "{rows} rows");
}

/// Seven slots, 2916 combinations, 198 of which go together; optimum by exhaustive enumeration and by CP-SAT alike. Prices
/// and masses are invented.
mod seven_slots {
    use super::*;

    /// Price, mass, and the figures that decide: of frame, wheels, tyres, group, bottom bracket, cockpit, saddle with post.
    type Row = (i64, i64, &'static [i64]);
    const ROWS: [&[Row]; 7] = [
        // shell (0 threaded, 1 pressed), hanger kind, widest tyre
        &[(145_000, 1050, &[0, 0, 32]), (210_000, 870, &[1, 1, 30]), (0, 1180, &[1, 1, 30])],
        // freehub, inner width, hookless
        &[(62_000, 1620, &[0, 21, 0]), (138_000, 1380, &[1, 23, 1]), (0, 1740, &[1, 19, 0])],
        // width, allowed on hookless rims
        &[(9_000, 560, &[28, 1]), (8_200, 470, &[25, 0]), (9_800, 620, &[30, 1])],
        // freehub, hanger kind, spindle
        &[(118_000, 2480, &[0, 0, 29]), (94_000, 2610, &[1, 1, 24]), (0, 2750, &[1, 1, 24])],
        // shell, spindle
        &[(8_500, 95, &[0, 29]), (7_500, 100, &[0, 24]), (4_200, 78, &[1, 24]), (9_900, 88, &[1, 29])],
        &[(11_000, 420, &[]), (36_000, 330, &[]), (0, 455, &[])],
        &[(12_000, 430, &[]), (29_000, 330, &[]), (0, 520, &[])],
    ];

    fn seven() -> Puzzle {
        let slot = |rows: &&[Row]| {
            let candidate = |(class, (price_cents, mass_g, _)): (usize, &Row)| Candidate {
                class,
                cost: Cost {
                    price_cents: *price_cents,
                    mass_mg: mass_g * 1000,
                    new_parts: i64::from(*price_cents > 0),
                },
            };
            Slot { candidates: rows.iter().enumerate().map(candidate).collect() }
        };
        let table = |first: usize, second: usize, goes: fn(&[i64], &[i64]) -> bool| {
            let (rows, columns) = (ROWS[first], ROWS[second]);
            let table = Table::new(rows.len(), columns.len(), |row, column| goes(rows[row].2, columns[column].2));
            ((first, second), table)
        };
        let tables = [
            table(0, 4, |frame, bracket| frame[0] == bracket[0]),
            table(3, 4, |group, bracket| group[2] == bracket[1]),
            table(0, 3, |frame, group| frame[1] == group[1]),
            table(1, 3, |wheels, group| wheels[0] == group[0]),
            table(0, 2, |frame, tyres| tyres[0] <= frame[2]),
            table(1, 2, |wheels, tyres| tyres[0] - wheels[1] >= 5 && (wheels[2] == 0 || tyres[1] == 1)),
        ];
        Puzzle { slots: ROWS.iter().map(slot).collect(), tables: tables.into() }
    }

    fn wanted(aim: Quantity, budget_cents: Option<i64>, mass_g: Option<i64>, kept: &[(usize, usize)]) -> Wanted {
        let limits = Limits { price_cents: budget_cents, mass_mg: mass_g.map(|g| g * 1000), new_parts: None };
        Wanted { aim, limits, kept: kept.iter().copied().collect() }
    }

    #[test]
    fn as_many_combinations_go_together_as_enumeration_counted() {
        let all = every_list(&seven(), &wanted(Quantity::Price, None, None, &[]));
        assert_eq!((ROWS.iter().map(|rows| rows.len()).product::<usize>(), all.len()), (2916, 198));
    }

    #[test]
    fn the_optima_are_the_known_ones() {
        for (aim, budget, mass, expected) in [
            (Quantity::Mass, Some(300_000), None, Some((285_200, 6558, vec![2, 1, 0, 1, 2, 0, 1]))),
            (Quantity::Mass, Some(150_000), None, Some((146_400, 6828, vec![2, 2, 1, 1, 2, 0, 1]))),
            (Quantity::Price, None, Some(7000), Some((52_400, 6968, vec![2, 2, 1, 2, 2, 0, 1]))),
            (Quantity::Price, None, Some(6400), Some((401_200, 6388, vec![1, 1, 0, 2, 2, 0, 1]))),
            (Quantity::Mass, Some(120_000), Some(6000), None),
            (Quantity::Price, None, Some(6100), None),
        ] {
            let found = best(&seven(), &wanted(aim, budget, mass, &[]), 1).pop();
            let found = found.map(|list| (list.cost.price_cents, list.cost.mass_mg / 1000, list.candidates));
            assert_eq!(found, expected);
        }
    }

    #[test]
    fn the_front_of_price_and_mass_is_walked_by_next_steps() {
        let known = [
            (12_400, 7193),
            (23_400, 7158),
            (35_400, 7068),
            (41_400, 7003),
            (52_400, 6968),
            (77_400, 6878),
            (135_400, 6863),
            (146_400, 6828),
            (171_400, 6738),
            (180_200, 6733),
            (191_200, 6698),
            (216_200, 6608),
            (274_200, 6593),
            (285_200, 6558),
            (310_200, 6468),
            (381_400, 6428),
            (401_200, 6388),
            (426_200, 6298),
            (495_200, 6248),
            (520_200, 6158),
        ];
        let mut walked = Vec::new();
        let puzzle = seven();
        let mut at = best(&puzzle, &wanted(Quantity::Price, None, None, &[]), 1).pop();
        while let Some(list) = at {
            walked.push((list.cost.price_cents, list.cost.mass_mg / 1000));
            let now = wanted(Quantity::Mass, Some(list.cost.price_cents), None, &[]);
            at = tolls(&puzzle, &now, &list, STEPS, &mut |_| true).remove(0).next;
        }
        for point in known {
            assert!(walked.contains(&point), "{point:?} is on the front: {walked:?}");
        }
        assert!(walked.is_sorted_by(|a, b| a.0 < b.0 && a.1 > b.1), "{walked:?}");
    }

    #[test]
    fn the_wishes_that_clash_are_the_known_ones() {
        let puzzle = seven();
        for (kept, slots) in [([(0, 0), (3, 2)], vec![0, 3]), ([(1, 1), (2, 1)], vec![1, 2])] {
            let keep_more = [kept[0], kept[1], (5, 1), (6, 0)];
            let found = clash(&puzzle, &wanted(Quantity::Price, None, None, &keep_more), STEPS, &mut |_| true).unwrap();
            assert_eq!(found.wishes, [Wish::Keep(kept[0].0), Wish::Keep(kept[1].0)]);
            assert_eq!((found.slots, found.smallest), (slots, true));
        }
        let both =
            clash(&puzzle, &wanted(Quantity::Mass, Some(120_000), Some(6200), &[]), STEPS, &mut |_| true).unwrap();
        assert_eq!(both.wishes, [Wish::Limit(Quantity::Price), Wish::Limit(Quantity::Mass)]);
        let alone = clash(&puzzle, &wanted(Quantity::Price, None, Some(6100), &[]), STEPS, &mut |_| true).unwrap();
        assert_eq!(alone.wishes, [Wish::Limit(Quantity::Mass)]);
    }
}
