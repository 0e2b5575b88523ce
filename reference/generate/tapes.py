"""Makes reference/tapes.csv: a strip wound on straight and bent tube, as a curve in space.

The middle of the strip is a curve of three coordinates, on a cylinder or on a torus. Its length is SciPy's quad over the
speed, which comes from the coordinates by the complex step; no formula for a turn's length is used. The gap between
neighbouring turns is the shortest way, along the surface, from a point of one turn to the next one: the curve is unrolled
onto the plane that touches the tube there, outside and inside of the bend, and the way is minimised numerically.
"""

import numpy as np
from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from tables import cell, write_or_check

SEED = 20_270_311
ROWS = 300


def point(s, radius, pitch, bend):
    """The curve at arc s of the centre line."""
    turn = 2 * np.pi * s / pitch
    if bend is None:
        return np.array([s, radius * np.cos(turn), radius * np.sin(turn)])
    out = bend + radius * np.cos(turn)
    return np.array([out * np.cos(s / bend), out * np.sin(s / bend), radius * np.sin(turn)])


def speed(s, radius, pitch, bend):
    step = 1e-30
    return float(np.sqrt(np.sum((point(complex(s, step), radius, pitch, bend).imag / step) ** 2)))


def length(run, radius, pitch, bend):
    pieces = np.linspace(0, run, max(2, int(run / pitch) + 2))
    return sum(quad(speed, a, b, args=(radius, pitch, bend), epsabs=1e-10, epsrel=1e-12)[0] for a, b in zip(pieces, pieces[1:]))


def gap(radius, pitch, bend, place):
    """Shortest way along the surface from the turn at this angle to the next, unrolled where it is."""
    stretched = 1.0 if bend is None else (bend + radius * np.cos(place)) / bend
    # Unrolled: along the tube x, round it y; the next turn passes through (pitch there, 0) and rises alike.
    far = lambda t: np.hypot(pitch * stretched * (1 + t), 2 * np.pi * radius * t)
    return minimize_scalar(far, bounds=(-1, 1), method="bounded", options={"xatol": 1e-13}).fun


def main():
    random = np.random.default_rng(SEED)
    rows = []
    while len(rows) < ROWS:
        tube, thickness = random.uniform(22, 34), random.uniform(1.5, 3.5)
        width, pitch, run = random.uniform(26, 33), random.uniform(12, 28), random.uniform(30, 500)
        tube, thickness, width, pitch, run = (round(v, 2) for v in (tube, thickness, width, pitch, run))
        bend = None if random.random() < 0.3 else round(random.uniform(30, 120), 1)
        radius = (tube + thickness) / 2
        rows.append(
            [cell(v, 2) for v in (tube, thickness, width, pitch, run, bend)]
            + [
                cell(length(run, radius, pitch, bend) , 6),
                cell(1 - gap(radius, pitch, bend, 0.0) / width, 8),
                cell(1 - gap(radius, pitch, bend, np.pi) / width, 8),
            ]
        )
    header = ["tube_mm", "thickness_mm", "width_mm", "pitch_mm", "run_mm", "bend_mm", "strip_mm", "outside", "inside"]
    write_or_check("tapes.csv", header, rows, 2e-6)


main()
