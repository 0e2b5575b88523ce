"""Makes reference/cockpits.csv: random cockpits from frame to hood, by a road the Rust code does not take.

* The bar is a curvature profile; its curve is the integral of the tangent (Gauss-Legendre quadrature), not arc formulas.
* The figures nobody prints (ramp length, hand-over angle, straight between the bends) come from a numerical solver that
  asks the integrated curve for its reach and drop.
* Lengths along the outside are sums of chords of the offset curve, extrapolated.
* Everything is put in space by multiplying homogeneous transforms.

The rule for the bends is the one that bar.rs states: hand-over at the vertical with a straight below it if the drop asks
for more than the bends give, else no straight and a hand-over where reach and drop are both met.
"""

import numpy as np
from numpy.polynomial.legendre import leggauss
from scipy.optimize import brentq, root

from tables import cell, write_or_check
from transforms import mirror, move, origin_of, turn_x, turn_z

SEED = 20_260_101
ROWS = 2_100
NODES, WEIGHTS = leggauss(24)

INPUTS = {  # name: (least, most, decimals)
    "stack_mm": (480, 630, 0),
    "reach_mm": (355, 415, 0),
    "head_angle_deg": (69, 75, 1),
    "cover_mm": (0, 25, 1),
    "spacers_mm": (0, 40, 1),
    "clamp_height_mm": (32, 44, 1),
    "stem_length_mm": (60, 140, 0),
    "stem_angle_deg": (-17, 17, 0),
    "bar_reach_mm": (62, 95, 0),
    "bar_drop_mm": (105, 150, 0),
    "ramp_angle_deg": (-4, 24, 1),
    "clamp_straight_mm": (0, 25, 0),
    "ramp_bend_radius_mm": (0, 60, 0),
    "front_bend_radius_mm": (28, 60, 0),
    "lower_bend_radius_mm": (35, 80, 0),
    "end_length_mm": (20, 90, 0),
    "end_angle_deg": (-8, 14, 1),
    "flare_deg": (0, 24, 1),
    "width_at_hoods_mm": (340, 440, 0),
    "tube_diameter_mm": (22.2, 26, 1),
    "roll_deg": (-7, 9, 1),
    "clamp_above_foot_mm": (10, 40, 1),
    "trough_along_mm": (20, 60, 1),
    "trough_out_mm": (15, 40, 1),
    "tip_out_mm": (50, 90, 1),
    "hood_width_mm": (28, 40, 1),
    "from_end_mm": (120, 230, 1),
    "toe_in_mm": (0, 14, 1),
}
OUTPUTS = ["clamp_x_mm", "clamp_y_mm", "bar_length_mm", "trough_x_mm", "trough_y_mm", "trough_z_mm", "inner_face_z_mm",
           "end_width_mm"]


class Curve:
    """A plane curve from pieces of constant curvature, each (length, turn in degrees)."""

    def __init__(self, pieces):
        self.pieces = [(length, np.radians(turn)) for length, turn in pieces if length > 0]
        self.knots = np.concatenate([[0.0], np.cumsum([length for length, _ in self.pieces])])
        self.angles = np.concatenate([[0.0], np.cumsum([turn for _, turn in self.pieces])])
        steps = [self._step(i, length) for i, (length, _) in enumerate(self.pieces)]
        self.corners = np.concatenate([[np.zeros(2)], np.cumsum(steps, axis=0)])

    @property
    def length(self):
        return self.knots[-1]

    def tangent(self, arc):
        return np.interp(arc, self.knots, self.angles)

    def _step(self, piece, along):
        """Integral of the tangent over the first `along` of a piece."""
        length, turn = self.pieces[piece]
        angle = self.angles[piece] + turn * (along / length) * (NODES + 1) / 2
        return along / 2 * np.array([WEIGHTS @ np.cos(angle), WEIGHTS @ np.sin(angle)])

    def at(self, arc):
        piece = min(max(np.searchsorted(self.knots, arc, side="right") - 1, 0), len(self.pieces) - 1)
        return self.corners[piece] + self._step(piece, arc - self.knots[piece])

    def _where(self, angle_deg):
        """First place with this tangent, found by bisection on the tangent's angle; None if there is none."""
        gap = self.angles - np.radians(angle_deg)
        for i in range(len(self.pieces)):
            if gap[i] > 0 >= gap[i + 1]:
                return brentq(lambda arc: self.tangent(arc) - np.radians(angle_deg), self.knots[i], self.knots[i + 1],
                              xtol=1e-13)
        return None

    def reach(self):
        return self.at(self._where(-90.0))[0]

    def depth(self):
        lowest = self._where(-180.0)
        return max(-self.at(arc)[1] for arc in [self.length, lowest] if arc is not None)

    def outside(self, start, stop, offset):
        """Length of the curve `offset` to the left: chords over each piece, extrapolated to no chord length."""
        total = 0.0
        for piece, (length, turn) in enumerate(self.pieces):
            first, last = max(start, self.knots[piece]), min(stop, self.knots[piece + 1])
            if first >= last:
                continue
            sums = []
            for count in (64, 128):
                arcs = np.linspace(first, last, count + 1)
                angles = self.angles[piece] + turn * (arcs - self.knots[piece]) / length
                # Points of the piece by quadrature from its start, all at once.
                along = arcs - self.knots[piece]
                inner = self.angles[piece] + np.outer(turn * along / length, (NODES + 1) / 2)
                points = np.stack([np.cos(inner) @ WEIGHTS, np.sin(inner) @ WEIGHTS], axis=1) * along[:, None] / 2
                points += offset * np.stack([-np.sin(angles), np.cos(angles)], axis=1)
                sums.append(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())
            total += (4 * sums[1] - sums[0]) / 3
        return total


def profile(row, ramp, hand_over, straight):
    """The bar's pieces for a given ramp, hand-over angle below forward, and straight between the bends."""
    def bend(radius, turn):
        return radius * abs(np.radians(turn)), turn

    a = row["ramp_angle_deg"]
    return Curve([
        (row["clamp_straight_mm"], 0.0),
        bend(row["ramp_bend_radius_mm"], -a),
        (ramp, 0.0),
        bend(row["front_bend_radius_mm"], a - hand_over),
        (straight, 0.0),
        bend(row["lower_bend_radius_mm"], hand_over - (180.0 - row["end_angle_deg"])),
        (row["end_length_mm"], 0.0),
    ])


def bar(row):
    """The curve with the stated reach and drop, or None if this draw makes no bar."""
    depth = row["bar_drop_mm"] / np.cos(np.radians(row["flare_deg"]))
    reach = row["bar_reach_mm"]
    reach_without_ramp = profile(row, 1e-9, 90.0, 0.0).reach()
    ramp = (reach - reach_without_ramp) / np.cos(np.radians(row["ramp_angle_deg"]))
    if ramp < 1.0:
        return None
    curve = profile(row, ramp, 90.0, 0.0)
    missing = depth - curve.depth()
    if missing > 0:
        return profile(row, ramp, 90.0, missing)

    def miss(unknown):
        if unknown[0] <= 0 or not row["ramp_angle_deg"] < unknown[1] < 180.0 - max(row["end_angle_deg"], 0.0):
            return [1e3, 1e3]
        trial = profile(row, unknown[0], unknown[1], 0.0)
        return [trial.reach() - reach, trial.depth() - depth]

    towards = 100.0 if row["lower_bend_radius_mm"] > row["front_bend_radius_mm"] else 80.0
    solved = root(miss, [ramp, towards], tol=1e-13)
    if np.abs(miss(solved.x)).max() > 1e-9 or solved.x[0] < 1.0:
        return None
    return profile(row, solved.x[0], solved.x[1], 0.0)


def cockpit(row):
    """Outputs of one row, or None if the draw is impossible."""
    if row["ramp_bend_radius_mm"] == 0 and row["ramp_angle_deg"] != 0:
        return None  # a kink is no curvature profile
    curve = bar(row)
    if curve is None:
        return None
    offset = row["tube_diameter_mm"] / 2
    wanted = row["from_end_mm"] + row["clamp_above_foot_mm"]
    if curve.outside(0.0, curve.length, offset) < wanted:
        return None
    arc = brentq(lambda start: curve.outside(start, curve.length, offset) - wanted, 0.0, curve.length, xtol=1e-12)

    side = 1.0 if row["side"] == "right" else -1.0
    frame = move(row["reach_mm"], row["stack_mm"]) @ turn_z(90 - row["head_angle_deg"])
    stem = (move(y=row["cover_mm"] + row["spacers_mm"] + row["clamp_height_mm"] / 2)
            @ turn_z(row["stem_angle_deg"]) @ move(row["stem_length_mm"]))
    clamp = origin_of(frame @ stem)

    def on_right(arc_mm, shift):
        """The bar's own frame at a place: x along the tangent, y out, z away from the bike."""
        point = curve.at(arc_mm)
        return (turn_z(row["roll_deg"]) @ move(z=shift) @ turn_x(-row["flare_deg"])
                @ move(point[0], point[1]) @ turn_z(np.degrees(curve.tangent(arc_mm))))

    shift = row["width_at_hoods_mm"] / 2 - origin_of(on_right(arc, 0.0))[2]
    toe = np.degrees(np.arcsin(row["toe_in_mm"] / row["tip_out_mm"]))
    lever = on_right(arc, shift) @ turn_x(-toe) @ move(row["trough_along_mm"], row["trough_out_mm"])
    place = move(*clamp)
    if side < 0:
        place = place @ mirror()
    trough = origin_of(place @ lever)
    inner = origin_of(place @ lever @ move(z=-row["hood_width_mm"] / 2))
    end_width = 2 * abs(origin_of(on_right(curve.length, shift))[2])
    return [clamp[0], clamp[1], curve.length, *trough, inner[2], end_width]


def draw(random):
    row = {}
    for name, (least, most, decimals) in INPUTS.items():
        row[name] = round(random.uniform(least, most), decimals)
    # The plain cases are the ones a formula gets wrong by a sign; keep many of them.
    for name, share in [("flare_deg", 0.3), ("toe_in_mm", 0.3), ("roll_deg", 0.2), ("end_angle_deg", 0.3)]:
        if random.random() < share:
            row[name] = 0.0
    if random.random() < 0.1:
        row["lower_bend_radius_mm"] = row["front_bend_radius_mm"]
    row["side"] = "left" if random.random() < 0.5 else "right"
    return row


def main():
    random = np.random.default_rng(SEED)
    rows = []
    for _ in range(20 * ROWS):
        row = draw(random)
        outputs = cockpit(row)
        if outputs is None:
            continue
        inputs = [cell(row[name], decimals) for name, (_, _, decimals) in INPUTS.items()]
        rows.append([*inputs, row["side"], *(cell(value, 8) for value in outputs)])
        if len(rows) == ROWS:
            break
    write_or_check("cockpits.csv", [*INPUTS, "side", *OUTPUTS], rows, tolerance=2e-7)


if __name__ == "__main__":
    main()
