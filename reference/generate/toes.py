"""Makes reference/toes.csv: where a shoe first touches the turned front wheel, from a tyre sampled point by point.

The tyre is a cloud of a million points 0.4 mm apart; the gap is the distance from the toe's centre to the nearest of them,
less the toe's radius. Near a touch that centre is 25 mm or more away, so the nearest point is at most 0.28^2/(2*25) =
0.002 mm further off than the surface.
"""

import numpy as np
from scipy.optimize import brentq
from scipy.spatial import cKDTree
from scipy.spatial.transform import Rotation

from tables import cell, write_or_check

SEED = 20_260_103
ROWS = 60
MOST_STEER_DEG = 60.0

INPUTS = {  # name: (least, most, decimals)
    "head_angle_deg": (69, 75, 1),
    "axle_x_mm": (555, 625, 0),
    "axle_y_mm": (60, 80, 0),
    "fork_offset_mm": (40, 55, 0),
    "crank_mm": (160, 177, 0),
    "tip_ahead_mm": (95, 125, 0),
    "toe_height_mm": (5, 25, 0),
    "toe_radius_mm": (25, 45, 0),
    "lateral_mm": (105, 140, 0),
}
TYRES = [(337.0, 14.0), (343.0, 16.0), (334.0, 12.5), (318.0, 14.0)]  # outer radius, section radius
OUTPUTS = ["straight_gap_mm", "contact_steer_deg"]


def tyre_cloud(outer, section):
    """Points of the back half of the tyre, about its centre, wheel axis along z, and the search tree over them."""
    ring = outer - section
    round_count, section_count = int(np.pi * outer / 0.4), int(2 * np.pi * section / 0.4)
    u = np.linspace(np.pi / 2, 3 * np.pi / 2, round_count)[:, None]
    v = np.linspace(0, 2 * np.pi, section_count, endpoint=False)[None, :]
    radius = ring + section * np.cos(v)
    points = np.stack([radius * np.cos(u), radius * np.sin(u), section * np.sin(v) + 0 * u], axis=-1)
    return cKDTree(points.reshape(-1, 3))


def least_gap(row, tree, steer_deg):
    angle = np.radians(row["head_angle_deg"])
    up, ahead = np.array([-np.cos(angle), np.sin(angle), 0.0]), np.array([np.sin(angle), np.cos(angle), 0.0])
    axle = np.array([row["axle_x_mm"], row["axle_y_mm"], 0.0])
    on_axis = axle - row["fork_offset_mm"] * ahead
    turn = Rotation.from_rotvec(np.radians(steer_deg) * up)

    def gaps(crank_deg):
        crank = np.radians(crank_deg)
        toe = np.stack([row["crank_mm"] * np.cos(crank) + row["tip_ahead_mm"] - row["toe_radius_mm"],
                        row["crank_mm"] * np.sin(crank) + row["toe_height_mm"],
                        np.full_like(crank, row["lateral_mm"])], axis=-1)
        # Into the wheel's own frame: unturn about the steering axis, then from the axle.
        seen = turn.inv().apply(toe - on_axis) + on_axis - axle
        return tree.query(seen)[0] - row["toe_radius_mm"]

    low, high = -90.0, 90.0
    for _ in range(4):  # each pass looks ten times closer round the best crank angle
        angles = np.linspace(low, high, 61)
        values = gaps(angles)
        best = angles[values.argmin()]
        reach = (high - low) / 20
        low, high = best - reach, best + reach
    return values.min()


def main():
    random = np.random.default_rng(SEED)
    clouds = [tyre_cloud(*tyre) for tyre in TYRES]
    rows = []
    for _ in range(ROWS):
        row = {name: round(random.uniform(least, most), decimals) for name, (least, most, decimals) in INPUTS.items()}
        which = random.integers(len(TYRES))
        tree = clouds[which]
        straight = least_gap(row, tree, 0.0)
        contact = None
        before = 0.0
        for steer in np.arange(2.0, MOST_STEER_DEG + 1, 2.0):
            if least_gap(row, tree, steer) <= 0:
                contact = brentq(lambda deg: least_gap(row, tree, deg), before, steer, xtol=1e-7)
                break
            before = steer
        inputs = [cell(row[name], decimals) for name, (_, _, decimals) in INPUTS.items()]
        rows.append([*inputs, *(cell(figure, 1) for figure in TYRES[which]), cell(straight, 4), cell(contact, 5)])
    write_or_check("toes.csv", [*INPUTS, "outer_radius_mm", "section_radius_mm", *OUTPUTS], rows, tolerance=2e-4)


if __name__ == "__main__":
    main()
