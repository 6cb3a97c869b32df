#!/usr/bin/env python3
"""A second model of the drift, written from its definitions alone, with networkx:
where what floats goes, by every path, on random braided networks with barriers,
flow shares, widths, recorded and computed velocities, dry lines, lakes and wide
rivers, base flow and flood, and the age limit. It makes input, and compares what the program prints for
it: the figures of every stand, every piece of stream at risk or possible with its
class, stands and hours, and the percentiles, which lie within three standard errors
of those of draws of its own.

    scripts/oracle_drift.py make DIR SEED CASES     write DIR/0, DIR/1, ...
    scripts/oracle_drift.py compare DIR             hold DIR/N/out against the model
    scripts/oracle_drift.py run PROGRAM [SEED [CASES]]   both, with the program between

Definitions, all of them stated in methods.md of cmd/driftreach/reference; of lakes in your-data.md:
first-order retention, k = ln 2 / half-distance; pass shares; at a parting each branch
takes its flow share (recorded, else by width, else equal), at base flow none of it a
dry one; hours are length x 0.85 / velocity, the first fragment's 0.890 of that at the
highest probable velocity; stream is at risk where of one source's release, summed over
all paths, the risk share floats and the fastest path is no older than the limit, and
where the amount afloat of all, each path as old as at its mean velocity, is moderate.
On a lake nothing settles and no barrier counts; what leaves it for good passes at the
lake's one share, that of a dam at most 100 m above or below the shore included; all of it is at risk from
each stand of which a share that counts comes to it, or where all together are moderate, and the hours are those to the lake.
"""
import csv
import json
import math
import random
import subprocess
import sys
import tempfile
from pathlib import Path

import networkx

ACRE = 4046.8564224
HALF, SPEED = [0.35, 0.35, 1, 1, 2.3], [0.2, 0.25, 0.35, 0.5, 0.7]
WIDTHS = [2, 4, 8, 16, 32, 64]
PASS = {"dam": 0.3, "reservoir": 0.3, "weir": 0.7, "culvert": 0.9, "lake": 0.3}
BARRIERS = ["dam", "reservoir", "weir", "culvert"]
EARTH = 6378137.0
ECC = 0.00669437999014


def by_order(table, order):
    return table[min(max(order, 1), len(table)) - 1]


def metres(a, b):
    """The distance of two places a few km apart: on the ellipsoid's radii at the middle."""
    middle = math.radians((a[1] + b[1]) / 2)
    w = 1 - ECC * math.sin(middle) ** 2
    x = math.radians(b[0] - a[0]) * EARTH / math.sqrt(w) * math.cos(middle)
    y = math.radians(b[1] - a[1]) * EARTH * (1 - ECC) / w ** 1.5
    return math.hypot(x, y)


# ---------------------------------------------------------------- input


def make(dir, seed, cases):
    for n in range(cases):
        make_case(Path(dir) / str(n), random.Random(f"{seed} {n}"))


def make_case(dir, r):
    """A layered network whose lines run from a layer to a lower one, and points on it."""
    dir.mkdir(parents=True)
    nodes, at = [], {}
    for layer in range(r.randint(3, 6)):
        for k in range(r.randint(1, 3)):
            nodes.append((layer, k))
            at[nodes[-1]] = (-30 + 0.05 * k + r.uniform(0, 0.015), -35 - 0.03 * layer - r.uniform(0, 0.01))
    at["end"] = (-29.96, -35.25)
    lines = []
    for node in nodes:
        below = [m for m in nodes if m[0] > node[0] and m[0] <= node[0] + 2] or ["end"]
        for to in r.sample(below, min(len(below), r.choice([1, 1, 2, 2, 3]))):
            lines.append({"from": node, "to": to})
    for i, l in enumerate(lines):
        l["id"], l["order"], l["share"] = f"l{i:02d}", r.randint(1, 5), None
        l["width"] = r.choice([None, round(r.uniform(2, 30), 1)])
        l["barrier"] = r.choice([None] * 5 + BARRIERS)
        l["pass"] = round(r.uniform(0, 1), 2) if l["barrier"] and r.random() < 0.4 else None
        l["permanence"] = r.choice([None] * 9 + ["perennial", "intermittent", "ephemeral"])
        l["hydraulics"] = r.choice([{}, {}, {"mean_velocity_mps": round(r.uniform(0.1, 1.5), 2)}, {"discharge_m3s": round(r.uniform(0.1, 50), 2)},
                                    {"drainage_km2": 390, "discharge_m3s": 3.35, "mean_discharge_m3s": 4.5},
                                    {"drainage_km2": 390, "discharge_m3s": 3.35, "mean_discharge_m3s": 4.5, "slope": round(r.uniform(0.0005, 0.01), 5)}])
        l["length"] = round(metres(at[l["from"]], at[l["to"]]) / 1000 * r.uniform(0.8, 1.45), 3)
    for node in nodes:
        out = [l for l in lines if l["from"] == node]
        if len(out) > 1 and r.random() < 0.6:
            shares = [r.choice([0, 0.02, 0.3, 1]) for _ in out]
            if sum(shares) > 0:
                shares = [round(s / sum(shares), 3) for s in shares]
                shares[shares.index(max(shares))] += round(1 - sum(shares), 3)
                for l, s in zip(out, shares):
                    l["share"] = round(s, 3)
    waters = place_waters(r, lines, at)
    points = place_points(r, lines, at, waters)
    settings = {
        "drift.stage": "both", "drift.risk_share": r.choice([0.01, 0.05, 0.2]), "drift.viable_days": r.choice([0.1, 0.3, 1, 10]),
        "drift.fragments_per_acre": 1e4, "drift.flood_factor": 4, "drift.flood_release": r.choice([1, 3]),
        "drift.flood_discharge_ratio": r.choice([1, 10, 40]), "drift.flood_overtop.dam": r.choice([0, 0.5, 1]),
        "drift.flood_overtop.lake": r.choice([0, 0.3]),
        "drift.dry_at_base": r.choice(["none", "ephemeral", "intermittent"]), "drift.draws": 400, "stands.min_points": 1, "stands.join_distance_m": 30,
    }
    write_case(dir, lines, at, waters, points, settings)


def place_waters(r, lines, at):
    """Up to three waters of one box or two over lines, some just above a line's end, and
    in each line the parts on and between them: (from, to, which water), as fractions of it."""
    boxes = []
    for l in lines:
        l["parts"] = [(0.0, 1.0, None)]
    for _ in range(r.randint(0, 6)):
        l = r.choice(lines)
        a, b = at[l["from"]], at[l["to"]]
        f, wide, high = r.uniform(0.1, 0.9), r.uniform(0.001, 0.01), r.uniform(0.001, 0.006)
        if r.random() < 0.5:
            f = 1 - (r.uniform(25, 200) + 111_000 * high) / metres(a, b)
        x, y = a[0] + f * (b[0] - a[0]), a[1] + f * (b[1] - a[1])
        box = [round(v, 7) for v in (x - wide, y - high, x + wide, y + high)]
        apart = all(box[2] < o[0] - 0.001 or o[2] < box[0] - 0.001 or box[3] < o[1] - 0.001 or o[3] < box[1] - 0.001 for w in boxes for o in w["boxes"])
        if not apart:
            continue
        if boxes and r.random() < 0.5:  # a stream may leave that water and come back to it
            grown = boxes[:-1] + [{**boxes[-1], "boxes": boxes[-1]["boxes"] + [box]}]
        elif len(boxes) < 3:
            grown = boxes + [{"boxes": [box], "kind": r.choice(["lake", "lake", "river"])}]
        else:
            continue
        parts = [parts_of(m, at, grown) for m in lines]
        long = [1000 * m["length"] * (q[1] - q[0]) for m, own in zip(lines, parts) for q in own]
        if all(d > 20 and abs(d - 100) > 3 for d in long):
            boxes = grown
            for m, own in zip(lines, parts):
                m["parts"] = own
    return boxes


def parts_of(l, at, waters):
    """A straight line cut where it passes the sides of boxes."""
    a, b = at[l["from"]], at[l["to"]]
    out, inside, done = [], [], 0.0
    for n, box in ((n, box) for n, w in enumerate(waters) for box in w["boxes"]):
        low, high = 0.0, 1.0
        for i in (0, 1):
            t = sorted((side - a[i]) / (b[i] - a[i]) for side in (box[i], box[i + 2]))
            low, high = max(low, t[0]), min(high, t[1])
        if low < high:
            inside.append((low, high, n))
    for low, high, n in sorted(inside):
        out += [(done, low, None)] if low > done else []
        out.append((low, high, n))
        done = high
    return out + ([(done, 1.0, None)] if done < 1 else [])


def measure(l, fraction):
    """Metres along a line, as recorded, to a fraction of its straight way in degrees."""
    path = l["path"]
    on = [(p[1] - path[0][1]) / (path[-1][1] - path[0][1]) for p in path]
    steps = [metres(a, b) for a, b in zip(path, path[1:])]
    at = sum(step * min(1, max(0, (fraction - f) / (g - f))) for step, f, g in zip(steps, on, on[1:]))
    return 1000 * l["length"] * at / sum(steps)


def by_shore(p, waters):
    """Whether a place is so near a shore that its water is in doubt."""
    inside = lambda box, by: box[0] - by < p[0] < box[2] + by and box[1] - by < p[1] < box[3] + by
    return any(inside(box, 2e-4) and not inside(box, -2e-4) for w in waters for box in w["boxes"])


def place_points(r, lines, at, waters):
    """Points on lines, apart from every other line, some two or three together."""
    points = []
    for _ in range(r.randint(2, 9)):
        l = r.choice(lines)
        first = r.uniform(0.02, 0.98)
        a, b = at[l["from"]], at[l["to"]]
        span = metres(a, b)
        for k in range(r.choice([1, 1, 2, 3])):
            f = first + 20 * k / span
            if f > 0.98:
                break
            p = tuple(round(a[i] + f * (b[i] - a[i]), 9) for i in (0, 1))
            if not by_shore(p, waters) and all(o is l or aside(p, at[o["from"]], at[o["to"]]) > 120 for o in lines):
                points.append({"line": l, "at": p, "area": round(r.uniform(0.4, 2), 2), "cover": r.randint(5, 100),
                               "status": r.choice(["untreated", "untreated", "treated", "resprout", "standing_dead"])})
    # a pair in one stand on two branches below a parting
    for node in at:
        out = [l for l in lines if l["from"] == node]
        if len(out) > 1 and r.random() < 0.3:
            for l in out[:2]:
                a, b = at[node], at[l["to"]]
                f = 14.0 / metres(a, b)
                p = tuple(round(a[i] + f * (b[i] - a[i]), 9) for i in (0, 1))
                if not by_shore(p, waters) and all(o is l or aside(p, at[o["from"]], at[o["to"]]) > max(o["width"] or 0, by_order(WIDTHS, o["order"])) / 2 + 2 for o in lines):
                    points.append({"line": l, "at": p, "area": 0.5, "cover": 60, "status": "untreated"})
    if not points:
        return place_points(r, lines, at, waters)
    return points


def aside(p, a, b):
    """Metres from a place to a straight line."""
    scale = math.cos(math.radians(p[1]))
    flat = [((q[0] - p[0]) * scale * 111_320, (q[1] - p[1]) * 110_950) for q in (a, b)]
    (x1, y1), (x2, y2) = flat
    dx, dy = x2 - x1, y2 - y1
    t = min(1, max(0, -(x1 * dx + y1 * dy) / (dx * dx + dy * dy)))
    return math.hypot(x1 + t * dx, y1 + t * dy)


def write_case(dir, lines, at, waters, points, settings):
    features = []
    for l in lines:
        own = sorted((p["at"] for p in points if p["line"] is l), key=lambda q: metres(at[l["from"]], q))
        l["path"] = [at[l["from"]], *own, at[l["to"]]]  # a vertex at every point: the nearest place is exact
        l["parts"] = [(measure(l, f), measure(l, g), water) for f, g, water in l["parts"]]
        properties = {"stream_id": l["id"], "from_node": str(l["from"]), "to_node": str(l["to"]), "stream_order": l["order"], "length_km": l["length"],
                      "flow_share": l["share"], "bankfull_width_m": l["width"], "barrier": l["barrier"], "barrier_pass": l["pass"], "flow_permanence": l["permanence"], **l["hydraulics"]}
        features.append({"type": "Feature", "properties": {k: v for k, v in properties.items() if v is not None},
                         "geometry": {"type": "LineString", "coordinates": l["path"]}})
    (dir / "streams.geojson").write_text(json.dumps({"type": "FeatureCollection", "features": features}))
    if waters:
        areas = [{"type": "Feature", "properties": {"water_id": f"w{n}", "kind": w["kind"]},
                  "geometry": {"type": "MultiPolygon", "coordinates": [[[(x, y), (z, y), (z, t), (x, t), (x, y)]] for x, y, z, t in w["boxes"]]}}
                 for n, w in enumerate(waters)]
        (dir / "water.geojson").write_text(json.dumps({"type": "FeatureCollection", "features": areas}))
    with open(dir / "points.csv", "w", newline="") as f:
        w = csv.writer(f)
        w.writerow(["occurrenceID", "decimalLongitude", "decimalLatitude", "eventDate", "patch_area_m2", "canopy_cover_percent", "management_status"])
        for i, p in enumerate(points):
            w.writerow([f"p{i:03d}", p["at"][0], p["at"][1], "2026-08-01", p["area"], p["cover"], p["status"]])
    (dir / "settings.toml").write_text("".join(f"{k} = {json.dumps(v)}\n" for k, v in settings.items()))
    known = [{**l, "from": str(l["from"]), "to": str(l["to"])} for l in lines]
    (dir / "case.json").write_text(json.dumps({
        "lines": known, "settings": settings, "waters": waters,
        "points": [{**p, "id": f"p{i:03d}", "line": p["line"]["id"]} for i, p in enumerate(points)]}))


# ---------------------------------------------------------------- the model


class Stage:
    """The network as one stage's water flows through it."""

    def __init__(self, case, flood, half=1.0, passes=1.0):
        s = case["settings"]
        self.floor, self.limit = s["drift.risk_share"], 24 * s["drift.viable_days"]
        self.release = s["drift.fragments_per_acre"] * (s["drift.flood_release"] if flood else 1)
        dry = {"none": [], "ephemeral": ["ephemeral"], "intermittent": ["ephemeral", "intermittent"]}[s["drift.dry_at_base"]]
        self.graph = networkx.MultiDiGraph()
        for l in case["lines"]:
            v, fast = velocity(l)
            times = s["drift.flood_discharge_ratio"] ** 0.34 if flood else 1
            for n, (start, end, water) in enumerate(l["parts"]):
                last = n == len(l["parts"]) - 1
                here = l["from"] if n == 0 else f"{l['id']}/{n}"
                there = l["to"] if last else f"{l['id']}/{n + 1}"
                self.graph.add_edge(here, there, key=(l["id"], n), start=start, length=end - start, dry=not flood and l["permanence"] in dry,
                                    rate=math.log(2) / (1000 * by_order(HALF, l["order"]) * (s["drift.flood_factor"] if flood else 1) * half),
                                    mean=(end - start) * 0.85 / (v * times) / 3600, fast=0.890 * (end - start) * 0.85 / (fast * times) / 3600,
                                    passing=self.barrier(l["barrier"] if last else None, l["pass"], s, flood, passes),
                                    dam=last and l["barrier"] in ("dam", "reservoir"), recorded=l["pass"],
                                    width=l["width"], given=l["share"] if n == 0 else None,
                                    lake=water if water is not None and case["waters"][water]["kind"] == "lake" else None)
        assert networkx.is_directed_acyclic_graph(self.graph)
        self.edges = {key: (u, v, d) for u, v, key, d in self.graph.edges(keys=True, data=True)}
        for node in self.graph:
            self.share_out([d for _, _, d in self.graph.out_edges(node, data=True)])
        self.order = [key for node in networkx.topological_sort(self.graph) for _, _, key in self.graph.out_edges(node, keys=True)]
        self.lakes = {}
        self.line = networkx.line_graph(self.graph)
        for key, (_, _, d) in self.edges.items():
            if d["lake"] is not None:
                self.lakes.setdefault(d["lake"], []).append(key)
        for lake, keys in self.lakes.items():
            self.still(lake, keys, s, flood, passes)

    def still(self, lake, keys, s, flood, passes):
        """Nothing settles on a lake or is held on it but where water leaves it for good."""
        for key in keys:
            self.edges[key][2]["rate"], self.edges[key][2]["passing"] = 0.0, 1.0
        home = {(*self.edges[key][:2], key) for key in keys}
        ways = set().union(*(networkx.ancestors(self.line, one) for one in home)) | home  # by which water comes to it
        for key in keys:
            _, _, d = self.edges[key]
            below = self.below(key)
            out = [b for k, b in below if (*self.edges[k][:2], k) not in ways]
            if below and not out:
                continue
            near = [b for b in out if b["length"] <= 100 and b["dam"]]
            inside = [self.edges[k][2] for k in keys if self.edges[k][1] == self.edges[key][0] and d["length"] <= 100]
            recorded = [x["recorded"] for x in [d, *near, *inside] if x["dam"] and x["recorded"] is not None]
            share = self.barrier("lake", recorded[0] if recorded else None, s, flood, passes)
            for x in near:
                x["passing"] = 1.0
            if len(out) == len(below):
                d["passing"] = share
            else:
                for b in out:
                    b["enter"] = share

    @staticmethod
    def barrier(kind, recorded, s, flood, passes):
        if not kind:
            return 1.0
        share = PASS[kind] if recorded is None else recorded
        if share < 1:
            share = min(1, share * passes)
        if flood:
            share += s.get(f"drift.flood_overtop.{kind}", 0) * (1 - share)
        return share

    @staticmethod
    def share_out(out):
        if any(d["given"] is not None for d in out):
            shares = [d["given"] for d in out]
        elif all(d["width"] for d in out):
            shares = [d["width"] for d in out]
        else:
            shares = [1] * len(out)
        if len(out) == 1:
            shares = [1]
        shares = [0 if d["dry"] else s for d, s in zip(out, shares)]
        for d, s in zip(out, shares):
            d["share"] = s / sum(shares) if sum(shares) > 0 else 0

    def below(self, key):
        return [(k, d) for _, _, k, d in self.graph.out_edges(self.edges[key][1], keys=True, data=True)]


def velocity(l):
    """Mean and highest probable velocity, m/s: recorded, Jobson 1996, Raymond 2012, by order."""
    h = l["hydraulics"]
    if "mean_velocity_mps" in h:
        return h["mean_velocity_mps"], h["mean_velocity_mps"]
    if "mean_discharge_m3s" in h:
        area, q, qa = h["drainage_km2"] * 1e6, h["discharge_m3s"], h["mean_discharge_m3s"]
        da, qr = area ** 1.25 * math.sqrt(9.8) / qa, q / qa
        if "slope" in h:
            term = da ** 0.919 * qr ** -0.469 * h["slope"] ** 0.159 * q / area
            return 0.094 + 0.0143 * term, 0.25 + 0.02 * term
        term = da ** 0.821 * qr ** -0.465 * q / area
        return 0.020 + 0.051 * term, 0.2 + 0.093 * term
    if "discharge_m3s" in h:
        v = 0.194 * h["discharge_m3s"] ** 0.285
        return v, v
    return (by_order(SPEED, l["order"]),) * 2


class Source:
    def __init__(self, case, point, stand):
        line = next(l for l in case["lines"] if l["id"] == point["line"])
        path = line["path"]
        steps = [metres(a, b) for a, b in zip(path, path[1:])]
        k = min(range(len(path)), key=lambda i: abs(path[i][0] - point["at"][0]) + abs(path[i][1] - point["at"][1]))
        at = 1000 * line["length"] * sum(steps[:k]) / sum(steps)
        n = max(n for n, part in enumerate(line["parts"]) if part[0] <= at)
        self.edge, self.offset = (line["id"], n), at - line["parts"][n][0]
        self.stand = stand
        dead = point["status"] in ("treated", "standing_dead")
        self.acres = point["area"] / ACRE * point["cover"] / 100 * (0.1 if dead else 1)


def arrivals(stage, source):
    """What one source brings to each edge, at its top or at the source: by edge
    (offset, summed share, best path's share, hours of the fastest way: first and mean)."""
    if stage.edges[source.edge][2]["dry"]:
        return {}
    out = {source.edge: [source.offset, 1.0, 1.0, 0.0, 0.0]}
    for key in stage.order:
        if key not in out:
            continue
        offset, total, best, fast, mean = out[key]
        d = stage.edges[key][2]
        rest = d["length"] - offset
        afloat = math.exp(-d["rate"] * rest) * d["passing"]
        fast, mean = fast + d["fast"] * rest / d["length"], mean + d["mean"] * rest / d["length"]
        for below, b in stage.below(key):
            part, alone = afloat * b["share"] * b.get("enter", 1), afloat * b.get("enter", 1)
            if part > 0:
                old = out.get(below, [0.0, 0.0, 0.0, math.inf, math.inf])
                out[below] = [0.0, old[1] + total * part, max(old[2], best * alone), min(old[3], fast), min(old[4], mean)]
    return out


def parcels(stage, source):
    """Every path's own amount: by edge a list of (from, share there, mean hours there),
    and what became of it: settled, held, aged, left, and its exposure in km."""
    balance = dict.fromkeys(["settled", "held", "aged", "left", "exposure"], 0.0)
    if stage.edges[source.edge][2]["dry"]:
        balance["settled"] = 1.0
        return {}, balance
    on = {}
    stack = [(source.edge, source.offset, 1.0, 0.0)]
    while stack:
        key, offset, share, age = stack.pop()
        on.setdefault(key, []).append((offset, share, age))
        d = stage.edges[key][2]
        rest, hours = d["length"] - offset, d["mean"] / d["length"]
        old = age + hours * rest > stage.limit
        if old:
            rest = (stage.limit - age) / hours
        afloat = share * math.exp(-d["rate"] * rest)
        balance["settled"] += share - afloat
        balance["exposure"] += ((share - afloat) / d["rate"] if d["rate"] else share * rest) / 1000
        if old:
            balance["aged"] += afloat
            continue
        passed = afloat * d["passing"]
        balance["held"] += afloat - passed
        below = stage.below(key)
        if not below:
            balance["left"] += passed
        else:
            balance["settled"] += passed * (1 - sum(b["share"] for _, b in below))
        balance["held"] += sum(passed * b["share"] * (1 - b.get("enter", 1)) for _, b in below)
        stack += [(k, 0.0, passed * b["share"] * b.get("enter", 1), age + hours * rest) for k, b in below if passed * b["share"] * b.get("enter", 1) > 0]
    return on, balance


def below(level, floor, rate):
    """How far on a level has fallen to a floor."""
    return math.log(level / floor) / rate if rate else math.inf


def reach_end(stage, d, offset, share, fast):
    """How far down an edge a share of a source counts."""
    if share < stage.floor or fast > stage.limit:
        return offset
    end = min(d["length"], offset + below(share, stage.floor, d["rate"]))
    return min(end, offset + (stage.limit - fast) / (d["fast"] / d["length"]))


def spans(stage, sources):
    """By edge, of every source: (stand, from, to at risk, to possible, fast, mean there)."""
    out = {}
    for s in sources:
        came = arrivals(stage, s)
        for key, (offset, total, best, fast, mean) in came.items():
            d = stage.edges[key][2]
            if d["lake"] is None:
                out.setdefault(key, []).append((s.stand, offset, reach_end(stage, d, offset, total, fast), reach_end(stage, d, offset, best, fast), fast, mean))
        for lake in stage.lakes.values():
            for which in (1, 2):  # what is at risk, then what is possible
                counts = [came[key] for key in lake if key in came and came[key][which] >= stage.floor and came[key][3] <= stage.limit]
                for key in lake if counts else []:
                    end = stage.edges[key][2]["length"]
                    out.setdefault(key, []).append((s.stand, 0.0, end if which == 1 else 0.0, end, min(c[3] for c in counts), min(c[4] for c in counts)))
    return out


def union(intervals):
    total, end = 0.0, -math.inf
    for a, b in sorted(intervals):
        if b > max(a, end):
            total += b - max(a, end)
            end = b
    return total


def floating(stage, sources):
    """By edge, every path's amount: (from, to where it is too old, amount at from)."""
    out = {}
    for s in sources:
        on, _ = parcels(stage, s)
        for key, all in on.items():
            d = stage.edges[key][2]
            for offset, share, age in all:
                to = min(d["length"], offset + (stage.limit - age) / (d["mean"] / d["length"]))
                out.setdefault(key, []).append((offset, to, share * s.acres * stage.release))
    return out


def amount(parts, rate, x):
    return sum(a * math.exp(-rate * (x - start)) for start, to, a in parts if start <= x < to)


def together(parts, rate, length, floor):
    """The intervals on which the amount afloat of all is above a floor."""
    cuts = sorted({0.0, length, *(p[0] for p in parts), *(min(p[1], length) for p in parts)})
    out = []
    for a, b in zip(cuts, cuts[1:]):
        level = amount(parts, rate, a)
        if b > a and level > floor:
            out.append((a, min(b, a + below(level, floor, rate))))
    return out


def pieces(stage, sources, breaks=(0.05, 0.5)):
    """By edge: (from, to, class, stands, nearest, fast, mean, greatest amount)."""
    reach, parts = spans(stage, sources), floating(stage, sources)
    out = {}
    crowded = {lake for lake, keys in stage.lakes.items() if any(together(parts.get(k, []), stage.edges[k][2]["rate"], stage.edges[k][2]["length"], breaks[0]) for k in keys)}
    for key in set(reach) | set(parts) | {k for lake in crowded for k in stage.lakes[lake]}:
        d = stage.edges[key][2]
        own, here, rate, length = parts.get(key, []), reach.get(key, []), d["rate"], d["length"]
        cuts = {0.0, length}
        for _, a, risk, possible, _, _ in here:
            cuts |= {a, risk, possible}
        for a, b, _ in own:
            cuts |= {a, b}
        for floor in breaks:
            for a, b in together(own, rate, length, floor):
                cuts |= {a, b}
        cuts = sorted(c for c in cuts if 0 <= c <= length)
        merged = []
        for a, b in zip(cuts, cuts[1:]):
            if b - a < 1e-6:
                continue
            x = (a + b) / 2
            level = amount(own, rate, x)
            at_risk = level > breaks[0] or d["lake"] in crowded or any(f < x < r for _, f, r, _, _, _ in here)
            word = "high" if level >= breaks[1] else "moderate" if level >= breaks[0] else "low"
            if not at_risk:
                if not any(f < x < p for _, f, _, p, _, _ in here):
                    continue
                word = "possible"
            if merged and merged[-1][2] == word and abs(merged[-1][1] - a) < 1e-5:
                merged[-1][1] = b
            else:
                merged.append([a, b, word])
        for a, b, word in merged:
            which = 3 if word == "possible" else 2
            covering = {h[0] for h in here if h[1] < b - 1e-6 and h[which] > a + 1e-6}
            fast, mean = (d["fast"] / length, d["mean"] / length) if d["lake"] is None else (0, 0)
            came = [(h[4] + fast * (b - h[1]), h[5] + mean * (b - h[1]), h[0]) for h in here if h[1] < b - 1e-6 and h[which] > b - 1e-6]
            peaks = [amount(own, rate, x) for x in [a, *(p[0] for p in own if a <= p[0] < b - 1e-6)]]
            out.setdefault(key, []).append((a, b, word, len(covering), came, max(peaks)))
    return out


# ---------------------------------------------------------------- comparing


class Mismatch(Exception):
    pass


def near(what, got, want, tolerance):
    if abs(float(got) - want) > tolerance:
        raise Mismatch(f"{what}: printed {got}, the model says {want:.6f}")


def table(path):
    with open(path, newline="", encoding="utf-8-sig") as f:
        return list(csv.DictReader(f))


def compare(dir):
    counts = {"cases": 0, "stands": 0, "pieces": 0, "possible pieces": 0, "hours": 0, "percentiles": 0}
    for case in sorted(Path(dir).iterdir(), key=lambda p: p.name):
        try:
            compare_case(case, counts)
        except Mismatch as m:
            raise SystemExit(f"{case}: {m}")
    print("agree: " + ", ".join(f"{n} {what}" for what, n in counts.items()))


def compare_case(dir, counts):
    case = json.loads((dir / "case.json").read_text())
    out = dir / "out"
    stand_of = {f["properties"]["occurrenceID"]: f["properties"]["stand_id"] for f in json.loads((out / "points.geojson").read_text())["features"]}
    sources = [Source(case, p, stand_of[p["id"]]) for p in case["points"]]
    lowest = {f["properties"]["stream_id"]: f["properties"]["river_km"] for f in json.loads((out / "network.geojson").read_text())["features"]}
    rows = {r["stand_id"]: r for r in table(out / "stands.csv")}
    reaches = table(out / "reaches.csv")
    summary = table(out / "summary.csv")[0]
    counts["cases"] += 1
    for flood, name, column, total in [(False, "base", "reach_km", "reach_at_risk_km"), (True, "flood", "flood_reach_km", "flood_reach_at_risk_km")]:
        stage = Stage(case, flood)
        compare_stands(stage, sources, rows, column, None if flood else counts)
        at_risk = compare_pieces(stage, sources, [r for r in reaches if r["stage"] == name], lowest, name, counts)
        near(f"{name} {total}", summary[total], at_risk / 1000, 2e-3)
    compare_percentiles(case, sources, rows, summary, counts)


def compare_stands(stage, sources, rows, column, counts):
    reach = spans(stage, sources)
    for stand, row in rows.items():
        risk = sum(union([(h[1], h[2]) for h in here if h[0] == stand]) for here in reach.values())
        near(f"{stand} {column}", row[column], risk / 1000, 1e-3)
        if counts is None:
            continue
        counts["stands"] += 1
        possible = sum(union([(h[1], h[3]) for h in here if h[0] == stand]) for here in reach.values())
        near(f"{stand} reach_possible_km", row["reach_possible_km"], possible / 1000, 1e-3)
        balance = dict.fromkeys(["released", "settled", "held", "aged", "left", "exposure"], 0.0)
        for s in (s for s in sources if s.stand == stand):
            amount = s.acres * stage.release
            balance["released"] += amount
            for what, share in parcels(stage, s)[1].items():
                balance[what] += amount * share
        scale = 1e-5 * max(1, balance["released"])
        for what, printed in [("released", "released"), ("held", "held_at_barriers"), ("aged", "lost_to_age"), ("left", "left_at_outlets"), ("exposure", "exposure")]:
            near(f"{stand} {printed}", row[printed], balance[what], scale)


def compare_pieces(stage, sources, rows, lowest, name, counts):
    """Pieces of two metres or less are left out: they may be the rounding of cuts."""
    model, at_risk, long = {}, 0.0, {}
    for key, all in pieces(stage, sources).items():
        start = stage.edges[key][2]["start"]
        model.setdefault(key[0], []).extend((start + p[0], start + p[1], *p[2:]) for p in all)
    for (line, _), (_, _, d) in stage.edges.items():
        long[line] = max(long.get(line, 0.0), d["start"] + d["length"])
    printed = {}
    for r in rows:
        top = 1000 * (lowest[r["stream_id"]] + long[r["stream_id"]] / 1000 - float(r["from_km"]))
        printed.setdefault(r["stream_id"], []).append((top, top + 1000 * float(r["length_km"]), r))
    for key in sorted(set(model) | set(printed)):
        want = [p for p in sorted(model.get(key, [])) if p[1] - p[0] > 2]
        got = [p for p in sorted(printed.get(key, []), key=lambda p: p[0]) if p[1] - p[0] > 2]
        at_risk += sum(p[1] - p[0] for p in model.get(key, []) if p[2] != "possible")
        told = [(round(p[0]), round(p[1]), p[2]) for p in want], [(round(p[0]), round(p[1]), p[2]["exposure_class"]) for p in got]
        if len(want) != len(got):
            raise Mismatch(f"{name} {key}: pieces {told[1]}, the model says {told[0]}")
        for (a, b, word, stands, came, peak), (top, bottom, r) in zip(want, got):
            where = f"{name} {key} {a:.0f} to {b:.0f} m"
            if word != r["exposure_class"]:
                raise Mismatch(f"{where}: {told[1]}, the model says {told[0]}")
            near(where + " from", top, a, 1)
            near(where + " to", bottom, b, 1)
            near(where + " exposure", r["exposure"], peak, 1e-3 * max(0.01, peak))
            near(where + " stands", r["stands"], stands, 0)
            if not came:
                if r["nearest_stand_id"] or r["hours_afloat_fast"]:
                    raise Mismatch(f"{where}: {r['nearest_stand_id']} is first, the model says nobody")
            else:
                first = min(came)
                near(where + " hours", r["hours_afloat_fast"], first[0], 0.0051 + 1e-3 * first[0])
                if not any(c[2] == r["nearest_stand_id"] and c[0] < first[0] + 1e-3 for c in came):
                    raise Mismatch(f"{where}: {r['nearest_stand_id']} is first, the model says {first[2]}")
                mean = min(c[1] for c in came if c[2] == r["nearest_stand_id"])
                near(where + " mean hours", r["hours_afloat_mean"], mean, 0.0051 + 1e-3 * mean)
                counts["hours"] += 1
            counts["possible pieces" if word == "possible" else "pieces"] += 1
    return at_risk


def compare_percentiles(case, sources, rows, summary, counts):
    """Draws of its own, not stratified. A printed percentile lies between the order
    statistics three standard errors of a difference of two such samples away."""
    r, n = random.Random("draws"), case["settings"]["drift.draws"]
    reach, exposure, total = {s: [] for s in rows}, {s: [] for s in rows}, []
    for _ in range(n):
        half, release = math.exp(r.gauss(0, math.log(1.6))), math.exp(r.gauss(0, math.log(2)))
        stage = Stage(case, False, half, 1 + 0.5 * r.uniform(-1, 1))
        here = spans(stage, sources)
        for stand in rows:
            reach[stand].append(sum(union([(h[1], h[2]) for h in all if h[0] == stand]) for all in here.values()) / 1000)
            exposure[stand].append(release * sum(parcels(stage, s)[1]["exposure"] * s.acres * stage.release for s in sources if s.stand == stand))
        parts = floating(stage, sources)
        above = {key: together(parts.get(key, []), d["rate"], d["length"], 0.05 / release) for key, (_, _, d) in stage.edges.items()}
        for keys in stage.lakes.values():
            if any(above[k] for k in keys):
                above |= {k: [(0.0, stage.edges[k][2]["length"])] for k in keys}
        total.append(sum(union([(h[1], h[2]) for h in here.get(key, [])] + above[key]) for key in stage.edges) / 1000)
    for p, end in [(0.1, "p10"), (0.5, "p50"), (0.9, "p90")]:
        for stand, row in rows.items():
            within(f"{stand} reach_km_{end}", float(row[f"reach_km_{end}"]), reach[stand], p)
            within(f"{stand} exposure_{end}", float(row[f"exposure_{end}"]), exposure[stand], p)
            counts["percentiles"] += 2
        within(f"reach_at_risk_km_{end}", float(summary[f"reach_at_risk_km_{end}"]), total, p)
        counts["percentiles"] += 1


def within(what, printed, values, p):
    values, n = sorted(values), len(values)
    far = 3 * math.sqrt(2 * n * p * (1 - p))
    low, high = values[max(0, math.floor(n * p - far))], values[min(n - 1, math.ceil(n * p + far))]
    if not low - 1e-3 <= printed <= high + 1e-3:
        raise Mismatch(f"{what}: printed {printed}, within three standard errors lie {low:.4f} to {high:.4f}")


def run(program, seed=1, cases=100):
    with tempfile.TemporaryDirectory() as dir:
        make(dir, seed, cases)
        for n in range(cases):
            case = Path(dir) / str(n)
            water = ["--water", case / "water.geojson"] if (case / "water.geojson").exists() else []
            done = subprocess.run([program, "batch", *water, "--points", case / "points.csv", "--streams", case / "streams.geojson", "--quarter", "2026Q3",
                                   "--settings", case / "settings.toml", "--network", "--out", case / "out"], capture_output=True, text=True)
            if done.returncode != 0:
                raise SystemExit(f"case {n}: {done.stderr}")
        compare(dir)


if __name__ == "__main__":
    what, *rest = sys.argv[1:] or ["help"]
    if what == "make" and len(rest) == 3:
        make(rest[0], int(rest[1]), int(rest[2]))
    elif what == "compare" and len(rest) == 1:
        compare(rest[0])
    elif what == "run" and rest:
        run(rest[0], *map(int, rest[1:]))
    else:
        raise SystemExit(__doc__)
