"""Reference values for the module laboratories, from numpy and SciPy.

Writes laboratories.json beside this file. Made with python3-scipy 1.10.1 and numpy 1.24.2 (Debian 12):

    /usr/bin/python3 tests/reference/laboratories.py

The two-way layout is solved here with the whole design matrix of indicators by the pseudo-inverse, not by eliminating the
materials; pairs of two laboratories are given to scipy.stats.ttest_rel as well.
"""

import json
import math
import pathlib

import numpy as np
from scipy import optimize, special, stats

rng = np.random.default_rng(20261130)
CONFIDENCE = 0.95


def student(probability, freedom):
    """Quantile of Student's t: scipy.stats.t.ppf of this version has eight digits only."""
    tail = lambda t: special.betainc(freedom / 2, 0.5, freedom / (freedom + t * t)) / 2 - (1 - probability)
    return optimize.brentq(tail, 0.5, 1000, xtol=1e-14, rtol=1e-14)


def layout(cells, reference):
    """Effects of laboratories about a reference (None: their mean) with Bonferroni intervals."""
    materials = sorted({material for material, _, _ in cells})
    names = sorted({laboratory for _, laboratory, _ in cells})
    design = np.zeros((len(cells), len(materials) + len(names)))
    for row, (material, laboratory, _) in enumerate(cells):
        design[row, materials.index(material)] = 1
        design[row, len(materials) + names.index(laboratory)] = 1
    values = np.array([value for _, _, value in cells])
    cross = np.linalg.pinv(design.T @ design)
    solved = cross @ design.T @ values
    rest = values - design @ solved
    freedom = len(cells) - np.linalg.matrix_rank(design)
    sd = math.sqrt(rest @ rest / freedom)
    intervals = max(1, len(names) - (reference is not None))
    t = student(1 - (1 - CONFIDENCE) / (2 * intervals), freedom)
    rows = []
    for name in names:
        weights = np.zeros(len(materials) + len(names))
        weights[len(materials) + names.index(name)] += 1
        if reference is None:
            weights[len(materials) :] -= 1 / len(names)
        else:
            weights[len(materials) + names.index(reference)] -= 1
        effect = weights @ solved
        error = sd * math.sqrt(max(0.0, weights @ cross @ weights))
        rows.append([name, effect, error, effect - t * error, effect + t * error])
    return {"laboratories": rows, "residualSd": sd, "degreesOfFreedom": int(freedom)}


def incomplete(laboratories, materials, share):
    """Cells of a layout in which each laboratory measured a share of the materials."""
    cells = []
    for material in range(materials):
        level = rng.normal(5, 2)
        who = [name for name in laboratories if rng.random() < share]
        if len(who) < 2:
            who = list(laboratories[:2])
        for name in who:
            cells.append([f"m{material}", name, level + 0.1 * laboratories.index(name) + rng.normal(0, 0.2)])
    return cells


layouts = []
for laboratories, materials, share in [("AB", 5, 1), ("AB", 30, 1), ("ABC", 8, 0.7), ("ABCDE", 20, 0.5), ("ABCDEFGH", 60, 0.3)]:
    cells = incomplete(laboratories, materials, share)
    for reference in [None, "B"]:
        layouts.append({"cells": cells, "reference": reference, **layout(cells, reference)})

paired = []
for n in [5, 12, 40]:
    a = rng.normal(100, 30, n)
    b = a + rng.normal(4, 6, n)
    test = stats.ttest_rel(b, a)
    interval = test.confidence_interval(CONFIDENCE)
    paired.append({"a": a.tolist(), "b": b.tolist(), "mean": float(np.mean(b - a)), "low": interval.low, "high": interval.high})

spreads = []
for sizes in [[2] * 5, [2] * 25, [3] * 8, [2, 5, 3, 2, 4]]:
    groups = [rng.normal(10, 1.5, size).tolist() for size in sizes]
    squares = sum(float(np.var(group) * len(group)) for group in groups)
    freedom = sum(sizes) - len(sizes)
    low, high = stats.chi2.ppf([0.975, 0.025], freedom)
    spreads.append(
        {
            "groups": groups,
            "sd": math.sqrt(squares / freedom),
            "low": math.sqrt(squares / low),
            "high": math.sqrt(squares / high),
            "degreesOfFreedom": freedom,
        }
    )

target = pathlib.Path(__file__).with_name("laboratories.json")
target.write_text(json.dumps({"layouts": layouts, "paired": paired, "spreads": spreads}, indent=1) + "\n")
