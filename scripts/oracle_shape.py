#!/usr/bin/python3
"""Write testdata/shape: random and nasty areas with the answers of GEOS.

Run with Debian's python3-shapely: /usr/bin/python3 scripts/oracle_shape.py
discs.json    union and closing areas of true circles. GEOS cuts polygons, so
              each circle is one of 1024 sides with the circle's area; the error
              left is about 1e-8, of the closing about 1e-6.
buffers.json  buffers of lines: outline at 128 sides a quarter, area at 1024.
overlay.json  union, intersection, growing and shrinking of polygons, and the
              repair of outlines that cross themselves.
coverage.json   how much of footprints and lines lies in each cell of a coverage of
              Voronoi cells, every fifth cell left out and some with a hole.
"""
import json
import math
import pathlib

import numpy as np
import shapely
from shapely.geometry import LineString, MultiPoint, Polygon
from shapely.geos import geos_version
from shapely.ops import unary_union, voronoi_diagram
from shapely.validation import make_valid

OUT = pathlib.Path(__file__).resolve().parent.parent / "testdata" / "shape"
SIDES = 1024


def disc(x, y, r, sides=SIDES):
    step = 2 * math.pi / sides
    r = r * math.sqrt(step / math.sin(step))
    return Polygon([(x + r * math.cos(step * i), y + r * math.sin(step * i)) for i in range(sides)])


def disc_case(name, discs, gap):
    rho = gap / 2
    union = unary_union([disc(*d) for d in discs])
    grown = unary_union([disc(x, y, r + rho) for x, y, r in discs])
    closed = grown.buffer(-rho, SIDES // 4)
    parts = [union] if union.geom_type == "Polygon" else list(union.geoms)
    return {
        "name": name, "discs": discs, "gap": gap, "union": union.area, "closing": closed.area, "grown": grown.area,
        "polygons": len(parts), "holes": sum(len(p.interiors) for p in parts),
    }


def random_discs(rng, n, low, high):
    x, y, heading, out = 0.0, 0.0, rng.uniform(0, 6), []
    for _ in range(n):
        heading += rng.normal(0, 0.7)
        step = rng.uniform(3, 27)
        x, y = x + step * math.cos(heading), y + step * math.sin(heading)
        out.append([round(x, 2), round(y, 2), round(rng.uniform(low, high), 2)])
    return out


def disc_cases(rng):
    cases = []
    for low, high in [(11.35, 11.35), (1, 3), (0.5, 25), (5, 12)]:
        for k in range(6):
            n = int(rng.integers(2, 30))
            cases.append(disc_case(f"random {n} of {low} to {high} m, {k}", random_discs(rng, n, low, high), 30))
    crowd = [[round(v, 2) for v in rng.uniform(0, 150, 2)] + [11.35] for _ in range(120)]
    cases.append(disc_case("crowd", crowd, 30))
    cases.append(disc_case("square survey grid, gaps between", [[20.0 * i, 20.0 * j, 11.0] for i in range(6) for j in range(6)], 6))
    cases.append(disc_case("square grid with holes", [[20.0 * i, 20.0 * j, 12.0] for i in range(4) for j in range(4)], 2))
    cases.append(disc_case("ring of discs", [[60 * math.cos(a), 60 * math.sin(a), 11.0] for a in np.arange(0, 2 * math.pi, math.pi / 12)], 30))
    cases.append(disc_case("two apart", [[0, 0, 5], [22, 0, 5]], 30))
    cases.append(disc_case("two small ones far apart", [[0, 0, 1], [28, 0, 1]], 30))
    cases.append(disc_case("one in another", [[0, 0, 20], [5, 3, 5]], 30))
    cases.append(disc_case("the same twice", [[7, 7, 11], [7, 7, 11], [20, 7, 11]], 30))
    return cases


def meander(rng, n, turn):
    x, y, heading, line = 0.0, 0.0, rng.uniform(0, 6), [[0.0, 0.0]]
    for _ in range(n - 1):
        heading += rng.normal(0, turn)
        step = rng.uniform(8, 40)
        x, y = x + step * math.cos(heading), y + step * math.sin(heading)
        line.append([round(x, 2), round(y, 2)])
    return line


def rounded(geometry):
    parts = [geometry] if geometry.geom_type == "Polygon" else list(geometry.geoms)
    return [[[[round(x, 4), round(y, 4)] for x, y in ring.coords] for ring in [p.exterior, *p.interiors]] for p in parts]


def buffer_case(name, lines, radius):
    # A buffer of one line at a time: GEOS also dissolves.
    def grow(q):
        return unary_union([LineString(l).buffer(r, q) for l, r in zip(lines, radius)])

    return {"name": name, "lines": lines, "radius": radius, "area": grow(1024).area, "outline": rounded(grow(128))}


def buffer_cases(rng):
    cases = [buffer_case(f"one line, turns of {turn}", [meander(rng, 20, turn)], [10.0]) for turn in [0.05, 0.3, 0.8, 1.5, 3]]
    fork = meander(rng, 8, 0.3)
    cases.append(buffer_case("confluence", [fork, [[-60, 50], [-20, 25], [0, 0]], [[-70, -20], [-30, -20], [0, 0]]], [10.0] * 3))
    cases.append(buffer_case("confluence of unequal widths", [fork, [[-60, 50], [-20, 25], [0, 0]], [[-70, -20], [-30, -20], [0, 0]]], [10.0, 8.0, 4.0]))
    cases.append(buffer_case("closed loop", [[[0, 0], [100, 0], [100, 80], [0, 80], [0, 0]]], [10.0]))
    cases.append(buffer_case("braid", [[[0, 0], [50, 40], [100, 0]], [[0, 0], [50, -40], [100, 0]]], [10.0, 10.0]))
    cases.append(buffer_case("crossing itself", [[[0, 0], [100, 100], [100, 0], [0, 100]]], [10.0]))
    cases.append(buffer_case("there and back", [[[0, 0], [100, 0], [0, 0]]], [10.0]))
    for size in [1, 9, 25]:
        cases.append(buffer_case(f"loop of {size} m", [[[0, 0], [size, 0], [size, size], [0, size], [0, 0]]], [10.0]))
    cases.append(buffer_case("vertices closer than the radius", [[[i * 1.5, math.sin(i / 3) * 6] for i in range(60)]], [10.0]))
    cases.append(buffer_case("many lines", [[[x + 150 * i % 400, y + 77 * i % 300] for x, y in meander(rng, 15, 0.5)] for i in range(4)], [10.0] * 4))
    return cases


def star(rng, n, low, high, cx=0.0, cy=0.0):
    angles = np.sort(rng.uniform(0, 2 * math.pi, n))
    return [[round(cx + r * math.cos(a), 3), round(cy + r * math.sin(a), 3)] for a, r in zip(angles, rng.uniform(low, high, n))]


def closed(ring):
    return ring + [ring[0]]


def overlay_cases(rng):
    cases = []
    for k in range(20):
        a, b = closed(star(rng, 12, 20, 100)), closed(star(rng, 9, 10, 90, 40, 20))
        p, q = Polygon(a), Polygon(b)
        cases.append({
            "name": f"stars {k}", "a": a, "b": b, "union": p.union(q).area, "intersection": p.intersection(q).area,
            "grown": p.buffer(15, 32).area, "shrunk": p.buffer(-5, 32).area,
            "line_distance": p.distance(LineString([[150, -200], [120, 200]])),
        })
    return cases


def repair_cases(rng):
    rings = {
        "figure of eight": [[0, 0], [10, 10], [10, 0], [0, 10], [0, 0]],
        "five-pointed star": [[math.cos(4 * math.pi * i / 5), math.sin(4 * math.pi * i / 5)] for i in range(5)],
        "spike": [[0, 0], [10, 0], [10, 10], [20, 10], [10, 10], [0, 10], [0, 0]],
        "touching itself": [[0, 0], [10, 0], [5, 5], [10, 10], [0, 10], [5, 5], [0, 0]],
    }
    for k in range(8):
        rings[f"random scribble {k}"] = [[round(v, 3) for v in rng.uniform(0, 100, 2)] for _ in range(int(rng.integers(5, 25)))]
    out = []
    for name, ring in rings.items():
        ring = ring if ring[0] == ring[-1] else closed(ring)
        out.append({"name": name, "ring": ring, "area": make_valid(Polygon(ring)).area})
    return out


def coverage(rng):
    seeds = MultiPoint(rng.uniform(0, 1000, (40, 2)))
    box = Polygon([(0, 0), (1000, 0), (1000, 1000), (0, 1000)])
    cells = []
    for i, cell in enumerate(voronoi_diagram(seeds, box).geoms):
        cell = cell.intersection(box)
        if i % 5 == 4:
            continue
        if i % 3 == 0:
            cell = cell.difference(cell.centroid.buffer(15, 4))
        cells.append(cell)
    footprints, lines = [], []
    for k in range(60):
        size = 10.0 ** rng.uniform(0, 2.4)
        cx, cy = rng.uniform(-20, 1020, 2)
        footprints.append(closed(star(rng, 14, size / 3, size, cx, cy)))
        x, y = rng.uniform(0, 1000, 2)
        lines.append([[a + x, b + y] for a, b in meander(rng, 12, 0.6)])
    return {
        "cells": [[list(map(list, ring.coords)) for ring in [c.exterior, *c.interiors]] for c in cells],
        "footprints": [{"ring": f, "area": Polygon(f).area, "shares": [Polygon(f).intersection(c).area for c in cells]} for f in footprints],
        "lines": [{"line": l, "length": LineString(l).length, "shares": [LineString(l).intersection(c).length for c in cells]} for l in lines],
    }


def write(name, value):
    (OUT / name).write_text(json.dumps({"made_by": f"shapely {shapely.__version__}, GEOS {'.'.join(map(str, geos_version))}", **value}, separators=(",", ":")) + "\n")


def main():
    OUT.mkdir(parents=True, exist_ok=True)
    rng = np.random.default_rng(7)
    write("discs.json", {"cases": disc_cases(rng)})
    write("buffers.json", {"cases": buffer_cases(rng)})
    write("overlay.json", {"cases": overlay_cases(rng), "repairs": repair_cases(rng)})
    write("coverage.json", coverage(np.random.default_rng(11)))


main()
