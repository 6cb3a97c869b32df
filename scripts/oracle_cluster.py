#!/usr/bin/python3
"""Write testdata/cluster: data sets with the answers of scikit-learn.

Run with Debian's python3-sklearn: /usr/bin/python3 scripts/oracle_cluster.py
Columns: the coordinates, then label (scikit-learn's cluster, -1 noise; clusters
renumbered by their smallest row), core (0/1). scikit-learn gives a border point
to the cluster it reaches first; the label of a border point is here that of the
nearest core point, the smaller row among equally near ones, by brute force.
"""
import pathlib

import numpy as np
import sklearn
from sklearn.cluster import DBSCAN
from sklearn.datasets import load_iris

OUT = pathlib.Path(__file__).resolve().parent.parent / "testdata" / "cluster"


def answers(points, eps, need):
    fit = DBSCAN(eps=eps, min_samples=need, algorithm="kd_tree").fit(points)
    core = np.zeros(len(points), bool)
    core[fit.core_sample_indices_] = True
    label = fit.labels_.copy()
    cores = np.flatnonzero(core)
    for i in np.flatnonzero(~core):
        if len(cores) == 0:
            continue
        d2 = ((points[cores] - points[i]) ** 2).sum(axis=1)
        best = int(np.argmin(d2))  # the first of equal ones
        label[i] = label[cores[best]] if d2[best] <= eps * eps else -1
    assert ((label < 0) == (fit.labels_ < 0)).all()
    renumber = {}
    for value in label:
        if value >= 0:
            renumber.setdefault(value, len(renumber))
    return np.array([renumber.get(v, -1) for v in label]), core


def write(name, points, eps, need):
    label, core = answers(points, eps, need)
    with open(OUT / f"{name}_eps{eps}_min{need}.csv", "w") as f:
        f.write(",".join("xyzw"[: points.shape[1]]) + ",label,core\n")
        for p, l, c in zip(points, label, core):
            f.write(",".join(repr(float(v)) for v in p) + f",{l},{int(c)}\n")


def along_a_stream(rng, n):
    """Earth-centred metres of points scattered along a bending line."""
    t = np.sort(rng.uniform(0, 4000, n))
    lon = np.radians(-70 + 4e-3 * np.sin(t / 300)) + rng.normal(0, 2.5e-6, n)
    lat = np.radians(45 + t / 111000) + rng.normal(0, 2.5e-6, n)
    r = 6371000.0
    xyz = np.c_[np.cos(lat) * np.cos(lon), np.cos(lat) * np.sin(lon), np.sin(lat)]
    return np.round(r * xyz, 3)


def main():
    print("scikit-learn", sklearn.__version__)
    OUT.mkdir(parents=True, exist_ok=True)
    rng = np.random.default_rng(20)
    iris = load_iris().data  # Fisher 1936, public domain
    write("iris", iris, 0.4, 4)
    write("iris", iris, 0.42, 5)
    write("uniform", np.round(rng.uniform(0, 1000, (600, 2)), 2), 30, 3)
    write("grid", rng.integers(0, 24, (250, 2)) * 30.0, 30, 3)
    write("stream", along_a_stream(rng, 500), 30, 3)
    pile = np.r_[np.repeat([[5.0, 5.0, 5.0]], 60, axis=0), rng.uniform(0, 40, (140, 3)).round(1)]
    write("pile", pile, 6, 4)
    write("line", np.round(rng.uniform(0, 500, (120, 1)), 1), 3, 3)


main()
