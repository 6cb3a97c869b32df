#!/usr/bin/python3
"""Write testdata/water/shores.json: aquatic zones of lakes with streams through them,
and banks.json: banks that patches lie along and their ground within distances of a bank,
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


def across(line, setback, half, side):
    """Lines across a channel, one for each half metre: from the centerline out to the
    setback beyond the bank, turning from one segment's normal to the next along each."""
    normals = []
    for (ax, ay), (bx, by) in zip(line, line[1:]):
        length = math.hypot(bx - ax, by - ay)
        normals.append((-(by - ay) / length, (bx - ax) / length))
    at = [normals[0]]
    for a, b in zip(normals, normals[1:]):
        length = math.hypot(a[0] + b[0], a[1] + b[1])
        at.append(((a[0] + b[0]) / length, (a[1] + b[1]) / length))
    at.append(normals[-1])
    for i, ((ax, ay), (bx, by)) in enumerate(zip(line, line[1:])):
        length = math.hypot(bx - ax, by - ay)
        n = max(1, round(length / 0.5))
        for k in range(n):
            t = (k + 0.5) / n
            nx, ny = (1 - t) * at[i][0] + t * at[i + 1][0], (1 - t) * at[i][1] + t * at[i + 1][1]
            by_length = side * (half + setback) / math.hypot(nx, ny)
            x, y = ax + t * (bx - ax), ay + t * (by - ay)
            yield length / n, LineString([(x, y), (x + nx * by_length, y + ny * by_length)])


def banks():
    rng = random.Random(5)
    cases = []
    for k in range(60):
        line, heading = [[0.0, 700.0]], -math.pi / 2
        while line[-1][1] > -700:
            heading += rng.uniform(-0.25, 0.25) + 0.2 * (-math.pi / 2 - heading)
            line.append([round(line[-1][0] + 40 * math.cos(heading), 2), round(line[-1][1] + 40 * math.sin(heading), 2)])
        width, setback = round(rng.uniform(2, 20), 1), round(rng.uniform(10, 40), 1)
        channel = LineString(line)
        case = {"line": line, "width": width, "setback": setback, "discs": None, "outline": None}
        if k % 3 == 0:
            middle = channel.interpolate(rng.uniform(400, 900))
            case["outline"] = blob(rng, middle.x + rng.uniform(-60, 60), middle.y, rng.uniform(20, 150), rng.randint(5, 20))
            case["outline"].append(case["outline"][0])
            ground = Polygon(case["outline"])
        else:
            radius = round(rng.uniform(2, 20), 2)
            case["discs"] = []
            for _ in range(rng.randint(1, 12)):
                middle = channel.interpolate(rng.uniform(300, 1000))
                case["discs"].append([round(middle.x + rng.uniform(-50, 50), 2), round(middle.y, 2), radius])
            ground = unary_union([Point(x, y).buffer(r, 1024) for x, y, r in case["discs"]])
        for name, side in (("left", 1), ("right", -1)):
            case[name] = round(sum(long for long, cut in across(line, setback, width / 2, side) if cut.intersects(ground)), 2)
        case["distances"] = [0, 5, 15, 60]
        case["areas"] = [round(ground.intersection(channel.buffer(width / 2 + d, 1024)).area, 3) for d in case["distances"]]
        cases.append(case)
    (OUT / "banks.json").write_text(json.dumps(cases, indent=None, separators=(",", ":")) + "\n")


def main():
    banks()
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
