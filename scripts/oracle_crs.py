#!/usr/bin/python3
"""Writes testdata/crs/systems.jsonl: definitions of reference systems in four
forms, and answers of PROJ on random positions within each system's area of use.

Needs the command line programs proj and projinfo (Debian package proj-bin).
Run from the module root. Seeded: the same versions write the same bytes.
"""

import json
import random
import re
import subprocess

OUT = "testdata/crs/systems.jsonl"

# taken: every method, feet of both kinds, both hemispheres, both poles
TAKEN = [
    4326, 4269, 4258, 6318, 3857, 3395, 3832, 32611, 32719, 32660, 26911, 6340, 25832, 32190, 2193,
    2229, 6424, 2263, 2256, 2222, 2236, 2285, 2154, 3978, 3347, 3034, 5070, 6350, 3338, 3310, 3005,
    3035, 3571, 3031, 3976, 3413, 3995, 32661, 32761,
    26931, 3078, 6497, 6843, 2953, 2954, 5880,
    2054, 3380, 3385, 6247, 6256,
]
# of ESRI's: every method, every zone of the "complex" method, and whole hemispheres
ESRI = [102001, 102002, 102003, 102004, 102006, 102007, 102008, 102009, 102012, 102017, 102020, 102022, 102025, 102027, 102028,
        102039] + list(range(102570, 102581))
WHOLE = {102017, 102020}  # up to the pole itself
# refused: another datum, meridian, method or orientation
REFUSED = [4267, 26711, 27700, 31467, 28992, 2056, 3145, 4807, 5513, 4283, 29873, 3168]
# refused by a code alone and in every form: methods not known here
ESRI_REFUSED = [102010, 102005, 102011, 102034, 54030, 53028]
POINTS = 100


def run(*command, text=None):
    return subprocess.run(command, input=text, text=True, capture_output=True, check=True).stdout.strip()


def forms(name):
    names = {"wkt1": "WKT1_GDAL", "esri": "WKT1_ESRI", "wkt2": "WKT2_2019", "projjson": "PROJJSON"}
    found = {}
    for key, form in names.items():
        try:
            found[key] = run("projinfo", "-q", "-o", form, "--single-line", name)
        except subprocess.CalledProcessError:
            continue  # not every system can be written in every form
    return found


def area(wkt2, pole=85):
    south, west, north, east = (float(v) for v in re.search(r"BBOX\[([^\]]*)\]", wkt2).group(1).split(","))
    return max(south, -pole), west, min(north, pole), east + 360 if east < west else east


def main():
    version = subprocess.run(["proj"], text=True, capture_output=True).stderr.splitlines()[0]
    rng = random.Random(5)
    with open(OUT, "w", encoding="utf-8") as out:
        print(json.dumps({"program": version}), file=out)
        for authority, code in [("EPSG", c) for c in TAKEN] + [("ESRI", c) for c in ESRI]:
            name = f"{authority}:{code}"
            row = {"authority": authority, "code": code} | forms(name)
            row["proj"] = run("projinfo", "-q", "-o", "PROJ", name).replace(" +type=crs", "")
            south, west, north, east = area(row["wkt2"], 90 if code in WHOLE else 85)
            row["area"] = [west, south, east, north]
            row["points"] = []
            positions = [(rng.uniform(west, east), rng.uniform(south, north)) for _ in range(POINTS)]
            lines = "\n".join(f"{(lon + 180) % 360 - 180:.9f} {lat:.9f}" for lon, lat in positions)
            if "+proj=longlat" in row["proj"]:
                answers = lines
            else:
                answers = run("proj", "-f", "%.6f", *row["proj"].split(), text=lines + "\n")
            # the program proj leaves the turn of the axes to others
            turn = -1 if "+axis=wsu" in row["proj"] else 1
            for at, to in zip(lines.splitlines(), answers.splitlines()):
                row["points"].append([float(v) for v in at.split()] + [turn * float(v) for v in to.split()])
            print(json.dumps(row, ensure_ascii=False), file=out)
        for authority, code in [("EPSG", c) for c in REFUSED] + [("ESRI", c) for c in ESRI_REFUSED]:
            row = {"authority": authority, "code": code, "refused": True} | forms(f"{authority}:{code}")
            print(json.dumps(row, ensure_ascii=False), file=out)


main()
