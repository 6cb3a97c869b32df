#!/usr/bin/env python3
"""Works out, apart from the program, two numbers that the tests of geo/flow
hold: on how many of the 746 flowlines plain Strahler order is wrong (264), and
the geodesic length of all of them in km (577.050), by GeodSolve of GeographicLib.

    scripts/oracle_flow.py nhdplusv2_new_hope_746.geojson
"""
import collections
import json
import subprocess
import sys

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
