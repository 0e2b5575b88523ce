"""The chain in every gear at every length from 90 to 130 links by SciPy: what benches/chain.rs is timed against.

Reads a line of figures: pivot at both ends of the cassette, rear axle, cage; then rings and sprockets. The same tangents, with
the standard library's mathematics on plain floats, which is faster here than NumPy on four wheels; the cage's angle is
scipy.optimize.brentq's, which runs in C. Lengths beyond either stop are told apart first, as the other side does.
Prints the best time of some rounds in microseconds and each angle found.
"""

import sys
import time
from math import asin, atan2, cos, hypot, pi, radians, sin, sqrt

from scipy.optimize import brentq

PITCH = 12.7


def links_at(wheels, cage):
    """Pitches round ring, lower wheel, upper wheel and sprocket: wheels as (radius, sense, links per radian)."""
    ring, lower, upper, sprocket, axle, pivot, arm_lower, arm_upper, between = wheels
    xl, yl = pivot[0] + arm_lower * cos(cage), pivot[1] + arm_lower * sin(cage)
    xu, yu = pivot[0] + arm_upper * cos(cage + between), pivot[1] + arm_upper * sin(cage + between)
    places = ((0.0, 0.0), (xl, yl), (xu, yu), axle)
    circles = (ring, lower, upper, sprocket)
    directions = []
    total = 0.0
    for i in range(4):
        j = (i + 1) & 3
        dx, dy = places[j][0] - places[i][0], places[j][1] - places[i][1]
        apart = hypot(dx, dy)
        q = circles[j][1] * circles[j][0] - circles[i][1] * circles[i][0]
        directions.append(atan2(dy, dx) - asin(q / apart))
        total += sqrt(apart * apart - q * q) / PITCH
    for i in range(4):
        wrap = (circles[i][1] * (directions[i] - directions[i - 1])) % (2 * pi)
        total += wrap * circles[i][2]
    return total


def main():
    figures = [float(word) for word in sys.stdin.readline().split()]
    small, large, axle = (figures[0], figures[1]), (figures[2], figures[3]), (figures[4], figures[5])
    upper_teeth, lower_teeth, arm_upper, arm_lower, between, forward, rear = figures[6:13]
    rings = [int(word) for word in sys.stdin.readline().split()]
    sprockets = [int(word) for word in sys.stdin.readline().split()]
    between, forward, rear = radians(between), radians(forward), radians(rear)

    def wheel(teeth, sense):
        return teeth * PITCH / (2 * pi), sense, teeth / (2 * pi)

    def every_length():
        found = []
        for ring in rings:
            for teeth in sprockets:
                share = (teeth - sprockets[0]) / (sprockets[-1] - sprockets[0])
                pivot = (axle[0] + small[0] * (1 - share) + large[0] * share,
                         axle[1] + small[1] * (1 - share) + large[1] * share)
                wheels = (wheel(ring, -1), wheel(lower_teeth, -1), wheel(upper_teeth, 1), wheel(teeth, -1), axle, pivot,
                          arm_lower, arm_upper, between)
                least, most = links_at(wheels, forward), links_at(wheels, rear)
                for links in range(90, 131):
                    if least <= links <= most:
                        found.append(brentq(lambda cage: links_at(wheels, cage) - links, rear, forward, xtol=1e-12))
                    else:
                        found.append(None)
        return found

    best = float("inf")
    for _ in range(10):
        begin = time.perf_counter()
        found = every_length()
        best = min(best, time.perf_counter() - begin)
    print(best * 1e6, *("-" if cage is None else cage * 180 / pi for cage in found))


if __name__ == "__main__":
    main()
