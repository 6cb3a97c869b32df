#!/usr/bin/python3
"""Write testdata/estimate/answers.json: what SciPy and R answer to the same numbers.

Run with Debian's python3-scipy, r-base-core, r-cran-survival and r-cran-proc:
/usr/bin/python3 scripts/oracle_estimate.py
  wilson    scipy.stats.binomtest(k, n).proportion_ci(method="wilson")
  student   scipy.stats.t.ppf(0.975, degrees)
  roc       area and DeLong's interval by R's pROC; the area by scipy's mannwhitneyu too
  rates     maximum of a Poisson likelihood with amounts of 0 or more, by scipy.optimize
            (L-BFGS-B and SLSQP, the better of the two), rows all written out
  turnbull  R's survival::survfit(Surv(type = "interval2")), which is Turnbull's
  ratio     ratio of clustered sums with its sandwich variance, by R's lm with weights and
            the cluster sum of scores written out; a leave-one-cluster-out jackknife and a
            cluster bootstrap (numpy) to hold its width against
  second    maximum of the likelihood of two looks, given that one of them found it, by
            scipy.optimize.minimize_scalar
  scale     profile of the likelihood of a one-way spread over its scale, by scipy.optimize
"""
import json
import pathlib
import subprocess
import tempfile

import numpy as np
import scipy
from scipy import optimize, stats

OUT = pathlib.Path(__file__).resolve().parent.parent / "testdata" / "estimate" / "answers.json"
rng = np.random.default_rng(20261127)


def wilson():
    out = []
    for k, n in [(0, 1), (0, 10), (1, 10), (5, 10), (10, 10), (3, 7), (17, 400), (399, 400), (42, 1000)]:
        ci = stats.binomtest(k, n).proportion_ci(method="wilson")
        out.append({"k": k, "n": n, "low": ci.low, "high": ci.high})
    return out


def student():
    return [{"degrees": d, "t": stats.t.ppf(0.975, d)} for d in [1, 2, 3, 4.5, 7, 10, 29, 100, 10000]]


def r(code):
    with tempfile.NamedTemporaryFile("w", suffix=".R") as f:
        f.write(code)
        f.flush()
        return subprocess.run(["Rscript", "--vanilla", f.name], check=True, capture_output=True, text=True).stdout


def vector(values):
    return "c(" + ",".join("Inf" if np.isinf(v) else repr(float(v)) for v in values) + ")"


def roc():
    out = []
    for cases, controls, step in [(5, 8, 0), (30, 400, 0), (12, 60, 1), (40, 40, 0.5)]:
        ca, co = rng.normal(1, 1, cases), rng.normal(0, 1, controls)
        if step:
            ca, co = np.round(ca / step) * step, np.round(co / step) * step
        area = stats.mannwhitneyu(ca, co).statistic / (cases * controls)
        text = r(f"""suppressMessages(library(pROC)); a <- roc(cases={vector(ca)}, controls={vector(co)}, direction="<", quiet=TRUE)
cat(format(ci.auc(a, method="delong"), digits=15))""")
        low, mid, high = [float(v) for v in text.split()]
        assert abs(mid - area) < 1e-12
        out.append({"cases": ca.tolist(), "controls": co.tolist(), "area": area, "low": low, "high": high})
    return out


def rates():
    out = []
    for rows, causes, n in [(50, 1, 20), (200, 2, 30), (300, 3, 60), (300, 3, 12), (40, 3, 5)]:
        columns = rng.gamma(0.5, 1, (causes, rows))
        columns[0] = 1
        truth = rng.dirichlet(np.ones(causes)) * n
        scaled = columns / columns.sum(axis=1, keepdims=True)
        y = rng.poisson(truth @ scaled)

        def minus(a):
            mu = np.maximum(a @ scaled, 1e-300)
            return float(mu.sum() - (y * np.log(mu)).sum())

        best = None
        for method, start in [("L-BFGS-B", 1.0), ("SLSQP", 1.0), ("L-BFGS-B", 0.1)]:
            got = optimize.minimize(minus, np.full(causes, start * max(1, y.sum()) / causes), method=method, bounds=[(0, None)] * causes,
                                    options={"maxiter": 10000, "ftol": 1e-15})
            if best is None or got.fun < best.fun:
                best = got
        out.append({"counts": y.tolist(), "causes": columns.tolist(), "amounts": best.x.tolist(), "log": -best.fun})
    return out


def turnbull():
    out = []
    for n, looks in [(8, 4), (40, 6), (60, 3)]:
        true = rng.exponential(3, n)
        after, by = [], []
        for t in true:
            seen = np.sort(rng.choice(np.arange(1, 13), looks, replace=False)).astype(float)
            k = np.searchsorted(seen, t)
            after.append(0.0 if k == 0 else seen[k - 1])
            by.append(np.inf if k == looks else seen[k])
        # a step up from the look before: R's intervals are closed at both ends
        text = r(f"""suppressMessages(library(survival)); l <- {vector(after)}; u <- {vector(by)}; u[is.infinite(u)] <- NA
f <- survfit(Surv(l + 1e-6, u, type="interval2") ~ 1, error=1e-10)
for (t in seq(0.5, 12.5)) cat(format(1 - summary(f, times=t, extend=TRUE)$surv, digits=15), "\\n")""")
        out.append({"after": after, "by": [-1 if np.isinf(v) else v for v in by], "times": [k + 0.5 for k in range(13)],
                    "come": [float(v) for v in text.split()]})
    return out


def ratio():
    out = []
    for clusters, each in [(3, 2), (8, 5), (25, 3)]:
        c = np.repeat(np.arange(clusters), each)
        at = rng.gamma(2, 1, clusters * each)
        upper = at * np.clip(0.4 + rng.normal(0, 0.15, clusters)[c] + rng.normal(0, 0.1, len(c)), 0, 1)
        text = r(f"""x <- {vector(at)}; y <- {vector(upper)}; g <- {vector(c)}
f <- lm(I(y / x) ~ 1, weights=x); b <- coef(f)
u <- tapply(x * (y / x - b), g, sum); m <- length(u)
se <- sqrt(m / (m - 1) * sum(u^2)) / sum(x)
cat(format(c(b, b - qt(0.975, m - 1) * se, b + qt(0.975, m - 1) * se), digits=15))""")
        value, low, high = [float(v) for v in text.split()]
        parts = [(upper.sum() - upper[c == k].sum()) / (at.sum() - at[c == k].sum()) for k in range(clusters)]
        jack = np.sqrt((clusters - 1) / clusters * ((np.array(parts) - np.mean(parts)) ** 2).sum())
        boots = []
        for _ in range(4000):
            pick = rng.integers(0, clusters, clusters)
            boots.append(sum(upper[c == k].sum() for k in pick) / sum(at[c == k].sum() for k in pick))
        out.append({"clusters": c.tolist(), "upper": upper.tolist(), "at": at.tolist(), "value": value, "low": low, "high": high,
                    "jackknife": jack, "bootstrap": float(np.std(boots, ddof=1))})
    return out


def second():
    out = []
    for both, first, other in [(8, 3, 1), (40, 10, 12), (2, 2, 3), (0, 4, 2)]:
        def minus(p):
            return -(both * np.log(p * p) + (first + other) * np.log(p * (1 - p)) - (both + first + other) * np.log(1 - (1 - p) ** 2))
        got = optimize.minimize_scalar(minus, bounds=(1e-9, 1 - 1e-9), method="bounded", options={"xatol": 1e-12})
        out.append({"both": both, "first": first, "other": other, "find": float(got.x)})
    return out


def scale():
    """The profile of a one-way spread over a grid, rows along a line, by scipy."""
    out = []
    rows, scales = 300, [0.5, 0.7, 1, 1.4, 2, 2.8, 4]
    at = (np.arange(rows) + 0.5) * 0.05
    for truth, n in [(1.0, 60), (2.0, 25)]:
        sources = rng.uniform(1, 12, 6)
        down, up = [], []
        for h in scales:
            d = at[:, None] - sources
            down.append((np.where(d > 0, 0.5 ** (np.abs(d) / h), 0)).sum(axis=1))
            up.append((np.where(d < 0, 0.5 ** (np.abs(d) / h), 0)).sum(axis=1))
        law = down[scales.index(truth)]
        y = rng.poisson(n * (0.8 * law / law.sum() + 0.2 / rows))
        logs = []
        for i in range(len(scales)):
            columns = np.array([np.ones(rows), down[i] + up[i], down[i]])
            columns /= columns.sum(axis=1, keepdims=True)

            def minus(a):
                mu = np.maximum(a @ columns, 1e-300)
                return float(mu.sum() - (y * np.log(mu)).sum())
            logs.append(max(-optimize.minimize(minus, np.full(3, y.sum() * w / 3), method=m, bounds=[(0, None)] * 3,
                                               options={"maxiter": 10000, "ftol": 1e-15}).fun for m in ("L-BFGS-B", "SLSQP") for w in (1.0, 0.3)))
        plain = []
        for i in range(len(scales)):
            columns = np.array([np.ones(rows), down[i] + up[i]])
            columns /= columns.sum(axis=1, keepdims=True)

            def minus2(a):
                mu = np.maximum(a @ columns, 1e-300)
                return float(mu.sum() - (y * np.log(mu)).sum())
            plain.append(max(-optimize.minimize(minus2, np.full(2, y.sum() * w / 2), method=m, bounds=[(0, None)] * 2,
                                                options={"maxiter": 10000, "ftol": 1e-15}).fun for m in ("L-BFGS-B", "SLSQP") for w in (1.0, 0.3)))
        out.append({"counts": y.tolist(), "scales": scales, "down": [d.tolist() for d in down], "up": [u.tolist() for u in up],
                    "profile": [2 * (max(logs) - v) for v in logs], "gain": 2 * (max(logs) - max(plain))})
    return out


answers = {"scipy": scipy.__version__, "R": r("cat(R.version.string)"), "wilson": wilson(), "student": student(), "roc": roc(), "rates": rates(),
           "turnbull": turnbull(), "ratio": ratio(), "second": second(), "scale": scale()}
OUT.write_text(json.dumps(answers) + "\n")
