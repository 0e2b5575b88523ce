"""Makes reference/choose.csv: complete lists of parts chosen by OR-tools CP-SAT from puzzles drawn at random.

A puzzle is drawn from its seed as `crates/core/src/search/complete_sample.rs` draws it; `pairs` and `sum` say whether both
drew the same. Every value is the optimum that CP-SAT proves (one worker, no limit of time), or its proof that there is
none. The smallest clash is found by asking CP-SAT of every subset of the wishes, the smallest subsets first.

Run with `--bench` it reads draws from standard input and prints CP-SAT's wall time for each; `benches/choose.rs` does so.
"""

import itertools
import sys

from ortools.sat.python import cp_model

from tables import write_or_check

HEADER = [
    "seed", "slots", "candidates", "figures", "more_joints", "pairs", "sum",
    "aim", "budget_cents", "mass_max_mg", "kept", "status", "value", "clash_size",
]
MASK = (1 << 64) - 1
PRICE, MASS, NEW = 0, 1, 2
AIMS = ["price", "mass", "new parts"]


class Dice:
    """Splitmix64."""

    def __init__(self, seed):
        self.state = seed

    def next(self):
        self.state = (self.state + 0x9E3779B97F4A7C15) & MASK
        z = self.state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & MASK
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & MASK
        return z ^ (z >> 31)

    def below(self, end):
        return self.next() % max(end, 1)


def draw(seed, slots, candidates, figures, more_joints):
    """Costs of every candidate of every slot, and the pairs that go together, by the two slots."""
    dice = Dice(seed)
    joints = []
    for at in range(1, slots + more_joints):
        if at < slots:
            first, second = dice.below(at), at
        else:
            first = dice.below(slots - 1)
            second = first + 1 + dice.below(slots - 1 - first)
        alike = dice.below(4) != 0
        count = 2 + dice.below(figures - 1)
        if all((first, second) != joint[:2] for joint in joints):
            joints.append((first, second, alike, count))
    costs, shown = [], []
    for at in range(slots):
        price = 2_000 + dice.below(60_000)
        mass = 50_000 + dice.below(900_000)
        owned = dice.below(3) == 0
        touching = [number for number, joint in enumerate(joints) if at in joint[:2]]
        of_slot, figures_of_slot = [], []
        for number in range(candidates):
            quality = dice.below(1_000)
            cost = [price * (500 + quality) // 500 + dice.below(price // 4 + 1), 0, 1]
            cost[MASS] = mass * (1_500 - quality) // 1_000 + dice.below(mass // 10 + 1)
            if owned and number == 0:
                cost = [0, mass * 2, 0]
            of_slot.append(cost)
            figures_of_slot.append({joint: dice.below(joints[joint][3]) for joint in touching})
        costs.append(of_slot)
        shown.append(figures_of_slot)
    goes = {}
    for number, (first, second, alike, _) in enumerate(joints):
        goes[first, second] = [
            [a[number] == b[number] if alike else a[number] <= b[number] for b in shown[second]] for a in shown[first]
        ]
    return costs, goes


def solve(costs, goes, aim, limits, kept, workers=1):
    """CP-SAT's answer: ("optimal", value), or ("infeasible", None); and its wall time, seconds."""
    model = cp_model.CpModel()
    chosen = [[model.NewBoolVar("") for _ in slot] for slot in costs]
    for slot in chosen:
        model.AddExactlyOne(slot)
    for (first, second), table in goes.items():
        for row, goes_with in zip(chosen[first], table):
            model.AddBoolOr([row.Not()] + [there for there, ok in zip(chosen[second], goes_with) if ok])
        for column, there in enumerate(chosen[second]):
            model.AddBoolOr([there.Not()] + [row for row, line in zip(chosen[first], table) if line[column]])
    total = [
        sum(cost[quantity] * var for slot, vars in zip(costs, chosen) for cost, var in zip(slot, vars))
        for quantity in range(3)
    ]
    for quantity, limit in limits.items():
        model.Add(total[quantity] <= limit)
    for slot, candidate in kept.items():
        model.Add(chosen[slot][candidate] == 1)
    if aim is not None:
        model.Minimize(total[aim])
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    status = solver.Solve(model)
    if status == cp_model.INFEASIBLE:
        return "infeasible", None, solver.WallTime()
    assert status == cp_model.OPTIMAL, solver.StatusName(status)
    return "optimal", round(solver.ObjectiveValue()) if aim is not None else None, solver.WallTime()


def smallest_clash(costs, goes, limits, kept):
    wishes = [("limit", item) for item in limits.items()] + [("kept", item) for item in kept.items()]
    for size in range(len(wishes) + 1):
        for some in itertools.combinations(wishes, size):
            of = lambda what: dict(item for kind, item in some if kind == what)  # noqa: E731
            if solve(costs, goes, None, of("limit"), of("kept"))[0] == "infeasible":
                return size
    raise AssertionError("a list exists")


def rows():
    all_rows = []

    def add(shape, puzzle, aim, limits, kept, clash=False):
        costs, goes = puzzle
        status, value, _ = solve(costs, goes, aim, limits, kept)
        size = smallest_clash(costs, goes, limits, kept) if status == "infeasible" and clash else ""
        pairs = sum(sum(map(sum, table)) for table in goes.values())
        total = sum(cost[PRICE] + cost[MASS] for slot in costs for cost in slot)
        keeps = "; ".join(f"{slot}:{candidate}" for slot, candidate in kept.items())
        all_rows.append(
            [*shape, pairs, total, AIMS[aim], limits.get(PRICE, ""), limits.get(MASS, ""), keeps, status, value, size]
        )

    shapes = [(5, 6, 3, 1), (7, 8, 3, 2), (9, 12, 4, 3), (12, 20, 4, 4), (16, 30, 5, 4), (8, 60, 6, 6)]
    for number, (slots, candidates, figures, more) in enumerate(shapes * 5):
        shape = (1_000 + number, slots, candidates, figures, more)
        puzzle = draw(*shape)
        costs, goes = puzzle
        status, cheapest, _ = solve(costs, goes, PRICE, {}, {})
        if status == "infeasible":
            add(shape, puzzle, PRICE, {}, {}, clash=True)
            continue
        lightest = solve(costs, goes, MASS, {}, {})[1]
        price_of_lightest = solve(costs, goes, PRICE, {MASS: lightest}, {})[1]
        mass_of_cheapest = solve(costs, goes, MASS, {PRICE: cheapest}, {})[1]
        add(shape, puzzle, PRICE, {}, {})
        add(shape, puzzle, MASS, {}, {})
        for share in (15, 40, 75):
            budget = cheapest + (price_of_lightest - cheapest) * share // 100
            add(shape, puzzle, MASS, {PRICE: budget}, {})
            mass = lightest + (mass_of_cheapest - lightest) * share // 100
            add(shape, puzzle, PRICE, {MASS: mass}, {})
        add(shape, puzzle, NEW, {PRICE: (cheapest + price_of_lightest) // 2}, {})
        # Wishes that clash: a budget a cent too low; both limits nearly as good as each alone; parts that do not go together.
        add(shape, puzzle, PRICE, {PRICE: cheapest - 1}, {}, clash=True)
        both = {PRICE: cheapest + (price_of_lightest - cheapest) // 20, MASS: lightest + (mass_of_cheapest - lightest) // 20}
        add(shape, puzzle, MASS, both, {}, clash=True)
        dice = Dice(7_000 + number)
        keep = {slot: dice.below(candidates) for slot in sorted({dice.below(slots) for _ in range(4)})}
        add(shape, puzzle, PRICE, {}, keep, clash=True)
        add(shape, puzzle, MASS, {PRICE: price_of_lightest}, keep, clash=True)
    return all_rows


def bench():
    for line in sys.stdin:
        *shape, aim, budget, workers = map(int, line.split())
        costs, goes = draw(*shape)
        status, value, seconds = solve(costs, goes, aim, {} if budget < 0 else {PRICE: budget}, {}, workers)
        print(status, -1 if value is None else value, f"{seconds:.6f}", flush=True)


if __name__ == "__main__":
    if sys.argv[1:] == ["--bench"]:
        bench()
    else:
        # An infeasible problem has no value: an empty cell, when written and when read back.
        cells = [["" if cell is None else cell for cell in row] for row in rows()]
        write_or_check("choose.csv", HEADER, cells, 0)
