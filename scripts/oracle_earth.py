#!/usr/bin/python3
"""Writes testdata/earth: answers of PROJ and GeographicLib on random positions.

Needs the command line programs proj, GeodSolve and Planimeter (Debian packages
proj-bin and geographiclib-tools). Run from the module root. Seeded: the same
versions write the same bytes.
"""

import math
import random
import subprocess

OUT = "testdata/earth/"


def run(command, lines):
    """Returns the words of each output line of a filter fed with lines."""
    done = subprocess.run(command, input="\n".join(lines) + "\n", text=True, capture_output=True, check=True)
    return [line.split() for line in done.stdout.splitlines()]


def version(command):
    done = subprocess.run(command, text=True, capture_output=True)
    return (done.stdout + done.stderr).splitlines()[0].strip()


PROJ = version(["proj"])
GEOGRAPHICLIB = version(["GeodSolve", "--version"])

# name, PROJ definition, west, east, south, north of the positions drawn
PROJECTIONS = [
    ("tm-clarke", "+proj=tmerc +lon_0=-75 +k=0.9996 +ellps=clrk66", -110, -40, -85, 85),
    ("tm-airy-grid", "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy", -10, 4, 48, 62),
    ("tm-wide", "+proj=tmerc +lon_0=10 +ellps=WGS84", -25, 45, -89, 89),
    ("utm-33", "+proj=utm +zone=33 +ellps=WGS84", 9, 21, 0, 84),
    ("utm-60-south", "+proj=utm +zone=60 +south +ellps=WGS84", 172, 183, -80, 0),
    ("utm-1", "+proj=utm +zone=1 +ellps=WGS84", -184, -172, -5, 72),
    ("laea-clarke", "+proj=laea +lat_0=40 +lon_0=-100 +ellps=clrk66", -170, -30, -30, 89),
    ("laea-south-180", "+proj=laea +lat_0=-65 +lon_0=179 +ellps=WGS84 +x_0=1000 +y_0=2000", 100, 250, -89, 0),
    ("laea-north-pole", "+proj=laea +lat_0=90 +lon_0=0 +ellps=GRS80", -180, 180, 0, 89.9),
    ("laea-south-pole", "+proj=laea +lat_0=-90 +lon_0=30 +ellps=GRS80", -180, 180, -89.9, 0),
    ("laea-equator", "+proj=laea +lat_0=0 +lon_0=20 +ellps=WGS84", -60, 100, -80, 80),
    ("albers-clarke", "+proj=aea +lat_1=29.5 +lat_2=45.5 +lat_0=23 +lon_0=-96 +ellps=clrk66", -170, -20, -20, 80),
    ("albers-south", "+proj=aea +lat_1=-18 +lat_2=-36 +lat_0=0 +lon_0=134 +ellps=GRS80", 60, 220, -80, 20),
    ("albers-one", "+proj=aea +lat_1=50 +lat_2=50 +lat_0=40 +lon_0=-126 +x_0=1000000 +ellps=GRS80", -180, -60, 0, 85),
    ("lcc2-clarke", "+proj=lcc +lat_1=33 +lat_2=45 +lat_0=23 +lon_0=-96 +ellps=clrk66", -170, -20, -20, 85),
    ("lcc2-south", "+proj=lcc +lat_1=-30 +lat_2=-60 +lat_0=-40 +lon_0=-70 +x_0=500000 +ellps=WGS84", -150, 10, -85, 10),
    ("lcc1", "+proj=lcc +lat_1=46.8 +lat_0=46.8 +lon_0=2.337 +k_0=0.99987742 +x_0=600000 +y_0=2200000 +ellps=intl", -30, 40, 10, 80),
    ("merc-k", "+proj=merc +lon_0=110 +k_0=0.997 +x_0=3900000 +y_0=900000 +ellps=bessel", -60, 280, -85, 85),
    ("merc-parallel", "+proj=merc +lat_ts=42 +lon_0=51 +ellps=WGS84", -120, 220, -85, 85),
    ("web", "+proj=webmerc +ellps=WGS84", -180, 179.9, -85, 85),
    ("stere-a-north", "+proj=stere +lat_0=90 +lon_0=0 +k_0=0.994 +x_0=2000000 +y_0=2000000 +ellps=WGS84", -180, 180, 0, 89.99),
    ("stere-a-south", "+proj=stere +lat_0=-90 +lon_0=0 +k_0=0.994 +x_0=2000000 +y_0=2000000 +ellps=WGS84", -180, 180, -89.99, 0),
    ("stere-b-north", "+proj=stere +lat_0=90 +lat_ts=70 +lon_0=-45 +ellps=WGS84", -180, 180, 0, 89.99),
    ("stere-b-south", "+proj=stere +lat_0=-90 +lat_ts=-71 +lon_0=70 +x_0=6000000 +y_0=6000000 +ellps=WGS84", -180, 180, -89.99, 0),
]

# the same of oblique projections, in a file and of a seed of their own
OBLIQUE = [
    ("omerc-a", "+proj=omerc +no_uoff +lat_0=57 +lonc=-133.666666666667 +alpha=323.130102361111 +gamma=323.130102361111 +k=0.9999 +x_0=5000000 +y_0=-5000000 +ellps=GRS80", -160, -110, 40, 75),
    ("omerc-b", "+proj=omerc +lat_0=4 +lonc=115 +alpha=53.3158204722222 +gamma=53.1301023611111 +k=0.99984 +x_0=590476.87 +y_0=442857.65 +a=6377298.556 +rf=300.8017", 95, 135, -20, 30),
    ("omerc-south", "+proj=omerc +lat_0=-33 +lonc=150 +alpha=40 +gamma=35 +k=1 +ellps=WGS84", 125, 175, -60, 0),
    ("omerc-across", "+proj=omerc +lat_0=46.9524055555556 +lonc=7.43958333333333 +alpha=90 +gamma=90 +k=1 +x_0=2600000 +y_0=1200000 +ellps=bessel", -20, 35, 20, 70),
    ("stere-oblique", "+proj=sterea +lat_0=52.1561605555556 +lon_0=5.38763888888889 +k=0.9999079 +x_0=155000 +y_0=463000 +ellps=bessel", -40, 50, 10, 85),
    ("stere-south", "+proj=sterea +lat_0=-20 +lon_0=-170 +k=1 +ellps=WGS84", -230, -110, -70, 40),
    ("polyconic", "+proj=poly +lat_0=0 +lon_0=-54 +x_0=5000000 +y_0=10000000 +ellps=GRS80", -90, -20, -60, 30),
    ("polyconic-north", "+proj=poly +lat_0=30 +lon_0=-96 +ellps=clrk66", -130, -60, 0, 75),
]

# and of grids of single countries
NATIONAL = [
    ("cassini", "+proj=cass +lat_0=3.68464905 +lon_0=101.389107913889 +x_0=-34836.161 +y_0=56464.049 +ellps=GRS80", 97.5, 105, -10, 20),
    ("cassini-north", "+proj=cass +lat_0=52.4186482777778 +lon_0=13.6272036666667 +x_0=40000 +y_0=10000 +ellps=bessel", 9.8, 17.4, 40, 70),
    ("town", "+proj=col_urban +lat_0=4.68048611111111 +lon_0=-74.1465916666667 +x_0=92334.879 +y_0=109320.965 +h_0=2550 +ellps=GRS80", -75, -73.3, 4, 5.4),
]


def wrap(lon):
    return (lon + 180) % 360 - 180


def projections(rng, listed, name):
    with open(OUT + name, "w") as f:
        f.write(f"# {PROJ}; scripts/oracle_earth.py\n# name lon lat x y\n")
        for title, definition, west, east, south, north in listed:
            at = [(round(rng.uniform(west, east), 9), round(rng.uniform(south, north), 9)) for _ in range(200)]
            lines = [f"{wrap(lon):.9f} {lat:.9f}" for lon, lat in at]
            for line, xy in zip(lines, run(["proj", "-f", "%.9f", *definition.split()], lines)):
                f.write(f"{title} {line} {xy[0]} {xy[1]}\n")


def azimuthal(rng):
    centres = [(0, 0), (179.9, -17), (-179.99, 66), (10, 70), (-70, -54), (25.5, 85), (140, -85)]
    centres += [(round(rng.uniform(-180, 180), 6), round(rng.uniform(-80, 80), 6)) for _ in range(18)]
    with open(OUT + "azimuthal.txt", "w") as f:
        f.write(f"# {PROJ}; scripts/oracle_earth.py\n# centre lon lat, lon lat, x y; +proj=laea on WGS 84\n")
        for lon0, lat0 in centres:
            lines = []
            for _ in range(20):
                # up to 500 km, most of them near
                d = 10 ** rng.uniform(-6, 0.65)
                a = rng.uniform(0, 2 * math.pi)
                lat = max(-89, min(89, lat0 + d * math.cos(a)))
                lon = wrap(lon0 + d * math.sin(a) / math.cos(math.radians(lat0)))
                lines.append(f"{lon:.12f} {lat:.12f}")
            command = ["proj", "-f", "%.9f", "+proj=laea", f"+lat_0={lat0}", f"+lon_0={lon0}", "+ellps=WGS84"]
            for line, xy in zip(lines, run(command, lines)):
                f.write(f"{lon0} {lat0} {line} {xy[0]} {xy[1]}\n")


def pairs(rng):
    """Yields kind, lon1, lat1, lon2, lat2."""
    for _ in range(300):
        yield "global", rng.uniform(-180, 180), math.degrees(math.asin(rng.uniform(-1, 1))), rng.uniform(-180, 180), math.degrees(math.asin(rng.uniform(-1, 1)))
    for _ in range(300):
        # 1 cm to 200 km, anywhere within 85 degrees of the equator
        lon, lat = rng.uniform(-180, 180), rng.uniform(-85, 85)
        d, a = 10 ** rng.uniform(-7, 0.25), rng.uniform(0, 2 * math.pi)
        yield "short", lon, lat, wrap(lon + d * math.sin(a) / math.cos(math.radians(lat))), lat + d * math.cos(a)
    for _ in range(60):
        lon, lat = rng.uniform(-180, 180), rng.uniform(-85, 85)
        d, a = 10 ** rng.uniform(-6, 0), rng.uniform(0, 2 * math.pi)
        yield "antimeridian", 180 - d, lat, -180 + d * abs(math.sin(a)), lat + d * math.cos(a) / 2
    for _ in range(200):
        lon, lat = rng.uniform(-180, 180), rng.uniform(-89, 89)
        yield "antipodal", lon, lat, wrap(lon + 180 + rng.uniform(-0.6, 0.6)), -lat + rng.uniform(-0.6, 0.6)
    for _ in range(20):
        lon = rng.uniform(-180, 180)
        yield "meridian", lon, rng.uniform(-90, 90), lon, rng.uniform(-90, 90)
        yield "over-pole", lon, rng.uniform(-90, 90), wrap(lon + 180), rng.uniform(-90, 90)
        yield "equator", lon, 0, wrap(lon + rng.uniform(-179, 179)), 0
    yield "equator-antipodal", 0, 0, 179.5, 0
    yield "equator-antipodal", 0, 0, 180, 0
    yield "pole", 20, 90, 50, 10
    yield "pole", 20, -90, 50, 90


def geodesics(rng):
    with open(OUT + "geodesics.txt", "w") as f:
        f.write(f"# {GEOGRAPHICLIB}; scripts/oracle_earth.py\n# kind lon1 lat1 lon2 lat2 azi1 azi2 s12 area-under\n")
        rows = list(pairs(rng))
        lines = [f"{lat1:.12f} {lon1:.12f} {lat2:.12f} {lon2:.12f}" for _, lon1, lat1, lon2, lat2 in rows]
        answers = run(["GeodSolve", "-i", "-f", "-p", "10"], lines)
        for row, line, a in zip(rows, lines, answers):
            lat1, lon1, lat2, lon2 = line.split()
            # full output: lat1 lon1 azi1 lat2 lon2 azi2 s12 a12 m12 M12 M21 S12
            f.write(f"{row[0]} {lon1} {lat1} {lon2} {lat2} {a[2]} {a[5]} {a[6]} {a[11]}\n")


def ring(rng, lon, lat, radius):
    """A star-shaped counter-clockwise ring, radius in degrees of latitude."""
    n = rng.randint(3, 30)
    turn = sorted(rng.uniform(0, 2 * math.pi) for _ in range(n))
    out = []
    for a in turn:
        r = radius * rng.uniform(0.5, 1)
        out.append((wrap(lon + r * math.cos(a) / math.cos(math.radians(lat))), lat + r * math.sin(a)))
    return out


def polygons(rng):
    rings = []
    for _ in range(300):
        rings.append(("anywhere", ring(rng, rng.uniform(-180, 180), rng.uniform(-78, 78), 10 ** rng.uniform(-4, 1))))
    for _ in range(40):
        rings.append(("antimeridian", ring(rng, 180, rng.uniform(-78, 78), 10 ** rng.uniform(-4, 1))))
    for pole in (1, -1):
        for _ in range(10):
            lons = sorted(rng.uniform(-180, 180) for _ in range(12))
            at = [(lon, pole * rng.uniform(60, 80)) for lon in lons]
            rings.append(("pole", at if pole > 0 else at[::-1]))
    with open(OUT + "polygons.txt", "w") as f:
        f.write(f"# {GEOGRAPHICLIB}; scripts/oracle_earth.py\n# kind area perimeter lon lat lon lat ...\n")
        for kind, points in rings:
            lines = [f"{lat:.12f} {lon:.12f}" for lon, lat in points]
            _, perimeter, area = run(["Planimeter", "-p", "11"], lines)[0]
            area = float(area)
            flat = " ".join(f"{lon:.12f} {lat:.12f}" for lon, lat in points)
            f.write(f"{kind} {area!r} {perimeter} {flat}\n")


def main():
    rng = random.Random(1395)
    projections(rng, PROJECTIONS, "projections.txt")
    azimuthal(rng)
    geodesics(rng)
    polygons(rng)
    projections(random.Random(9812), OBLIQUE, "oblique.txt")
    projections(random.Random(9806), NATIONAL, "national.txt")


main()
