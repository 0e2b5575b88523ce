"""Makes reference/wiring-nets.csv: random nets of shift wires, whole and broken, judged by networkx.

A net is a list of wires `0-1 1-2`. Kept are the number of groups, whether it is a tree, how many wires close a ring (the
circuit rank, wires that join a unit to itself left out), how many join a unit to itself, the most wire ends in one unit,
and the way between the first and the last unit: the units on it, where there is exactly one way.
"""

import networkx as nx
import numpy as np

from tables import write_or_check

SEED = 20_260_406
ROWS = 1500


def net(random):
    units = int(random.integers(1, 25))
    kind = random.integers(4)
    if kind == 0 or units < 3:  # any wires at all
        wires = [(int(random.integers(units)), int(random.integers(units))) for _ in range(random.integers(0, 2 * units))]
    else:  # a tree, whole, with a wire too many or with one too few
        tree = nx.random_labeled_tree(units, seed=int(random.integers(2**31)))
        wires = [(a, b) if random.integers(2) else (b, a) for a, b in tree.edges]
        random.shuffle(wires)
        wires = [(int(a), int(b)) for a, b in wires]
        if kind == 2:
            wires.insert(int(random.integers(len(wires) + 1)), (int(random.integers(units)), int(random.integers(units))))
        if kind == 3:
            wires.pop(int(random.integers(len(wires))))
    return units, wires


def main():
    random = np.random.default_rng(SEED)
    rows = []
    for _ in range(ROWS):
        units, wires = net(random)
        graph = nx.MultiGraph()
        graph.add_nodes_from(range(units))
        graph.add_edges_from(wires)
        groups = nx.number_connected_components(graph)
        upon_itself = nx.number_of_selfloops(graph)
        rings = graph.number_of_edges() - upon_itself - units + groups
        most = max((degree for _, degree in graph.degree), default=0)
        way = ""
        if nx.is_forest(graph) and units > 1 and nx.has_path(graph, 0, units - 1):
            way = " ".join(str(unit) for unit in nx.shortest_path(graph, 0, units - 1))
        rows.append([str(units), " ".join(f"{a}-{b}" for a, b in wires), str(groups), str(int(nx.is_tree(graph))),
                     str(rings), str(upon_itself), str(most), way])
    header = ["units", "net", "groups", "tree", "rings", "upon_itself", "most_ends", "way"]
    write_or_check("wiring-nets.csv", header, rows, tolerance=0)


if __name__ == "__main__":
    main()
