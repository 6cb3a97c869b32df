#!/usr/bin/python3
"""Degenerate areas with the answers of GEOS, or an exact sum, a case a line, as JSON.

oracle_degenerate.py            write testdata/shape/degenerate.jsonl, a sample
oracle_degenerate.py N [SEED]   print N cases of every family

Run with Debian's python3-shapely. Families by what is asked of them:

discs   union and closing of true circles: triples on a line that all but touch,
        lattices whose discs touch, cross in one place or coincide, copies a hair
        apart, many circles through one place, nested circles that touch inside
beside  closing of circles and polygons: tangent to sides, about corners, sides in line
lines   buffers: lattices whose sides coincide, copies a hair apart, lines that run
        back over themselves, stars, ladders, ends on other lines
rings   repair of outlines on lattices, with edges run twice, spikes, pinches, copies

A hair is 1e-9 to 1e-2 m, either way, or nothing. Circles are polygons of 1024 sides of the
circle's area, of 2048 or more to be closed, buffers have 256 chords a quarter. What a ring runs around an odd number of times is summed
level by level, since GEOS counts an edge that is run twice once.

A closing jumps where a hole all but closes, such as that between three circles whose centres lie one radius from one place. Each is
therefore asked for a gap a little narrower and a little wider, by what sides of a circle lie off it; where the two answers
differ, again with four times the sides. Where they differ still, by a hair, any answer between is right.
"""
import json
import math
import pathlib
import random
import sys

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.polygon import orient
from shapely.geos import geos_version
from shapely.ops import unary_union

OUT = pathlib.Path(__file__).resolve().parent.parent / "testdata" / "shape" / "degenerate.jsonl"
SIDES = 1024
QUARTER = 256
ROUGH, FINE = 2048, 8192  # sides of a circle that is closed, first and where a hair decides
HAIR = 1e-5  # m; more than places are moved by where rounding keeps an outline from closing
ALIKE = 1e-5  # of the grown area; half of what ours may be off


def disc(x, y, r, sides=SIDES):
    step = 2 * math.pi / sides
    r *= math.sqrt(step / math.sin(step))
    return Polygon([(x + r * math.cos(step * i), y + r * math.sin(step * i)) for i in range(sides)])


def hair(rng):
    return rng.choice([0, 0, 1, -1]) * 10 ** rng.uniform(-9, -2)


def turned(rng, places):
    """The places turned by nothing, a quarter, an eighth or anything, and moved."""
    a = rng.choice([0, math.pi / 2, math.pi / 4, math.pi / 6, rng.uniform(0, 6.3)])
    s, c = (round(v, 15) for v in (math.sin(a), math.cos(a)))
    dx, dy = rng.choice([(0, 0), (rng.uniform(-5e4, 5e4), rng.uniform(-5e4, 5e4))])
    return [[dx + c * p[0] - s * p[1], dy + s * p[0] + c * p[1]] + list(p[2:]) for p in places]


def on_a_line(rng):
    r, at, out = rng.choice([0.5, 1, 5, 11.35, 20]), 0.0, []
    for _ in range(rng.randint(3, 6)):
        s = r if rng.random() < 0.6 else r * rng.choice([0.5, 2, 0.1])
        at += (out[-1][2] if out else 0) + s + hair(rng)
        out.append([at, hair(rng), s])
    return out


def lattice(rng):
    n, m, r = rng.randint(2, 5), rng.randint(2, 5), rng.choice([1, 5, 11.35])
    step = r * rng.choice([1, math.sqrt(2), math.sqrt(3), 2, 1.5, 1.25])
    shift, high = rng.choice([(0, 1), (0.5, math.sqrt(3) / 2)])
    return [[step * (i + shift * (j % 2)) + hair(rng), step * high * j + hair(rng), r + rng.choice([0, hair(rng)])] for i in range(n) for j in range(m)]


def copies(rng):
    out = []
    for _ in range(rng.randint(1, 5)):
        x, y, r = rng.uniform(0, 40), rng.uniform(0, 40), rng.choice([1, 5, 11.35])
        out += [[x + hair(rng), y + hair(rng), r + hair(rng)] for _ in range(rng.randint(2, 4))]
    return out


def through_one_place(rng):
    out = []
    for k in range(rng.randint(3, 12)):
        r, a = rng.choice([1, 2, 5, 5, 5]), 2 * math.pi * rng.choice([k / 6, k / 4, rng.random()])
        out.append([r * math.cos(a) + hair(rng), r * math.sin(a), r])
    return out


def nested(rng):
    out = [[0, 0, 20]]
    for _ in range(rng.randint(1, 6)):
        r, a = rng.choice([1, 5, 10, 19]), rng.choice([0, math.pi / 2, rng.uniform(0, 6.3)])
        d = 20 - r + hair(rng)
        out.append([d * math.cos(a), d * math.sin(a), r])
    return out


def about_a_polygon(rng):
    """Circles on the corners and along the sides of squares that touch in line."""
    side, discs, rings = rng.choice([4, 10, 30]), [], []
    for k in range(rng.randint(1, 3)):
        x, y = (side + rng.choice([0, 1, hair(rng) + 1])) * k, hair(rng)
        rings.append([[x, y], [x + side, y], [x + side, y + side], [x, y + side], [x, y]])
        r = rng.choice([0.5, 2, 5])
        discs += rng.sample([[x, y, r], [x + side / 2, y - r + hair(rng), r], [x + side / 2, y + side + r + 3, r], [x + side, y + side, r],
                             [x - r + hair(rng), y + side / 2, r], [x + side / 2, y + side / 2, r]], rng.randint(0, 4))
    return discs, rings


def line_family(rng):
    r = rng.choice([1, 2, 5])
    kind = rng.choice(["lattice", "copies", "back", "star", "ladder", "ends", "hairpin", "walk"])
    if kind == "lattice":
        n, step = rng.randint(2, 5), r * rng.choice([1, 2, 2, 3])
        lines = [[[0, step * k + hair(rng)], [step * (n - 1), step * k + hair(rng)]] for k in range(n)]
        lines += [[[step * k + hair(rng), 0], [step * k, step * (n - 1)]] for k in range(n)] if rng.random() < 0.7 else []
    elif kind == "copies":
        base = [[10.0 * k, rng.choice([0, 3, 10])] for k in range(rng.randint(2, 6))]
        lines = [[[x + hair(rng), y + hair(rng)] for x, y in base] for _ in range(rng.randint(2, 5))]
    elif kind == "back":
        base = [[0, 0], [10, 0], [10 + hair(rng), hair(rng)], [3, 0], [3, 7], [3, 2 + hair(rng)], [8, 2 + hair(rng)], [8, 2], [0, hair(rng)]]
        lines = [base[:rng.randint(3, len(base))]]
    elif kind == "star":
        n = rng.randint(3, 16)
        lines = [[[hair(rng), 0], [20 * math.cos(2 * math.pi * k / n), 20 * math.sin(2 * math.pi * k / n)]] for k in range(n)]
    elif kind == "ladder":
        w = 2 * r + hair(rng)
        lines = [[[0, 0], [30, 0]], [[0, w], [30, w]]] + [[[5.0 * k, 0], [5.0 * k + hair(rng), w]] for k in range(rng.randint(1, 6))]
    elif kind == "ends":
        lines = [[[0, 0], [40, 0]]] + [[[8.0 * k, hair(rng)], [8.0 * k + rng.choice([0, r, 2 * r]), rng.choice([-1, 1]) * 12]] for k in range(5)]
    elif kind == "hairpin":
        g = rng.choice([2 * r, r, 0]) + hair(rng)
        lines = [[[0, 0], [30, 0], [30, g], [0, g], [0, 2 * g], [30, 2 * g + hair(rng)]]]
    else:
        at, line = [0, 0], [[0, 0]]
        for _ in range(rng.randint(4, 20)):
            dx, dy = rng.choice([(1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, 1)])
            at = [at[0] + 2 * r * dx, at[1] + 2 * r * dy]
            line.append([at[0] + hair(rng) * rng.choice([0, 1]), at[1]])
        lines = [line]
    flat = turned(rng, [p for line in lines for p in line])
    out = []
    for line in lines:
        out.append(flat[:len(line)])
        flat = flat[len(line):]
    radius = [r if rng.random() < 0.9 else r + hair(rng) for _ in lines]
    return "lines: " + kind, out, radius


def ring_family(rng):
    kind = rng.choice(["lattice", "twice", "spikes", "pinch", "copies", "fold"])
    n = rng.randint(4, 24)
    ring = [[rng.randint(0, 5), rng.randint(0, 5)] for _ in range(n)]
    if kind == "twice":
        ring += ring[:rng.randint(1, n)]
    elif kind == "spikes":
        ring = [p for q in ring for p in (q, [q[0], q[1] + 3], [q[0] + hair(rng), q[1]])]
    elif kind == "pinch":
        ring = [[5 * math.cos(a) * (k % 2), 5 * math.sin(a) * (k % 2)] for k, a in enumerate([2 * math.pi * k / n for k in range(n)])]
    elif kind == "copies":
        ring = [[q[0] + hair(rng), q[1] + hair(rng)] for q in ring for _ in range(2)]
    elif kind == "fold":
        ring = ring + [[q[0] + hair(rng), q[1]] for q in reversed(ring[1:-1])]
    ring = turned(rng, [[10 * p[0], 10 * p[1]] for p in ring])
    return "rings: " + kind, ring + [ring[0]]


def odd_area(ring):
    """Area of the places a ring runs around an odd number of times, as a sum over levels: between
    two neighbours of all corners and crossings in height, all sides run straight and cross nowhere."""
    sides = [(a[0] - ring[0][0], a[1] - ring[0][1], b[0] - ring[0][0], b[1] - ring[0][1]) for a, b in zip(ring, ring[1:])]
    levels = {s[1] for s in sides}
    for k, (ax, ay, bx, by) in enumerate(sides):
        for cx, cy, dx, dy in sides[:k]:
            across = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
            if across:
                u = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / across
                v = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / across
                if 0 < u < 1 and 0 < v < 1:
                    levels.add(ay + u * (by - ay))
    levels, total = sorted(levels), []
    for low, high in zip(levels, levels[1:]):
        y = (low + high) / 2
        xs = sorted(ax + (y - ay) / (by - ay) * (bx - ax) for ax, ay, bx, by in sides if (ay > y) != (by > y))
        total.append((high - low) * math.fsum(b - a for a, b in zip(xs[::2], xs[1::2])))
    return math.fsum(total)


def beside(a, b, r):
    """What lies within r of a side, straight across."""
    x, y = b[1] - a[1], a[0] - b[0]
    r /= math.hypot(x, y)
    return Polygon([(a[0] + r * x, a[1] + r * y), (b[0] + r * x, b[1] + r * y), (b[0] - r * x, b[1] - r * y), (a[0] - r * x, a[1] - r * y)])


def outlines(area):
    for part in getattr(area, "geoms", [area]):
        if not part.is_empty:
            for ring in orient(part).exterior, *orient(part).interiors:
                yield list(ring.coords)[:-1]


def arcs(ring, circles, sides):
    """The ring cut into runs of sides of one of the circles, of an eighth of it at the most, and single sides of none."""
    runs = []
    for a, b in zip(ring, ring[1:] + ring[:1]):
        if a == b:
            continue
        on = None
        for k, (x, y, r) in enumerate(circles):
            low, high = r * (1 - 5 / sides**2), r * (1 + 5 / sides**2)  # where sides and corners of its polygon lie
            if all(low <= math.hypot(p[0] - x, p[1] - y) <= high for p in (a, b)) and math.hypot(a[0] - b[0], a[1] - b[1]) < 6.5 * r / sides:
                on = k
                break
        if on is not None and runs and runs[-1][0] == on and len(runs[-1][1]) <= sides / 8 and runs[-1][1][-1] == a:
            runs[-1][1].append(b)
        else:
            runs.append((on, [a, b]))
    return runs


def closing_of(discs, rings, gap, sides):
    """Closing and grown areas: what is grown, without all that lies within half of gap of its outline,
    which is beside its sides, between its arcs and those of the circles that were grown, and about the
    corners that point inwards. GEOS's own buffer leaves corners out, which takes 5 % of some closings."""
    rho = gap / 2
    circles = [(x, y, r + rho) for x, y, r in discs] + [(*p, rho) for r in rings for p in r[1:]]
    grown = unary_union([disc(*c, sides) for c in circles] + [Polygon(r) for r in rings] + [beside(a, b, rho) for r in rings for a, b in zip(r, r[1:])])
    away = []
    for ring in outlines(grown):
        for on, run in arcs(ring, circles, sides):
            if on is None:
                away.append(beside(*run, rho))
            else:
                x, y, r = circles[on]
                mid = run[len(run) // 2]
                # about the circle in order, where its sides cross those of a copy a hair apart
                run.sort(key=lambda p: math.atan2((mid[0] - x) * (p[1] - y) - (mid[1] - y) * (p[0] - x), (mid[0] - x) * (p[0] - x) + (mid[1] - y) * (p[1] - y)))
                outer, inner = ([(x + (p[0] - x) * f, y + (p[1] - y) * f) for p in run] for f in (1.01, (r - rho) / r))
                away.append(Polygon(outer + (inner[::-1] if r > rho else [(x, y)])))
        for a, b, c in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1]):
            if (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) < 0:
                away.append(disc(*b, rho, sides))
    return grown.difference(unary_union(away)).area, grown.area


def closing(discs, rings, gap):
    """Least and most closing area of gaps within a hair of gap, the same where no hair decides, and the grown area."""
    sides = ROUGH
    while True:
        # a polygon of a circle's area lies this far off it, and a place may hang on three circles
        off = max(HAIR, 3 * (2 * math.pi / sides) ** 2 / 12 * (max((d[2] for d in discs), default=0) + gap / 2))
        (least, _), (most, grown) = (closing_of(discs, rings, g, sides) for g in (gap - off, gap + off))
        if abs(most - least) <= ALIKE * grown:
            return (least + most) / 2, (least + most) / 2, grown
        if sides >= FINE:
            return min(least, most), max(least, most), grown
        sides *= 4


def cases(n, seed):
    rng = random.Random(seed)
    for family in (on_a_line, lattice, copies, through_one_place, nested):
        for _ in range(n):
            discs = turned(rng, family(rng))
            gap = rng.choice([1, 5, 30])
            least, most, grown = closing(discs, [], gap)
            yield {"family": "discs: " + family.__name__.replace("_", " "), "discs": discs, "gap": gap,
                   "area": unary_union([disc(*d) for d in discs]).area,
                   "closing": (least + most) / 2, "least": least, "most": most, "grown": grown}
    for _ in range(n):
        discs, rings = about_a_polygon(rng)
        gap = rng.choice([1, 5, 30])
        # each closing grows with its gap, so that what the polygons add lies between these
        least, most, grown = closing(discs, rings, gap)
        alone = closing(discs, [], gap) if discs else (0, 0)
        yield {"family": "beside", "discs": discs, "rings": rings, "gap": gap, "least": least - alone[1], "most": most - alone[0], "grown": grown}
    for _ in range(n):
        family, lines, radius = line_family(rng)
        # side by side: of a whole line GEOS first smooths corners away, which adds 5e-6 where it runs back over itself
        parts = [LineString(side).buffer(r, QUARTER) for line, r in zip(lines, radius) for side in zip(line, line[1:])]
        yield {"family": family, "lines": lines, "radius": radius, "area": unary_union(parts).area}
    for _ in range(n):
        family, ring = ring_family(rng)
        yield {"family": family, "rings": [ring], "area": odd_area(ring)}


def main():
    if len(sys.argv) > 1:
        for case in cases(int(sys.argv[1]), sys.argv[2] if len(sys.argv) > 2 else "1"):
            print(json.dumps(case))
        return
    with OUT.open("w") as out:
        for case in cases(12, "sample"):
            out.write(json.dumps(case) + "\n")
    print("shapely", shapely.__version__, "GEOS", geos_version)


if __name__ == "__main__":
    main()
