#!/usr/bin/python3
"""Writes testdata/crs/systems.jsonl: definitions of reference systems in four
forms, and answers of PROJ on random positions within each system's area of use. And
testdata/crs/names.tsv: what EPSG calls each system that is known by its code alone, its
datum, and where its origin lies.

Needs the command line programs proj and projinfo, and proj.db with sqlite3 of Python
(Debian packages proj-bin and proj-data).
Run from the module root. Seeded: the same versions write the same bytes.
"""

import json
import random
import re
import sqlite3
import subprocess

OUT = "testdata/crs/systems.jsonl"
NAMES = "testdata/crs/names.tsv"
DATABASE = "/usr/share/proj/proj.db"

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
# first and last code of runs of UTM zones
UTM = [(32601, 32660), (32701, 32760), (26901, 26923), (6330, 6348), (25828, 25838), (31965, 31976), (31977, 31985), (7846, 7859)]
SINGLE = [3857, 3035, 5070, 6350, 3338, 3310, 3005, 3347, 3034, 2154, 2193, 5880, 3031, 3976, 3413, 3995, 32661, 32761]
DEGREES = [
    3824, 3889, 4023, 4046, 4075, 4081, 4130, 4148, 4151, 4152, 4163, 4167, 4171, 4173, 4176, 4180, 4189, 4190, 4258, 4269, 4326,
    4463, 4470, 4483, 4490, 4558, 4612, 4617, 4619, 4624, 4627, 4659, 4661, 4667, 4669, 4670, 4674, 4686, 4694, 4702, 4737, 4742,
    4747, 4749, 4755, 4757, 4758, 4759, 4761, 4762, 4763, 4764, 4765, 4979, 5013, 5246, 5252, 5264, 5324, 5340, 5354, 5371, 5373,
    5381, 5393, 5489, 5593, 5886, 6135, 6318, 6322, 6325, 6365, 6668, 6706, 6783, 7073, 7686, 7798, 7844, 7886, 8086, 8427, 8431,
    8685, 8699, 8818, 8900, 9059, 9140, 9702, 9777, 9782,
]
# EPSG's parameters of an origin: latitude, longitude, easting, northing
ORIGIN = [{8801, 8821, 8811}, {8802, 8822, 8833, 8812}, {8806, 8826, 8816}, {8807, 8827, 8817}]


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


def angle(v, unit):
    if unit != 9110:
        return v
    whole, rest = f"{abs(v):.10f}".split(".")  # degrees, minutes and seconds in one number: DDD.MMSSsss
    plain = int(whole) + int(rest[:2]) / 60 + int(rest[2:]) / 1e6 / 3600
    return -plain if v < 0 else plain


def names():
    db = sqlite3.connect(DATABASE)
    db.row_factory = sqlite3.Row
    grids = [code for first, last in UTM for code in range(first, last + 1)] + SINGLE
    with open(NAMES, "w", encoding="utf-8") as out:
        print("code\tname\tdatum\tlatitude\tlongitude\teasting\tnorthing", file=out)
        for code in sorted(set(grids + DEGREES)):
            row = db.execute("select name from crs_view where auth_name = 'EPSG' and code = ?", [code]).fetchone()
            base = db.execute("select geodetic_crs_code base from projected_crs where auth_name = 'EPSG' and code = ?", [code]).fetchone()
            datum = db.execute("""select d.name from geodetic_crs g join geodetic_datum d on g.datum_auth_name = d.auth_name and g.datum_code = d.code
                where g.auth_name = 'EPSG' and g.code = ?""", [base["base"] if base else code]).fetchone()
            origin = ["", "", "", ""]
            if base:
                made = db.execute("""select c.* from projected_crs p join conversion_table c on p.conversion_code = c.code and c.auth_name = 'EPSG'
                    where p.auth_name = 'EPSG' and p.code = ?""", [code]).fetchone()
                for i in range(1, 8):
                    for k, parameters in enumerate(ORIGIN):
                        if made[f"param{i}_code"] is not None and int(made[f"param{i}_code"]) in parameters:
                            origin[k] = repr(angle(made[f"param{i}_value"], int(made[f"param{i}_uom_code"])))
            print(code, row["name"], datum["name"], *origin, sep="\t", file=out)


main()
names()
