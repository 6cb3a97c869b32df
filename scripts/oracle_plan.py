#!/usr/bin/env python3
"""Whole plans of one quarter by integer programming, for internal/plan.

    oracle_plan.py > testdata/plan/quarters.json

Programmes are drawn from a fixed seed: stands in blocks, with acres, exposure, the stands
that their fragments reach, sites that share a set-up, visits due, prices, and labour of
later years. Each is solved by scipy.optimize.milp (HiGHS), stated here from the rules and
not from the program: a block is 0 or 1, a site is set up when any block on it is 1, a block
needs the one above it and the last one of every stand that reaches its stand, what due
visits leave of the budget is not exceeded, nor what they leave in the same quarter of each
coming year by the follow-up of what is chosen. Made with scipy 1.10.1.
"""
import json
import random

import numpy
from scipy.optimize import LinearConstraint, milp


def draw(rng):
    n = rng.randint(4, 24)
    stands = []
    for i in range(n):
        blocks = [
            {"acres": round(rng.uniform(0.1, 4), 3), "exposure": round(rng.choice([0, rng.uniform(0, 3), rng.uniform(0, 9)]), 4)}
            for _ in range(rng.choice([1, 1, 1, 2, 3]))
        ]
        # fragments of stands that share a river, each with a few below it
        reaches = sorted(j for j in range(i + 1, n) if j % 3 == i % 3 and rng.random() < 0.4)
        due = None
        if rng.random() < 0.15:
            due = {"quarter": rng.choice([0, 0, 4, 8]), "year": rng.randint(1, 3), "acres": round(rng.uniform(0.2, 3), 3)}
            blocks = []
        stands.append({"site": rng.randint(0, n // 2), "factor": rng.choice([1, 1, 1.5, 2]), "reaches": reaches, "blocks": blocks, "due": due})
    set_up, acre = rng.choice([(0, 0), (0, 100), (40, 100), (150, 80)])
    labour = [0.4, 0.2, 0.1]
    whole = sum(b["acres"] for s in stands for b in s["blocks"]) * (acre or 1)
    return {"set_up": set_up, "per_acre": acre, "budget": round(whole * rng.uniform(0.15, 0.6) + set_up, 2), "labour": labour, "stands": stands}


def solve(p):
    acre = 1 if p["set_up"] == 0 and p["per_acre"] == 0 else p["per_acre"]
    labour, stands = p["labour"], p["stands"]
    load = {}  # by quarter: cost of visits due, the first of a site and quarter with its set-up
    paid = set()
    for s in stands:
        if s["due"]:
            d = s["due"]
            base = d["acres"] * acre * s["factor"]
            if (s["site"], d["quarter"]) not in paid:
                paid.add((s["site"], d["quarter"]))
                base += p["set_up"]
            for k, year in enumerate(range(d["year"], len(labour) + 1)):
                q = d["quarter"] + 4 * k
                load[q] = load.get(q, 0) + base * labour[year - 1]
    x = [(i, k) for i, s in enumerate(stands) for k in range(len(s["blocks"]))]
    at = {b: v for v, b in enumerate(x)}
    sites = sorted({stands[i]["site"] for i, _ in x})
    site = {name: len(x) + v for v, name in enumerate(sites)}
    n = len(x) + len(sites)
    cost, worth = numpy.zeros(n), numpy.zeros(n)
    rows, upper = [], []

    def needs(a, b):  # a only with b
        row = numpy.zeros(n)
        row[a], row[b] = 1, -1
        rows.append(row)
        upper.append(0)

    for (i, k), v in at.items():
        block = stands[i]["blocks"][k]
        cost[v], worth[v] = block["acres"] * acre * stands[i]["factor"], block["exposure"]
        needs(v, site[stands[i]["site"]])
        if k:
            needs(v, at[i, k - 1])
        else:
            for j, above in enumerate(stands):
                if i in above["reaches"] and above["blocks"]:
                    needs(v, at[j, len(above["blocks"]) - 1])
    for v in site.values():
        cost[v] = p["set_up"]
    for q, share in [(0, 1)] + [(4 * (k + 1), share) for k, share in enumerate(labour)]:
        rows.append(share * cost)
        upper.append(p["budget"] - load.get(q, 0))
    if upper[-len(labour) - 1] < 0 or min(upper[-len(labour):]) < 0:
        return None
    found = milp(-worth, constraints=LinearConstraint(numpy.array(rows), ub=upper), integrality=numpy.ones(n), bounds=(0, 1), options={"mip_rel_gap": 0})
    if not found.success:
        raise SystemExit(found.message)
    return -found.fun


def main():
    rng, problems = random.Random(20260927), []
    while len(problems) < 60:
        p = draw(rng)
        best = solve(p)
        if best is not None and best > 0:
            p["best"] = round(best, 6)
            problems.append(p)
    print("[\n" + ",\n".join(json.dumps(p, separators=(",", ":")) for p in problems) + "\n]")


main()
