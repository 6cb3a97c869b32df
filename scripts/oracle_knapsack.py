#!/usr/bin/python3
"""Asks HiGHS (scipy 1.10, milp) for the best sets that geo/knapsack is held to.

    scripts/oracle_knapsack.py sets > testdata/knapsack/sets.json

makes instances: the worked example "Opencast mining" of Gueret, Prins & Sevaux,
Applications of Optimization with Xpress-MP (2002), chapter 6, and some of our own, with
the best set and the linear relaxation at several budgets.

    scripts/oracle_knapsack.py mine FOLDER/newman1 > testdata/knapsack/newman1.json

does so for a named public instance of open-pit planning, MineLib (Espinoza, Goycoolea, Moreno
& Newman, Annals of Operations Research 206, 2013): newman1.upit, .prec and .blocks, value by
block, tonnes as cost. The instance itself is not part of the project.

    scripts/oracle_knapsack.py row BATCH...

prints, of a batch's folder (order.csv and stand_links.csv), the most that the worst of one
row's beginnings can be worth against the best sets, at 5, 10, 20, 30 and 50 % of the acres.
"""
import csv
import json
import math
import os
import random
import sys

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import lil_matrix

SHARES = [0.05, 0.1, 0.2, 0.3, 0.5]


def best(items, budget, whole=True, seconds=120):
    """The best value for a budget, and the highest that it may be."""
    n = len(items)
    pairs = [(i, need) for i, item in enumerate(items) for need in item["needs"]]
    a = lil_matrix((len(pairs) + 1, n))
    for row, (i, need) in enumerate(pairs):
        a[row, i], a[row, need] = 1, -1
    a[len(pairs), :] = [item["cost"] for item in items]
    most = np.zeros(len(pairs) + 1)
    most[-1] = budget
    got = milp(-np.array([item["value"] for item in items]), constraints=LinearConstraint(a.tocsr(), -np.inf, most),
               integrality=np.full(n, int(whole)), bounds=Bounds(0, 1), options={"time_limit": seconds, "mip_rel_gap": 1e-9})
    return -got.fun, (-got.mip_dual_bound if whole else -got.fun)


def answers(name, items, budgets):
    out = {"name": name, "items": items, "budgets": budgets, "best": [], "relaxed": []}
    for budget in budgets:
        out["best"].append(best(items, budget)[0])
        out["relaxed"].append(best(items, budget, whole=False)[0])
    return out


def opencast():
    """Blocks of 10 000 t; net worth of each in 10 000 dollars, the cost a block."""
    values = [100, -100, -100, -100, -100, -100, 200, -100, -1000, 300, -200, 0, -200, -1000, -1000, -1000, 700, 200]
    needs = [[] for _ in range(8)] + [[k, k + 1, k + 2] for k in range(6)] + [[k, k + 1, k + 2] for k in range(8, 12)]
    return [{"value": v, "cost": 1, "needs": n} for v, n in zip(values, needs)]


def made(seed, count, braided, sites):
    """Items along streams that join; some parted, some sharing a set-up that is paid once."""
    dice = random.Random(seed)
    items, heads = [], []
    setups = []
    for i in range(count):
        needs = []
        for _ in range(dice.randint(0, 3)):
            if heads:
                k = dice.randrange(len(heads))
                needs.append(heads[k])
                if dice.random() >= braided:
                    del heads[k]
        if sites and dice.random() < 0.1:
            setups.append(len(items))
            items.append({"value": 0, "cost": round(dice.uniform(0.5, 3), 6), "needs": []})
        if setups:
            needs.append(setups[-1])
        heads.append(len(items))
        items.append({"value": round(math.exp(dice.gauss(0, 1)), 6), "cost": round(math.exp(dice.gauss(0, 1)), 6), "needs": sorted(set(needs))})
    return items


def sets():
    out = [answers("Opencast mining", opencast(), [0, 3, 6, 9, 10, 12, 15, 18])]
    for seed, (count, braided, sites) in enumerate([(30, 0, False), (60, 0, False), (60, 0.3, False), (60, 0.1, True), (120, 0, False), (120, 0.2, True), (200, 0.1, False)]):
        items = made(seed, count, braided, sites)
        all_costs = sum(item["cost"] for item in items)
        name = "%d along streams, %d %% braided%s" % (count, 100 * braided, ", with set-ups" if sites else "")
        out.append(answers(name, items, [round(share * all_costs, 6) for share in SHARES]))
    print("[\n" + ",\n".join(json.dumps(one) for one in out) + "\n]")


def mine(stem):
    """A MineLib instance; answers only."""
    values, costs, needs = {}, {}, {}
    with open(stem + ".upit") as f:
        for line in f:
            part = line.split()
            if len(part) == 2 and part[0].isdigit():
                values[int(part[0])] = float(part[1])
    with open(stem + ".blocks") as f:
        for line in f:
            part = line.split()
            costs[int(part[0])] = float(part[6])
    with open(stem + ".prec") as f:
        for line in f:
            part = [int(x) for x in line.split()]
            needs[part[0]] = part[2:2 + part[1]]
    items = [{"value": values[i], "cost": costs[i], "needs": needs[i]} for i in range(len(values))]
    total = sum(costs.values())
    out = {"name": os.path.basename(stem), "pit": best(items, total)[0], "budgets": [share * total for share in SHARES], "relaxed": [], "best": [], "bound": []}
    for budget in out["budgets"]:
        value, bound = best(items, budget, seconds=30)
        out["best"].append(value)
        out["bound"].append(bound)
        out["relaxed"].append(best(items, budget, whole=False)[0])
    print(json.dumps(out, indent=1))


def row(folder):
    with open(os.path.join(folder, "order.csv"), newline="") as f:
        rows = list(csv.DictReader(f))
    place = {r["stand_id"]: i for i, r in enumerate(rows)}
    items = [{"value": float(r["exposure"]) if float(r["acres_to_treat"]) > 0 else 0.0, "cost": float(r["acres_to_treat"]), "needs": []} for r in rows]
    with open(os.path.join(folder, "stand_links.csv"), newline="") as f:
        for r in csv.DictReader(f):
            items[place[r["to_stand_id"]]]["needs"].append(place[r["from_stand_id"]])
    n, layers = len(items), len(SHARES)
    total = sum(item["cost"] for item in items)
    budgets = [share * total * (1 + 1e-6) for share in SHARES]
    most = [best(items, budget)[0] for budget in budgets]
    pairs = [(i, need) for i, item in enumerate(items) for need in item["needs"]]
    a = lil_matrix((layers * len(pairs) + (layers - 1) * n + 2 * layers, n * layers + 1))
    top, at = np.zeros(a.shape[0]), 0
    for k in range(layers):
        for i, need in pairs:
            a[at, k * n + i], a[at, k * n + need] = 1, -1
            at += 1
        for i in range(n if k + 1 < layers else 0):
            a[at, k * n + i], a[at, (k + 1) * n + i] = 1, -1
            at += 1
        a[at, k * n:(k + 1) * n] = [item["cost"] for item in items]
        top[at] = budgets[k]
        a[at + 1, k * n:(k + 1) * n] = [-item["value"] / most[k] for item in items]
        a[at + 1, n * layers] = 1
        at += 2
    worth = np.zeros(n * layers + 1)
    worth[-1] = -1
    got = milp(worth, constraints=LinearConstraint(a.tocsr(), -np.inf, top), integrality=np.r_[np.ones(n * layers), 0],
               bounds=Bounds(0, 1), options={"time_limit": 300, "mip_rel_gap": 1e-4})
    print("%s: %d stands, the worst beginning can be worth %.4f, at most %.4f" % (folder, n, -got.fun, -got.mip_dual_bound))


if len(sys.argv) > 1 and sys.argv[1] == "sets":
    sets()
elif len(sys.argv) > 2 and sys.argv[1] == "mine":
    mine(sys.argv[2])
elif len(sys.argv) > 2 and sys.argv[1] == "row":
    for folder in sys.argv[2:]:
        row(folder)
else:
    sys.exit(__doc__)
