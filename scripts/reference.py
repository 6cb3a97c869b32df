#!/usr/bin/python3
"""The main steps of a batch by general-purpose libraries, to hold speed and totals against.

    /usr/bin/python3 scripts/reference.py POINTS.csv STREAMS.geojson OUT

Run with Debian's python3-geopandas, python3-rtree and python3-sklearn, in a region of scripts/generate. Records
found are clustered (DBSCAN), their discs dissolved by stand, gaps closed, the banks of
streams widened by the setback, stands in that zone found, and each followed down
with half of what floats settling every 10 km; stands, zone and reaches are written as GeoJSON, points
and the order of treatment as CSV. It has none of: checks of the input, percentiles,
uncertainty of acres, branches, barriers, hours, maps, page, calendar. Prints stands and infested acres.
"""
import math
import pathlib
import sys

import geopandas
import numpy
import pandas
from sklearn.cluster import DBSCAN

ACRE = 4046.8564224
JOIN, MIN_POINTS, SETBACK, DEFAULT_PATCH = 30, 3, 30, 0.1 * ACRE
WIDTH = 10  # m, of a stream that records none; the program has a table by order
HALF, LEAST = 10_000, 0.05  # m; share that is followed

points_file, streams_file, out = sys.argv[1], sys.argv[2], pathlib.Path(sys.argv[3])
out.mkdir(parents=True)
table = pandas.read_csv(points_file)
points = geopandas.GeoDataFrame(table, geometry=geopandas.points_from_xy(table.decimalLongitude, table.decimalLatitude), crs=4326)
streams = geopandas.read_file(streams_file)
zone_number = int((points.geometry.x.median() + 180) // 6) + 1
metric = (32600 if points.geometry.y.median() >= 0 else 32700) + zone_number
points, streams = points.to_crs(metric), streams.to_crs(metric)

found = points[points.occurrenceStatus == "detected"].copy()
xy = numpy.column_stack([found.geometry.x, found.geometry.y])
label = DBSCAN(eps=JOIN, min_samples=MIN_POINTS).fit(xy).labels_
alone = label < 0
label[alone] = label.max(initial=-1) + 1 + numpy.arange(alone.sum())
found["stand"] = label
area = found.patch_area_m2.fillna(DEFAULT_PATCH)
found["geometry"] = found.geometry.buffer(numpy.sqrt(area / math.pi), 16)
stands = found[["stand", "geometry"]].dissolve("stand")
# circles of 64 sides are a little small
stands["infested_acres"] = stands.area / ACRE * (2 * math.pi / 64) / math.sin(2 * math.pi / 64)
stands["gross_acres"] = stands.buffer(JOIN / 2, 16).buffer(-JOIN / 2, 16).area / ACRE
cover = found.canopy_cover_percent.fillna(50)
stands["canopy_acres"] = stands.infested_acres * cover.groupby(found.stand).mean() / 100

width = streams.bankfull_width_m.fillna(WIDTH) if "bankfull_width_m" in streams else pandas.Series(WIDTH, streams.index)
banks = streams.buffer(width / 2 + SETBACK, 16)
zone = geopandas.GeoDataFrame(geometry=[banks.unary_union], crs=metric).explode(index_parts=False)
stands["in_zone"] = False
near = geopandas.sjoin(stands, geopandas.GeoDataFrame(geometry=banks, crs=metric), predicate="intersects")
stands.loc[near.index.unique(), "in_zone"] = True

# what floats from each stand in the zone, down the line that is nearest
first = near[~near.index.duplicated()].index_right
ends = {}
for i, line in zip(streams.index, streams.geometry):
    ends.setdefault((round(line.coords[0][0], 1), round(line.coords[0][1], 1)), i)
below = {i: ends.get((round(line.coords[-1][0], 1), round(line.coords[-1][1], 1))) for i, line in zip(streams.index, streams.geometry)}
long = streams.length.to_dict()
exposure, reach = dict.fromkeys(streams.index, 0.0), {}
for stand, line in first.items():
    share, km, released = 1.0, 0.0, stands.infested_acres[stand]
    while line is not None and share >= LEAST:
        exposure[line] += share * released
        km += long[line] / 1000
        share *= 0.5 ** (long[line] / HALF)
        line = below[line]
    reach[stand] = km
stands["reach_km"] = pandas.Series(reach)
streams["exposure"] = pandas.Series(exposure)
depth = {}


def lines_below(line):
    way = []
    while line is not None and line not in depth:
        way.append(line)
        line = below[line]
    n = 0 if line is None else depth[line]
    for line in reversed(way):
        n += 1
        depth[line] = n
    return n


order = stands[stands.in_zone].assign(line=first).reset_index()
order["lines_below"] = [lines_below(i) for i in order.line]
order = order.sort_values(["lines_below", "infested_acres"], ascending=False)

for name, layer in {"stands": stands.reset_index(), "zone": zone, "reaches": streams[streams.exposure > 0]}.items():
    layer.to_crs(4326).to_file(out / f"{name}.geojson", driver="GeoJSON")
points.drop(columns="geometry").to_csv(out / "points.csv", index=False)
order.drop(columns="geometry").to_csv(out / "order.csv", index=False)
print(len(stands), f"{stands.infested_acres.sum():.4f}")
