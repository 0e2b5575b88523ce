"""Makes reference/chain-paths.csv: the length of a tight chain round wheels, from chains of stiff links.

Each wheel is a polygon with a pin at every corner, turned to a random phase. A run between two wheels is the segment
between the pair of corners that leaves both polygons on their own sides, found by stepping from corner to corner as one
would pull a string tight; no circle and no tangent formula is used. The links on a wheel are counted. The kept length is
the mean over PHASES random phases, because a chain's length breathes as its wheels turn (0.005 of a pitch on a road bike),
and comes with its own standard error. Shapely says of the first phase of each layout that no run cuts into a wheel, that
the length is the line's, and, where all wheels turn alike, that the loop is their convex hull.
"""

import numpy as np
from shapely import LineString, MultiPoint, Polygon

from tables import cell, write_or_check

SEED = 20_260_404
ROWS = 2500
ROAD_ROWS = 500
PHASES = 160
PITCH = 12.7
MOST_WHEELS = 5
LEAST_WRAP_TEETH = 1.5
MOST_WRAP_DEG = 300.0


def corners(wheel, phases):
    """Pins of a wheel at each phase: (phases, teeth, 2), anticlockwise."""
    x, y, teeth, _ = wheel
    radius = PITCH / (2 * np.sin(np.pi / teeth))
    angle = 2 * np.pi * (np.arange(teeth)[None, :] + phases[:, None]) / teeth
    return np.stack([x + radius * np.cos(angle), y + radius * np.sin(angle)], axis=-1)


def extreme(pins, seen_from, side):
    """The pin that lies furthest to the left (+1) or right (-1) as seen from a point, phase by phase."""
    middle = pins.mean(axis=1) - seen_from
    steps = pins - seen_from[:, None, :]
    cross = middle[:, None, 0] * steps[..., 1] - middle[:, None, 1] * steps[..., 0]
    dot = (middle[:, None, :] * steps).sum(axis=-1)
    return np.argmax(side * np.arctan2(cross, dot), axis=1)


def tight_run(pins, sense, next_pins, next_sense):
    """Corners between which the string is tight: the pins of a wheel that turns anticlockwise lie left of its runs."""
    rows = np.arange(len(pins))
    start = np.zeros(len(pins), dtype=int)
    for _ in range(60):
        # As seen from the start, an anticlockwise wheel is met on its right; seen back from the end, on its left.
        end = extreme(next_pins, pins[rows, start], -next_sense)
        again = extreme(pins, next_pins[rows, end], sense)
        if (again == start).all():
            return start, end
        start = again
    return None


def links_of(wheels, random):
    """Mean links over the phases, its standard error, wraps in degrees; None where no such chain exists."""
    phases = [random.uniform(0, 1, PHASES) for _ in wheels]
    pins = [corners(wheel, phase) for wheel, phase in zip(wheels, phases)]
    rows = np.arange(PHASES)
    count = len(wheels)
    runs = []
    for i in range(count):
        j = (i + 1) % count
        run = tight_run(pins[i], wheels[i][3], pins[j], wheels[j][3])
        if run is None:
            return None
        runs.append(run)
    total = np.zeros(PHASES)
    wraps = []
    for i in range(count):
        comes, goes, sense, teeth = runs[i - 1][1], runs[i][0], wheels[i][3], wheels[i][2]
        on_wheel = (sense * (goes - comes)) % teeth
        if on_wheel.min() < LEAST_WRAP_TEETH or on_wheel.max() * 360 / teeth > MOST_WRAP_DEG:
            return None
        wraps.append(on_wheel.mean() * 360 / teeth)
        step = pins[(i + 1) % count][rows, runs[i][1]] - pins[i][rows, runs[i][0]]
        total += on_wheel + np.hypot(step[:, 0], step[:, 1]) / PITCH
    look_at(wheels, pins, runs, total[0])
    return total.mean(), total.std(ddof=1) / np.sqrt(PHASES), wraps


def look_at(wheels, pins, runs, links):
    """Shapely's word on the first phase."""
    count = len(wheels)
    line = []
    for i in range(count):
        at = runs[i - 1][1][0]
        line.append(pins[i][0, at])
        while at != runs[i][0][0]:
            at = (at + wheels[i][3]) % wheels[i][2]
            line.append(pins[i][0, at])
        j = (i + 1) % count
        run = LineString([pins[i][0, runs[i][0][0]], pins[j][0, runs[i][1][0]]])
        for end in (i, j):
            assert not Polygon(pins[end][0]).buffer(-1e-6).intersects(run), (wheels, i, end)
    line.append(line[0])
    assert abs(LineString(line).length / PITCH - links) < 1e-9
    if len({wheel[3] for wheel in wheels}) == 1 and count == 2:
        hull = MultiPoint(np.concatenate([pins[0][0], pins[1][0]])).convex_hull
        assert abs(hull.length / PITCH - links) < 1e-9


def far_apart(wheels):
    """Every two wheels stand clear of one another."""
    tips = [PITCH * teeth / (2 * np.pi) + 8 for _, _, teeth, _ in wheels]
    return all(np.hypot(a[0] - b[0], a[1] - b[1]) > tips[i] + tips[j]
               for i, a in enumerate(wheels) for j, b in enumerate(wheels) if i < j)


def any_layout(random):
    count = int(random.integers(2, MOST_WHEELS + 1))
    return [(float(random.integers(-450, 451)), float(random.integers(-300, 301)), int(random.integers(9, 61)),
             int(random.choice([-1, 1]))) for _ in range(count)]


def road_layout(random):
    """Ring, lower wheel, upper wheel, sprocket, as on a road bike with a cage at some angle."""
    stay, drop = random.uniform(400, 430), random.uniform(60, 80)
    axle = np.array([-np.sqrt(stay**2 - drop**2), drop])
    sprocket = int(random.integers(10, 40))
    pivot = axle + [random.uniform(5, 25), -random.uniform(60, 75) - 1.3 * (sprocket - 11)]
    cage, offset = np.radians(random.uniform(-170, -20)), np.radians(random.uniform(60, 120))
    lower = pivot + random.uniform(50, 95) * np.array([np.cos(cage), np.sin(cage)])
    upper = pivot + random.uniform(0, 15) * np.array([np.cos(cage + offset), np.sin(cage + offset)])
    return [(0.0, 0.0, int(random.integers(30, 60)), -1),
            (round(lower[0], 2), round(lower[1], 2), int(random.integers(10, 20)), -1),
            (round(upper[0], 2), round(upper[1], 2), int(random.integers(10, 15)), 1),
            (round(axle[0], 2), round(axle[1], 2), sprocket, -1)]


def main():
    random = np.random.default_rng(SEED)
    rows = []
    for make, wanted in [(any_layout, ROWS), (road_layout, ROAD_ROWS)]:
        found = 0
        while found < wanted:
            wheels = make(random)
            made = links_of(wheels, random) if far_apart(wheels) else None
            if made is None:
                continue
            links, error, wraps = made
            cells = []
            for at in range(MOST_WHEELS):
                cells += [cell(value, 2) for value in wheels[at]] if at < len(wheels) else [""] * 4
            crossed = sum(wheels[i][3] != wheels[i - 1][3] for i in range(len(wheels)))
            rows.append([str(len(wheels)), str(crossed), *cells, cell(links, 4), cell(error, 5)])
            found += 1
    names = [f"{name}_{at}" for at in range(MOST_WHEELS) for name in ("x_mm", "y_mm", "teeth", "sense")]
    write_or_check("chain-paths.csv", ["wheels", "crossed", *names, "links", "standard_error"], rows, tolerance=2e-4)


if __name__ == "__main__":
    main()
