#!/usr/bin/env python3
"""Holds the outlines that batches wrote to GEOS and to their stated acres.

    /usr/bin/python3 scripts/written.py BATCH...
    /usr/bin/python3 scripts/written.py regions PROGRAM GENERATE FOLDER [long]

The first looks at finished folders. The second makes regions of every kind with
scripts/generate (GENERATE is that program built, PROGRAM driftreach), with lakes and
wide rivers on their streams, runs a batch of each in FOLDER, looks at it, and prints the
table of scripts/MEASURED.md; `long` adds the large ones.

For each folder: the polygons of stands, aquatic_zone, absent and looked_at as GeoJSON,
and those of map.kml and driftreach.gpkg where they are there. GEOS (by shapely) must find each valid;
the area of a stand's must be its exact infested acres within 15 cm2 and 1e-7, in each of
the three, that of a zone its stated acres within 1e-5 or half of their last digit. Sides are
straight in degrees; areas are of the WGS 84 ellipsoid by authalic latitude (Snyder
1987, equation 3-12), which for sides of some metres is exact.
"""
import json
import math
import pathlib
import random
import re
import shutil
import sqlite3
import subprocess
import sys

import shapely.wkb
import shapely.geometry
from shapely.validation import explain_validity

A, F = 6378137.0, 1 / 298.257223563
E2 = F * (2 - F)
E = math.sqrt(E2)
ACRE = 4046.8564224


def q(lat):
    s = math.sin(math.radians(lat))
    return (1 - E2) * (s / (1 - E2 * s * s) - math.log((1 - E * s) / (1 + E * s)) / (2 * E))


def ring_area(ring):
    x0, y0 = ring[0][0], q(ring[0][1])
    p = [(math.radians(x - x0), q(y) - y0) for x, y in ring]
    return abs(math.fsum(a[0] * b[1] - b[0] * a[1] for a, b in zip(p, p[1:]))) / 2 * A * A / 2


def area(shape):
    parts = [shape] if shape.geom_type == "Polygon" else shape.geoms
    return math.fsum(ring_area(list(p.exterior.coords)) - sum(ring_area(list(h.coords)) for h in p.interiors) for p in parts)


class Book:
    """What was seen of one folder, by layer."""

    def __init__(self):
        self.rows = {}
        self.wrong = 0

    def see(self, layer, name, shape, stated=None, slack=None):
        """Looks at one shape; stated in acres, slack in square metres."""
        row = self.rows.setdefault(layer, [0, 0, 0, 0.0, 0.0])  # polygons, invalid, off, worst relative from 0.04 acres, worst m2 below
        row[0] += len(shape.geoms) if hasattr(shape, "geoms") else 1
        if not shape.is_valid:
            row[1] += 1
            self.wrong += 1
            print("invalid:", layer, name, explain_validity(shape))
        if stated is None:
            return
        off = abs(area(shape) - stated * ACRE)
        if stated >= 0.04:
            row[3] = max(row[3], off / (stated * ACRE))
        else:
            row[4] = max(row[4], off)
        if off > slack:
            row[2] += 1
            self.wrong += 1
            print("area:", layer, name, f"{stated} acres stated, off by {off:.5f} m2")


def features(path):
    if path.exists():
        for line in open(path, encoding="utf-8"):
            if line.startswith('{"type":"Feature",'):
                yield json.loads(line.rstrip().rstrip(","))


def stand_slack(acres):
    return 0.0015 + 1e-7 * acres * ACRE


def zone_slack(acres):
    digits = len(repr(acres).partition(".")[2])
    return max(1e-5 * acres, 0.5 * 10**-max(digits, 1)) * ACRE


def look(folder):
    folder, book = pathlib.Path(folder), Book()
    acres, zones = {}, {}
    for f in features(folder / "stands.geojson"):
        acres[f["id"]] = f["exact_acres"]["infested"]
        book.see("stands.geojson", f["id"], shapely.geometry.shape(f["geometry"]), acres[f["id"]], stand_slack(acres[f["id"]]))
    for f in features(folder / "aquatic_zone.geojson"):
        zones[f["properties"]["waterBody"] or ""] = stated = f["properties"]["zone_acres"]
        book.see("aquatic_zone.geojson", f["id"], shapely.geometry.shape(f["geometry"]), stated, zone_slack(stated))
    for name in ("absent.geojson", "looked_at.geojson"):
        for f in features(folder / name):
            if f["geometry"]:
                book.see(name, f.get("id"), shapely.geometry.shape(f["geometry"]))
    if (folder / "driftreach.gpkg").exists():
        look_pack(folder / "driftreach.gpkg", book, acres, zones)
    if (folder / "map.kml").exists():
        look_map(folder / "map.kml", book, acres, zones)
    return book


def look_pack(path, book, acres, zones):
    pack = sqlite3.connect(path)
    for table, key, stated, slack in (("stands", "stand_id", acres, stand_slack), ("aquatic_zone", "waterBody", zones, zone_slack), ("absent", "fid", None, None), ("looked_at", "fid", None, None)):
        for name, blob in pack.execute(f'SELECT "{key}", geom FROM "{table}"'):
            if blob is None:
                continue
            envelope = (blob[3] >> 1) & 7
            shape = shapely.wkb.loads(blob[8 + (0, 32, 48, 48, 64)[envelope] :])
            if stated is None:
                book.see(f"gpkg {table}", name, shape)
            else:
                book.see(f"gpkg {table}", name, shape, stated[name or ""], slack(stated[name or ""]))


COORDINATES = re.compile("<coordinates>([^<]*)</coordinates>")


def look_map(path, book, acres, zones):
    for line in open(path, encoding="utf-8"):
        if "<Polygon>" not in line:
            continue
        polygons = []
        for one in line.split("<Polygon>")[1:]:
            rings = [[tuple(map(float, p.split(",")[:2])) for p in ring.split()] for ring in COORDINATES.findall(one.partition("</Polygon>")[0])]
            polygons.append((rings[0], rings[1:]))
        shape = shapely.geometry.MultiPolygon(polygons)
        stand = re.search('<SimpleData name="stand_id">([^<]*)<', line)
        zone = '<SimpleData name="zone_acres">' in line and stand is None
        body = re.search('<SimpleData name="waterBody">([^<]*)<', line)
        notice = '<SimpleData name="notice_id">' in line  # names a stand; its area is that of the work
        if stand and not notice and stand[1] in acres:
            book.see("map.kml stands", stand[1], shape, acres[stand[1]], stand_slack(acres[stand[1]]))
        elif zone:
            stated = zones[body[1] if body else ""]
            book.see("map.kml zones", body and body[1], shape, stated, zone_slack(stated))
        else:
            book.see("map.kml others", line[:60], shape)


def lakes(streams, rng, every):
    """Lakes and wide rivers about some of the streams, as a GeoJSON text."""
    out = []
    for k, f in enumerate(json.load(open(streams, encoding="utf-8"))["features"]):
        if k % every:
            continue
        path = f["geometry"]["coordinates"]
        x, y = path[len(path) // 2]
        lon = 111320 * math.cos(math.radians(y))

        def blob(size, corners, back):
            turn = [2 * math.pi * i / corners for i in range(corners)]
            ring = [[x + size * r * math.cos(t) / lon, y + size * r * math.sin(t) / 111132] for t, r in zip(turn, (rng.uniform(0.6, 1) for _ in turn))]
            return (ring[::-1] if back else ring) + [ring[-1] if back else ring[0]]

        size = rng.choice([40, 120, 300, 700])
        rings = [blob(size, rng.randint(5, 200), False)]
        if k % (3 * every) == 0:
            rings.append(blob(size * 0.3, 12, True))
        name = rng.choice([f["properties"]["waterBody"], f"Lake {k}", ""])
        out.append({"type": "Feature", "properties": {"water_id": f"W{k}", "waterBody": name, "kind": rng.choice(["lake", "river"])}, "geometry": {"type": "Polygon", "coordinates": rings}})
    return json.dumps({"type": "FeatureCollection", "features": out})


# points, lines, seeds, setback in metres, chord in metres, with lakes
REGIONS = [(2000, 200, range(1, 13), 30, 0.02, True), (2000, 200, range(13, 17), 5, 0.001, True), (2000, 200, range(17, 21), 90, 1, True), (20000, 2000, range(1, 3), 30, 0.02, True)]
LARGE = [(20000, 2000, range(3, 7), 30, 0.02, True), (60000, 200, range(1, 4), 30, 0.02, False), (100000, 10000, range(1, 3), 30, 0.02, True)]


def regions(program, generate, folder, large):
    folder, wrong = pathlib.Path(folder), 0
    print("| region | seeds | layer | polygons | invalid | area off at most, from 0.04 acres | below, m2 | beyond the bound |\n|---|--:|---|--:|--:|--:|--:|--:|", flush=True)
    for points, lines, seeds, setback, chord, with_lakes in REGIONS + (LARGE if large else []):
        sums = {}
        for seed in seeds:
            into = folder / "region"
            shutil.rmtree(into, ignore_errors=True)
            subprocess.run([generate, "-points", str(points), "-lines", str(lines), "-seed", str(seed), "-out", into], check=True)
            command = [program, "batch", "--points", into / "points.csv", "--streams", into / "streams.geojson", "--quarter", "2026Q3", "--out", into / "out", "--kml", "--gpkg",
                       "--set", f"aquatic.setback_m={setback}", "--set", f"maps.chord_m={chord}"]
            if with_lakes:
                (into / "water.geojson").write_text(lakes(into / "streams.geojson", random.Random(seed), 20))
                command += ["--water", into / "water.geojson"]
            subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            book = look(into / "out")
            wrong += book.wrong
            for layer, row in book.rows.items():
                s = sums.setdefault(layer, [0, 0, 0, 0.0, 0.0])
                sums[layer] = [s[0] + row[0], s[1] + row[1], s[2] + row[2], max(s[3], row[3]), max(s[4], row[4])]
            shutil.rmtree(into)
        name = f"{points} points, {lines} lines, setback {setback} m, chords of {chord} m" + (", lakes" if with_lakes else "")
        for layer, (n, bad, off, worst, below) in sums.items():
            print(f"| {name} | {len(seeds)} | {layer} | {n} | {bad} | {worst:.1e} | {below:.4f} | {off} |", flush=True)
    return wrong


def main(arguments):
    if arguments and arguments[0] == "regions":
        return regions(arguments[1], arguments[2], arguments[3], arguments[4:] == ["long"])
    wrong = 0
    for folder in arguments:
        book = look(folder)
        wrong += book.wrong
        for layer, (n, bad, off, worst, below) in book.rows.items():
            print(f"{folder} {layer}: {n} polygons, {bad} invalid; area off by at most {worst:.1e} from 0.04 acres, {below:.4f} m2 below; {off} beyond the bound")
    return wrong


sys.exit(1 if main(sys.argv[1:]) else 0)
