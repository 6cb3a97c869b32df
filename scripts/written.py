#!/usr/bin/env python3
"""Holds the outlines that batches wrote to GEOS and to their stated acres.

    /usr/bin/python3 scripts/written.py BATCH...

For each folder: how many polygons of stands.geojson and aquatic_zone.geojson GEOS (by
shapely) finds invalid, and how far their own area is from the stated one, relative, for
those above 10 acres, from 0.04 acres, and below. Sides are straight in degrees; areas
are of the WGS 84 ellipsoid by authalic latitude (Snyder 1987, equation 3-12), which
for sides of some metres is exact. Fails where a polygon is invalid.
"""
import json
import math
import sys

import shapely.geometry
from shapely.validation import explain_validity

A, F = 6378137.0, 1 / 298.257223563
E2 = F * (2 - F)
E = math.sqrt(E2)


def q(lat):
    s = math.sin(math.radians(lat))
    return (1 - E2) * (s / (1 - E2 * s * s) - math.log((1 - E * s) / (1 + E * s)) / (2 * E))


def ring_area(ring):
    x0, y0 = ring[0][0], q(ring[0][1])
    p = [(math.radians(x - x0), q(y) - y0) for x, y in ring]
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(p, p[1:]))) / 2 * A * A / 2


def area(shape):
    parts = [shape] if shape.geom_type == "Polygon" else shape.geoms
    return sum(ring_area(list(p.exterior.coords)) - sum(ring_area(list(h.coords)) for h in p.interiors) for p in parts)


wrong = 0
for folder in sys.argv[1:]:
    for name in ("stands.geojson", "aquatic_zone.geojson"):
        count, worst = 0, [0.0, 0.0, 0.0]
        for line in open(f"{folder}/{name}", encoding="utf-8"):
            if not line.startswith('{"type":"Feature",'):
                continue
            feature = json.loads(line.rstrip().rstrip(","))
            shape = shapely.geometry.shape(feature["geometry"])
            count += 1
            if not shape.is_valid:
                wrong += 1
                print(name, feature["id"], explain_validity(shape))
            stated = feature["exact_acres"]["infested"] if "exact_acres" in feature else feature["properties"]["zone_acres"]
            size = 0 if stated > 10 else 1 if stated > 0.04 else 2
            worst[size] = max(worst[size], abs(area(shape) / 4046.8564224 / stated - 1))
        print(f"{folder} {name}: {count} polygons, {wrong} invalid; area off by at most {worst[0]:.1e} above 10 acres, {worst[1]:.1e} from 0.04, {worst[2]:.1e} below")
sys.exit(1 if wrong else 0)
