#!/usr/bin/python3
"""Writes geo/earth/state_plane.tsv: the zones of the State Plane Coordinate
System of 1983 (NOAA Manual NOS NGS 5, appendix A) by the EPSG codes of the systems
on them, from the database of PROJ. Angles are degrees, lengths metres.

Needs sqlite3 of Python and proj.db (Debian package proj-data). Run from the
module root: the same database gives the same bytes.
"""

import sqlite3

OUT = "geo/earth/state_plane.tsv"
DATABASE = "/usr/share/proj/proj.db"
METHODS = {9801: "Lambert Conic Conformal (1SP)", 9802: "Lambert Conic Conformal (2SP)", 9807: "Transverse Mercator",
           9812: "Hotine Oblique Mercator (variant A)", 9815: "Hotine Oblique Mercator (variant B)"}
# EPSG's parameters by the names that geo/earth has for them
PARAMETERS = {8801: "lat0", 8802: "lon0", 8805: "k0", 8806: "fe", 8807: "fn", 8821: "lat0", 8822: "lon0", 8823: "lat1", 8824: "lat2",
              8826: "fe", 8827: "fn", 8811: "lat0", 8812: "lon0", 8813: "azimuth", 8814: "skew", 8815: "k0", 8816: "fe", 8817: "fn"}
COLUMNS = ["lat0", "lon0", "lat1", "lat2", "k0", "fe", "fn", "azimuth", "skew"]
UNITS = {9001: 1.0, 9002: 0.3048, 9003: 1200 / 3937, 9201: 1.0, 9102: 1.0}


def value(v, unit):
    if unit != 9110:
        return v * UNITS[unit]
    # degrees, minutes and seconds in one number: DDD.MMSSsss
    text = f"{abs(v):.10f}"
    whole, rest = text.split(".")
    angle = int(whole) + int(rest[:2]) / 60 + int(rest[2:4] + rest[4:]) / 1e6 / 3600
    return -angle if v < 0 else angle


def main():
    db = sqlite3.connect(DATABASE)
    db.row_factory = sqlite3.Row
    rows = db.execute("""
        select p.code crs, p.name crs_name, g.name datum, x.uom_code uom, c.*
        from projected_crs p
        join conversion_table c on p.conversion_code = c.code and c.auth_name = 'EPSG'
        join geodetic_crs g on g.code = p.geodetic_crs_code and g.auth_name = 'EPSG'
        join axis x on x.coordinate_system_code = p.coordinate_system_code and x.coordinate_system_auth_name = 'EPSG' and x.coordinate_system_order = 1
        where p.auth_name = 'EPSG' and p.deprecated = 0 and c.name like 'SPCS83%' order by c.code, p.code""")
    zones = {}
    for row in rows:
        found = {}
        for n in range(1, 8):
            if row[f"param{n}_code"] is not None:
                found[PARAMETERS[int(row[f"param{n}_code"])]] = value(float(row[f"param{n}_value"]), int(row[f"param{n}_uom_code"]))
        zone = row["crs_name"].split(" / ", 1)[1]
        line = [zone, repr(UNITS[int(row["uom"])]), METHODS[int(row["method_code"])]] + [repr(found[c]) if c in found else "" for c in COLUMNS]
        zones.setdefault(tuple(line), []).append((int(row["crs"]), row["datum"]))
    with open(OUT, "w", encoding="utf-8") as out:
        print("\t".join(["zone", "unit", "method", *COLUMNS, "systems"]), file=out)
        for line, systems in sorted(zones.items()):
            print("\t".join([*line, " ".join(f"{datum}={code}" for code, datum in systems)]), file=out)


main()
