#!/usr/bin/env python3
"""Works out, apart from the program, what the tests of geo/flow hold.

    scripts/oracle_flow.py nhdplusv2_new_hope_746.geojson

prints on how many of the 746 flowlines plain Strahler order is wrong (264), and the
geodesic length of all of them in km (577.050), by GeodSolve of GeographicLib.

    scripts/oracle_flow.py make > testdata/flow/networks.json

makes networks of our own, trees and braided ones, with what lies above and below each of
their lines: ancestors and components by networkx, lengths by GeodSolve.
"""
import collections
import json
import random
import subprocess
import sys


def lengths_of(paths):
    """Geodesic lengths in metres by GeodSolve, to a micrometre."""
    pairs = [(a, b) for path in paths for a, b in zip(path, path[1:])]
    asked = "".join("%.9f %.9f %.9f %.9f\n" % (a[1], a[0], b[1], b[0]) for a, b in pairs)
    told = subprocess.run(["GeodSolve", "-i", "-p", "6"], input=asked, capture_output=True, text=True, check=True).stdout
    each = iter(float(line.split()[2]) for line in told.splitlines())
    return [sum(next(each) for _ in path[1:]) for path in paths]


def make(seed):
    """A network whose first nodes are its heads; odd seeds have lines that part."""
    import networkx
    dice = random.Random(seed)
    count = dice.randint(8, 40)
    west = dice.choice([-79, 20, 179.95, -0.02])
    south = dice.choice([-35, 0, 52, 66])
    place = lambda i: [(west + dice.uniform(0, 0.1) + 180) % 360 - 180, south + 0.01 * (count - i)]
    node = [[round(x, 7) for x in place(i)] for i in range(count)]
    lines = []
    for i in range(count - 1):
        if dice.random() < 0.1:
            continue  # an outlet of its own
        into = [dice.randint(i + 1, min(count - 1, i + 4))]
        if seed % 2 and dice.random() < 0.4 and i + 2 < count:
            into.append(dice.choice([k for k in range(i + 1, min(count, i + 5)) if k != into[0]]))
        for k, to in enumerate(into):
            turn = lambda x: (x + 180) % 360 - 180
            middle = [round(turn(node[i][0] + turn(node[to][0] - node[i][0]) / 2 + dice.uniform(-1e-3, 1e-3)), 7), round((node[i][1] + node[to][1]) / 2, 7)]
            lines.append({"name": "l%03d" % len(lines), "from": "n%d" % i, "to": "n%d" % to, "path": [node[i], middle, node[to]],
                          "divergence": 0 if len(into) == 1 else k + 1, "area": round(dice.uniform(0, 3), 4)})
    for line, metres in zip(lines, lengths_of([l["path"] for l in lines])):
        line["metres"] = round(metres, 4)
    above = networkx.DiGraph()
    above.add_nodes_from(range(len(lines)))
    for a, x in enumerate(lines):
        above.add_edges_from((a, b) for b, y in enumerate(lines) if x["to"] == y["from"])
    main = {l["from"]: k for k, l in enumerate(lines) if l["divergence"] < 2}
    ends = networkx.Graph((l["from"], l["to"]) for l in lines)
    parts = sorted((sorted(k for k, l in enumerate(lines) if l["from"] in c) for c in networkx.connected_components(ends)), key=min)
    for k, l in enumerate(lines):
        up = networkx.ancestors(above, k) | {k}
        l["upstream_km"] = sum(lines[i]["metres"] for i in up) / 1000
        l["drainage_km2"] = sum(lines[i]["area"] for i in up)
        l["component"] = next(i for i, part in enumerate(parts) if k in part)
        below, at = 0.0, l["to"]
        while at in main:
            below += lines[main[at]]["metres"]
            at = lines[main[at]]["to"]
        l["outlet_km"] = below / 1000
    if seed % 2 == 0:  # a tree: Strahler's rule
        for k in networkx.topological_sort(above):
            orders = sorted((lines[i]["order"] for i in above.predecessors(k)), reverse=True)
            lines[k]["order"] = 1 if not orders else orders[0] + (orders.count(orders[0]) > 1)
    return lines


if sys.argv[1:] == ["make"]:
    json.dump([make(seed) for seed in range(1, 15)], sys.stdout, separators=(",", ":"))
    print()
    sys.exit()

features = json.load(open(sys.argv[1]))["features"]
features.sort(key=lambda f: -f["properties"]["Hydroseq"])
into = collections.defaultdict(list)
for i, f in enumerate(features):
    into[f["properties"]["ToNode"]].append(i)

order, wrong = [], 0
for f in features:
    above = [order[j] for j in into[f["properties"]["FromNode"]]]
    largest = max(above, default=1)
    order.append(largest + (above.count(largest) > 1))
    wrong += order[-1] != f["properties"]["StreamOrde"]
print("plain Strahler is wrong on", wrong)

pairs = []
for f in features:
    path = f["geometry"]["coordinates"]
    for (lon1, lat1), (lon2, lat2) in zip(path, path[1:]):
        pairs.append(f"{lat1!r} {lon1!r} {lat2!r} {lon2!r}")
out = subprocess.run(["GeodSolve", "-i", "-p", "6"], input="\n".join(pairs), capture_output=True, text=True, check=True)
print("geodesic length, km: %.6f" % (sum(float(line.split()[2]) for line in out.stdout.splitlines()) / 1000))
