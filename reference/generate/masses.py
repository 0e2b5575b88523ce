"""Makes reference/masses.csv: invented bikes of twelve lumps weighed two hundred thousand times each.

Every weighing draws each lump's mass and place anew and sums by NumPy; the kept doubts are the spread of what came out, and
the kept means are the middle of it. The sets that explain a difference are counted by itertools.
"""

from itertools import combinations

import numpy as np

from tables import cell, write_or_check

SEED = 20_270_312
ROWS = 40
LUMPS = 12
DRAWS = 200_000


def main():
    random = np.random.default_rng(SEED)
    rows = []
    for _ in range(ROWS):
        mass = random.uniform(20, 1200, LUMPS).round(1)
        mass_u = (mass * random.uniform(0.002, 0.08, LUMPS)).round(2)
        x = random.uniform(-420, 600, LUMPS).round(1)
        x_u = random.uniform(0, 60, LUMPS).round(1)
        rear, front = round(random.uniform(-420, -395), 1), round(random.uniform(560, 600), 1)
        masses = random.normal(mass, mass_u, (DRAWS, LUMPS))
        places = random.normal(x, x_u, (DRAWS, LUMPS))
        on_front = (masses * (places - rear) / (front - rear)).sum(axis=1)
        on_rear = masses.sum(axis=1) - on_front
        wanted, within = round(random.uniform(200, 1500), 1), 8.0
        sets = sum(
            abs(sum(mass[list(chosen)]) - wanted) <= within
            for size in (1, 2, 3)
            for chosen in combinations(range(LUMPS), size)
        )
        lists = [" ".join(cell(v, 2) for v in values) for values in (mass, mass_u, x, x_u)]
        numbers = [rear, front, masses.sum(axis=1).mean(), masses.sum(axis=1).std(), on_front.mean(), on_front.std(), on_rear.std()]
        rows.append(lists + [cell(v, 2) for v in numbers] + [cell(wanted, 1), cell(within, 1), str(sets)])
    header = ["mass_g", "mass_u_g", "x_mm", "x_u_mm", "rear_x_mm", "front_x_mm", "sum_g", "sum_u_g", "front_g", "front_u_g"]
    write_or_check("masses.csv", header + ["rear_u_g", "wanted_g", "within_g", "sets"], rows, 0.05)


main()
