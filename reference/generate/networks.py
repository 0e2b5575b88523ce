"""Makes reference/networks*.csv: surveys of random bikes, adjusted by scipy.optimize.least_squares.

Three tables: one row a reading, one row an unknown, one row a survey. The residuals are written from the definitions of
the readings (docs of `mechanics::network::Taken`), without any derivative: that is taken numerically, by the complex step,
which is exact to the last digits. Redundancy numbers and Baarda's test come from dense matrices.
"""

import numpy as np
from scipy import optimize, stats

from tables import cell, write_or_check

SEED = 20_260_203
SURVEYS = 24
READINGS = 40

# Where each spot's coordinates stand in the list of unknowns; None is a coordinate that is 0.
# The two axles share their height, the two hoods their half width.
SPOTS = [
    (None, None, None),  # 0 bottom bracket
    (0, 1, None),  # 1 rear axle
    (2, 1, None),  # 2 front axle
    (3, 4, None),  # 3 saddle nose
    (5, 6, None),  # 4 saddle top
    (7, 8, None),  # 5 bar clamp
    (9, 10, -13),  # 6 hood left: minus the half width
    (11, 12, 13),  # 7 hood right
    (14, 15, None),  # 8 head tube top
    (16, 17, None),  # 9 head tube bottom
    (18, 19, None),  # 10 collar
]
LEVEL, FLOOR, HEIGHT, SADDLE = 20, 21, 22, 23
TYPICAL = [-405, 70, 580, -60, 710, -200, 708, 470, 610, 562, 615, 562, 615, 190, 385, 545, 426, 411, -150, 485, 0, 0,
           270, -2]
SPREAD = [6, 6, 25, 30, 40, 30, 40, 40, 45, 45, 45, 45, 45, 12, 20, 40, 20, 40, 12, 40, 1.2, 0.8, 6, 2]
NEVER_ANGLES = ("distance", "across", "height", "ahead", "above", "off", "along")


def spot(unknowns, number):
    def one(at):
        if at is None:
            return 0.0 * unknowns[0]
        return -unknowns[-at] if at < 0 else unknowns[at]

    return np.array([one(at) for at in SPOTS[number]])


def turned(vector, degrees):
    """The vector in a frame that is turned by so many degrees, seen from the side."""
    sin, cos = np.sin(degrees * np.pi / 180), np.cos(degrees * np.pi / 180)
    return np.array([vector[0] * cos + vector[1] * sin, vector[1] * cos - vector[0] * sin])


def read(unknowns, kind, a, b, c, d):
    """What an instrument reads. Only operations that also hold for complex numbers."""
    if kind == "distance":
        step = spot(unknowns, b) - spot(unknowns, a)
        return np.sqrt(np.sum(step * step))
    if kind == "across":
        return (spot(unknowns, b) - spot(unknowns, a))[2]
    if kind == "height":
        return unknowns[HEIGHT] + turned(spot(unknowns, a), unknowns[FLOOR])[1]
    if kind in ("ahead", "above"):
        step = turned(spot(unknowns, b) - spot(unknowns, a), unknowns[LEVEL])
        return step[0] if kind == "ahead" else step[1]
    if kind == "slope":
        step = spot(unknowns, b) - spot(unknowns, a)
        back = np.pi * np.sign(step[1].real) if step[0].real < 0 else 0
        return (np.arctan(step[1] / step[0]) + back) * 180 / np.pi - unknowns[LEVEL]
    if kind == "off":
        line = (spot(unknowns, c) - spot(unknowns, b))[:2]
        to = (spot(unknowns, a) - spot(unknowns, b))[:2]
        return (to[0] * line[1] - to[1] * line[0]) / np.sqrt(np.sum(line * line))
    if kind == "along":
        line = (spot(unknowns, d) - spot(unknowns, c))[:2]
        return np.sum((spot(unknowns, b) - spot(unknowns, a))[:2] * line) / np.sqrt(np.sum(line * line))
    if kind == "angle":
        return unknowns[SADDLE] - unknowns[LEVEL]
    return unknowns[FLOOR] - unknowns[LEVEL]  # floor slope


def every_reading():
    spots = range(len(SPOTS))
    pairs = [(a, b) for a in spots for b in spots if a < b]
    all_of = [("distance", a, b, 0, 0) for a, b in pairs if (a, b) != (6, 7)]
    all_of += [("height", a, 0, 0, 0) for a in spots]
    all_of += [("ahead", 0, b, 0, 0) for b in spots if b] + [("above", 0, b, 0, 0) for b in (3, 4, 5, 6, 7)]
    all_of += [("slope", 9, 8, 0, 0), ("slope", 0, 10, 0, 0), ("slope", 1, 2, 0, 0)]
    all_of += [("off", 2, 9, 8, 0), ("off", 4, 0, 10, 0), ("along", 0, 4, 0, 10), ("along", 8, 5, 9, 8)]
    return all_of + [("angle", 0, 0, 0, 0), ("floor slope", 0, 0, 0, 0), ("across", 6, 7, 0, 0)]


def jacobian(unknowns, readings):
    rows = []
    for reading in readings:
        row = []
        for at in range(len(unknowns)):
            moved = unknowns.astype(complex)
            moved[at] += 1e-30j
            row.append(read(moved, *reading).imag / 1e-30)
        rows.append(row)
    return np.array(rows)


def survey(random, number):
    truth = np.array([t + s * random.uniform(-1, 1) for t, s in zip(TYPICAL, SPREAD)])
    candidates = every_reading()
    while True:
        readings = [candidates[at] for at in random.permutation(len(candidates))[:READINGS]]
        sd = np.array([round(random.uniform(0.5, 3.0), 1) if kind in NEVER_ANGLES else round(random.uniform(0.1, 0.4), 1)
                       for kind, *_ in readings])
        weighted = jacobian(truth, readings) / sd[:, None]
        size = np.linalg.svd(weighted / (np.linalg.norm(weighted, axis=0) + 1e-30), compute_uv=False)
        if size[-1] > 1e-3:
            break
    values = np.array([read(truth, *reading) for reading in readings]) + sd * random.normal(size=READINGS)
    if number % 4 == 3:
        values[random.integers(READINGS)] += random.choice([-20, 20, 10, -10])
    values = np.round(values, 1)
    start = np.array([float(t) for t in TYPICAL])

    def misfits(unknowns):
        return (np.array([read(unknowns, *reading) for reading in readings]) - values) / sd

    found = optimize.least_squares(misfits, start, jac=lambda x: jacobian(x, readings) / sd[:, None], method="lm",
                                   x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=5000)
    # SciPy stops where the sum of squares no longer changes, which leaves some 1e-7 mm; started again without damping
    # it goes on to where the steps end.
    x, step = found.x, np.inf
    for _ in range(200):
        step = np.linalg.lstsq(jacobian(x, readings) / sd[:, None], -misfits(x), rcond=None)[0]
        x = x + step
        if np.max(np.abs(step)) < 1e-11:
            break
    moved = np.max(np.abs(x - found.x))
    assert found.success and moved < 1e-4 and np.max(np.abs(step)) < 1e-10, (number, moved, np.max(np.abs(step)))
    weighted, r = jacobian(x, readings) / sd[:, None], misfits(x)
    covariance = np.linalg.inv(weighted.T @ weighted)
    redundancy = 1 - np.diag(weighted @ covariance @ weighted.T)
    noticed = stats.norm.ppf(1 - 0.0005) + stats.norm.ppf(0.8)
    checked = redundancy > 1e-9  # the one reading across the hoods, where no tape reaches them, is checked by nothing
    root = np.sqrt(np.where(checked, redundancy, 1))
    harm = np.max(np.abs(covariance @ weighted.T), axis=0) * noticed / root
    freedom = READINGS - len(x)
    by_reading = [
        [str(number), kind, str(a), str(b), str(c), str(d), cell(value, 1), cell(s, 1), cell(m * s, 9), cell(share, 10),
         *([cell(m / q, 9), cell(h, 8)] if is_checked else ["", ""])]
        for (kind, a, b, c, d), value, s, m, share, q, h, is_checked in zip(readings, values, sd, r, redundancy, root, harm,
                                                                           checked)
    ]
    by_unknown = [[str(number), str(at), cell(value, 9), f"{np.sqrt(covariance[at, at]):.12g}"] for at, value in enumerate(x)]
    chi_square = float(r @ r)
    whole = [str(number), str(freedom), cell(chi_square, 9), f"{stats.chi2.sf(chi_square, freedom):.12g}",
             cell(stats.chi2.isf(0.05, freedom), 9)]
    return by_reading, by_unknown, whole


def main():
    random = np.random.default_rng(SEED)
    surveys = [survey(random, number) for number in range(SURVEYS)]
    write_or_check("network-readings.csv",
                   ["survey", "taken", "a", "b", "c", "d", "value", "sd", "misfit", "redundancy", "deviate", "harm"],
                   [row for by_reading, _, _ in surveys for row in by_reading], tolerance=2e-7)
    write_or_check("network-unknowns.csv", ["survey", "unknown", "value", "sd"],
                   [row for _, by_unknown, _ in surveys for row in by_unknown], tolerance=2e-7)
    write_or_check("network-surveys.csv", ["survey", "freedom", "chi_square", "above", "limit_95"],
                   [whole for _, _, whole in surveys], tolerance=2e-7)


if __name__ == "__main__":
    main()
