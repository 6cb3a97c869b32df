#!/usr/bin/python3
"""Write testdata/trend/kendall.json: Kendall tests and slopes by SciPy.

Run with Debian's python3-scipy: /usr/bin/python3 scripts/oracle_trend.py
A case holds seasons, each a list of [year, value]. One season is Mann-Kendall.
  p_exact   up to 10 values: all orders of the values within the seasons, counted
            one by one; without ties in one season it is also asked of
            scipy.stats.kendalltau(method="exact")
  p_normal  scipy.stats.mstats.kendalltau_seasonal, "global p-value (indep)"
  s         by that function's own tau where there is one season, else by numpy
  slope     scipy.stats.theilslopes, or sen_seasonal_slopes for several seasons
  intercept scipy.stats.theilslopes, one season only
"""
import itertools
import json
import pathlib

import numpy as np
import scipy
from scipy import stats
from scipy.stats import mstats

OUT = pathlib.Path(__file__).resolve().parent.parent / "testdata" / "trend" / "kendall.json"


def score(values):
    v = np.asarray(values, float)
    return int(sum(np.sign(v[i + 1:] - v[i]).sum() for i in range(len(v))))


def orders(values):
    """Number of orders by score, each order of distinct positions counted."""
    counts = {}
    for p in itertools.permutations(values):
        s = score(p) if len(values) < 8 else fast_score(p)
        counts[s] = counts.get(s, 0) + 1
    return counts


def fast_score(p):
    s = 0
    for i in range(len(p)):
        a = p[i]
        for b in p[i + 1:]:
            s += (b > a) - (b < a)
    return s


def exact(seasons):
    total = {0: 1}
    for season in seasons:
        own, summed = orders(season), {}
        for a, m in total.items():
            for b, n in own.items():
                summed[a + b] = summed.get(a + b, 0) + m * n
        total = summed
    s = abs(sum(score(x) for x in seasons))
    return sum(n for k, n in total.items() if abs(k) >= s) / sum(total.values())


def grid(seasons):
    """Years down, seasons across, what is missing masked."""
    years = sorted({t for season in seasons for t, _ in season})
    span = range(int(min(years)), int(max(years)) + 1)
    g = np.ma.masked_all((len(span), len(seasons)))
    for k, season in enumerate(seasons):
        for t, v in season:
            g[int(t) - span[0], k] = v
    return g


def normal(seasons):
    if len(seasons) == 1:
        column = np.ma.array([[v] for _, v in seasons[0]])
    else:
        column = grid(seasons)
    return float(mstats.kendalltau_seasonal(column)["global p-value (indep)"])


def answer(name, seasons):
    values = [[v for _, v in season] for season in seasons]
    n, pairs = sum(map(len, values)), sum(len(v) * (len(v) - 1) // 2 for v in values)
    case = {"name": name, "seasons": seasons, "s": sum(map(score, values)), "pairs": pairs, "p_normal": normal(seasons)}
    if n <= 10:
        case["p_exact"] = exact(values)
    if len(seasons) == 1:
        times = [t for t, _ in seasons[0]]
        if n <= 10 and len(set(values[0])) == n:
            asked = stats.kendalltau(times, values[0], method="exact").pvalue
            assert abs(asked - case["p_exact"]) < 1e-12, name
        sen = stats.theilslopes(values[0], times)
        case["slope"], case["intercept"] = float(sen[0]), float(sen[1])
    else:
        case["slope"] = float(mstats.sen_seasonal_slopes(grid(seasons)).inter_slope)
    return case


def main():
    rng = np.random.default_rng(7)
    cases = []
    for n in (5, 7, 9, 10, 11, 16, 40):
        times = [2020 + i / 4 for i in range(n)]
        cases.append(answer(f"{n} different values", [[[t, round(float(v), 4)] for t, v in zip(times, rng.normal(20, 3, n) - np.arange(n) / 3)]]))
        cases.append(answer(f"{n} values with ties", [[[t, int(v)] for t, v in zip(times, rng.integers(0, 4, n))]]))
        keep = sorted(rng.choice(2 * n, n, replace=False))
        cases.append(answer(f"{n} values with gaps", [[[2020 + int(i) / 4, round(float(v), 4)] for i, v in zip(keep, rng.normal(9, 2, n))]]))
    for years in (2, 3, 6, 10):
        full = [[[2016 + y, round(float(rng.normal(10 + 4 * q - y / 2, 1)), 2)] for y in range(years)] for q in range(4)]
        cases.append(answer(f"four quarters, {years} years", full))
        tied = [[[t, float(round(v))] for t, v in season] for season in full]
        cases.append(answer(f"four quarters, {years} years, tied", tied))
        gaps = [[x for x in season if rng.random() > 0.25] for season in full]
        if years > 2:
            cases.append(answer(f"four quarters, {years} years, gaps", [s for s in gaps if s]))
    cases.append(answer("all equal", [[[2020 + i / 4, 3.0] for i in range(6)]]))
    # SciPy gives NaN for a p without variance; nothing speaks for a trend: 1.
    cases[-1]["p_normal"] = 1.0
    OUT.parent.mkdir(parents=True, exist_ok=True)
    lines = ",\n".join(" " + json.dumps(c) for c in cases)
    OUT.write_text(f'{{"scipy": "{scipy.__version__}", "cases": [\n{lines}\n]}}\n')


main()
