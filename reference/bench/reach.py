"""The enumeration of the search backwards, vectorised in NumPy: the other side of `cargo xtask bench`.

Reads from standard input: the asked hoods and the limit; the places of the bar's clamp; the places of the hoods from the
clamp. Prints the shortest time of so many rounds, how many combinations were tried, and how many lie within the limit.
The hits are ranked, as the search ranks them, by the nearest first.
"""
import sys
import time

import numpy as np

rounds = int(sys.argv[1])
lines = sys.stdin.read().splitlines()
lx, ly, rx, ry, within = map(float, lines[0].split())
clamps = np.array(lines[1].split(), dtype=float).reshape(-1, 2)
hands = np.array(lines[2].split(), dtype=float).reshape(-1, 4)


def enumerate_all():
    found = []
    # Row by row: one clamp against all hands fits the processor's cache, which the whole product would not.
    for x, y in clamps:
        left = (hands[:, 0] + (x - lx)) ** 2 + (hands[:, 1] + (y - ly)) ** 2
        right = (hands[:, 2] + (x - rx)) ** 2 + (hands[:, 3] + (y - ry)) ** 2
        miss = np.maximum(left, right)
        found.append(miss[miss <= within * within])
    found = np.concatenate(found)
    found.sort()
    return found


shortest = float("inf")
for _ in range(rounds):
    start = time.perf_counter()
    found = enumerate_all()
    shortest = min(shortest, time.perf_counter() - start)
print(shortest, len(clamps) * len(hands), len(found))
