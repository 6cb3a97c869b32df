#!/usr/bin/python3
"""Write testdata/water/shores.json: aquatic zones of lakes with streams through them,
by GEOS.

Run with Debian's python3-shapely: /usr/bin/python3 scripts/oracle_water.py
Each case is a lake, some with an island, and a stream through it, in metres; the
zone is everything within the setback of the lake or of the stream's banks outside it, at
4096 sides a quarter circle, which is 2.5e-8 short of round. Places have their distance to the nearest water.
"""
import json
import math
import pathlib
import random

from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

OUT = pathlib.Path(__file__).resolve().parent.parent / "testdata" / "water"


def blob(rng, x, y, size, corners):
    return [[round(x + size * r * math.cos(2 * math.pi * k / corners), 2), round(y + size * r * math.sin(2 * math.pi * k / corners), 2)]
            for k, r in enumerate(rng.uniform(0.5, 1) for _ in range(corners))]


def main():
    rng = random.Random(12)
    cases = []
    for k in range(40):
        size = rng.uniform(60, 900)
        shell = blob(rng, 0, 0, size, rng.randint(5, 40))
        holes = [blob(rng, 0, 0, size * 0.2, 9)] if k % 3 == 0 else []
        line = [[round(rng.uniform(-100, 100), 2), y] for y in range(1500, -1501, -300)]
        width, setback = round(rng.uniform(2, 60), 1), round(rng.uniform(5, 80), 1)
        lake = Polygon(shell, holes)
        dry = LineString(line).difference(lake)
        zone = unary_union([lake.buffer(setback, 4096), dry.buffer(width / 2 + setback, 4096)])
        places = [[round(rng.uniform(-1000, 1000), 2), round(rng.uniform(-1000, 1000), 2)] for _ in range(20)]
        away = [min(Point(p).distance(lake), max(0, Point(p).distance(dry) - width / 2)) for p in places]
        cases.append({"lake": [shell + shell[:1]] + [h + h[:1] for h in holes], "line": line, "width": width, "setback": setback,
                      "area": zone.area, "places": places, "away": away})
    OUT.mkdir(parents=True, exist_ok=True)
    (OUT / "shores.json").write_text(json.dumps(cases, indent=None, separators=(",", ":")) + "\n")


main()
