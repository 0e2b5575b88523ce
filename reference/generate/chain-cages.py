"""Makes reference/chain-cages.csv: where a sprung cage comes to rest for a number of links, by another road.

The direction of each run is not taken from a formula: it is the root, found by SciPy's brentq, of the distance by which a
line beside one wheel misses the next. The length is a sum of such runs and of turned angles; the cage's angle is brentq's
again. Where the length turns from falling to rising between the stops, the turning place is found by a bounded minimiser.
Lengths are those of belts on the mean radius, whose agreement with stiff links is chain-paths.py's affair.
"""

from math import atan2, cos, hypot, pi, radians, sin

import numpy as np
from scipy.optimize import brentq, minimize_scalar

from tables import cell, write_or_check

SEED = 20_260_405
ROWS = 1000
PITCH = 12.7
CHAIN_HEIGHT = 8.6

INPUTS = {  # name: (least, most, decimals)
    "chainstay_mm": (400, 432, 1),
    "bb_drop_mm": (60, 80, 1),
    "pivot_x_mm": (-15, 25, 1),
    "pivot_to_lower_mm": (45, 100, 1),
    "upper_from_lower_deg": (-40, 130, 1),
    "rear_stop_deg": (-265, -150, 1),
    "forward_stop_deg": (-60, 75, 1),
}
OUTPUTS = ["least_links", "most_links", "lies", "cage_deg", "by_links", "self_gap_mm"]


def run_between(wheel, following):
    """Direction, radians, and length of the tight run from a wheel to the next."""
    (x, y, teeth, sense), (next_x, next_y, next_teeth, next_sense) = wheel, following
    radius, next_radius = teeth * PITCH / (2 * pi), next_teeth * PITCH / (2 * pi)
    straight = atan2(next_y - y, next_x - x)

    def misses(direction):
        # Left of the run lies what turns anticlockwise: each centre stands its radius to that side.
        left = (-sin(direction), cos(direction))
        return (next_x - x) * left[0] + (next_y - y) * left[1] - (next_sense * next_radius - sense * radius)

    direction = brentq(misses, straight - pi / 2, straight + pi / 2, xtol=1e-14, rtol=1e-14)
    left = (-sin(direction), cos(direction))
    starts = (x - sense * radius * left[0], y - sense * radius * left[1])
    ends = (next_x - next_sense * next_radius * left[0], next_y - next_sense * next_radius * left[1])
    return direction, hypot(ends[0] - starts[0], ends[1] - starts[1]), starts, ends


def wheels_at(row, cage_deg):
    axle = (-(row["chainstay_mm"] ** 2 - row["bb_drop_mm"] ** 2) ** 0.5, row["bb_drop_mm"])
    pivot = (axle[0] + row["pivot_x_mm"], axle[1] + row["pivot_y_mm"])
    lower, upper = radians(cage_deg), radians(cage_deg + row["upper_from_lower_deg"])
    return [(0.0, 0.0, row["ring"], -1),
            (pivot[0] + row["pivot_to_lower_mm"] * cos(lower), pivot[1] + row["pivot_to_lower_mm"] * sin(lower),
             row["lower"], -1),
            (pivot[0] + row["pivot_to_upper_mm"] * cos(upper), pivot[1] + row["pivot_to_upper_mm"] * sin(upper),
             row["upper"], 1),
            (*axle, row["sprocket"], -1)]


def links_at(row, cage_deg):
    """Links needed, and the runs; None where wheels touch or the chain lifts off a cage wheel."""
    wheels = wheels_at(row, cage_deg)
    for i in range(4):
        a, b = wheels[i], wheels[(i + 1) % 4]
        if hypot(a[0] - b[0], a[1] - b[1]) <= (a[2] + b[2]) * PITCH / (2 * pi):
            return None
    runs = [run_between(wheels[i], wheels[(i + 1) % 4]) for i in range(4)]
    total = 0.0
    for i in range(4):
        turned = (wheels[i][3] * (runs[i][0] - runs[i - 1][0])) % (2 * pi)
        if turned > 7 * pi / 4:
            return None
        total += turned * wheels[i][2] / (2 * pi) + runs[i][1] / PITCH
    return total, runs, wheels


def self_gap(at):
    _, runs, wheels = at
    starts, ends, centre = np.array(runs[0][2]), np.array(runs[0][3]), np.array(wheels[2][:2])
    share = np.clip((centre - starts) @ (ends - starts) / ((ends - starts) @ (ends - starts)), 0, 1)
    return np.hypot(*(centre - starts - share * (ends - starts))) - wheels[2][2] * PITCH / (2 * pi) - CHAIN_HEIGHT


def swing(row):
    """Foremost and rearmost angle between which a longer chain swings the cage back; None where that is not plain."""
    grid = np.linspace(row["forward_stop_deg"], row["rear_stop_deg"], 130)
    found = [links_at(row, float(angle)) for angle in grid]
    if any(at is None for at in found):
        return None
    lengths = np.array([at[0] for at in found])
    rises = np.diff(lengths) > 0
    first = int(np.argmax(rises))
    ends = np.flatnonzero(~rises[first:])
    last = first + int(ends[0]) if len(ends) else len(grid) - 1
    if not rises.any():
        return None

    def turning(at, sign):
        """The least (+1) or greatest (-1) length near a place of the grid, a stop included."""
        def length(angle):
            return sign * links_at(row, angle)[0]

        bounds = sorted((float(grid[max(at - 1, 0)]), float(grid[min(at + 1, len(grid) - 1)])))
        inside = minimize_scalar(length, bounds=bounds, method="bounded", options={"xatol": 1e-9}).x
        return min([float(grid[at]), inside], key=length)

    return turning(first, 1), turning(last, -1)


def main():
    random = np.random.default_rng(SEED)
    rows = []
    kinds = {"tight": 0, "short": 0, "slack": 0}
    while len(rows) < ROWS:
        row = {name: round(random.uniform(least, most), decimals) for name, (least, most, decimals) in INPUTS.items()}
        row["ring"], row["sprocket"] = int(random.integers(30, 60)), int(random.integers(10, 41))
        row["upper"], row["lower"] = int(random.integers(10, 15)), int(random.integers(10, 20))
        row["pivot_to_upper_mm"] = float(random.choice([0.0, round(random.uniform(1, 25), 1)]))
        row["pivot_y_mm"] = round(-random.uniform(62, 78) - 1.3 * (row["sprocket"] - 11), 1)
        ends = swing(row)
        if ends is None:
            continue
        forward, rear = ends
        least, most = links_at(row, forward)[0], links_at(row, rear)[0]
        links = int(random.integers(int(least) - 2, int(most) + 3))
        lies, cage, by, gap = "tight", None, None, None
        if links < least:
            lies, by = "short", least - links
        elif links > most:
            lies, by = "slack", links - most
        else:
            cage = brentq(lambda angle: links_at(row, angle)[0] - links, rear, forward, xtol=1e-12, rtol=1e-14)
            gap = self_gap(links_at(row, cage))
        # As many cases of each outcome as make sense: most of them tight.
        if kinds[lies] > ROWS / 6 and lies != "tight":
            continue
        kinds[lies] += 1
        names = [*INPUTS, "ring", "sprocket", "upper", "lower", "pivot_to_upper_mm", "pivot_y_mm"]
        rows.append([*(cell(row[name], 1) for name in names), str(links), cell(least, 7), cell(most, 7), lies,
                     cell(cage, 6), cell(by, 7), cell(gap, 5)])
    names = [*INPUTS, "ring", "sprocket", "upper", "lower", "pivot_to_upper_mm", "pivot_y_mm", "links"]
    print(kinds)
    write_or_check("chain-cages.csv", [*names, *OUTPUTS], rows, tolerance=2e-5)


if __name__ == "__main__":
    main()
