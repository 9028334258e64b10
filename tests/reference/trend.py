"""Reference values for the module trend, from SciPy and statsmodels.

Writes trend.json beside this file. Made with python3-scipy 1.10.1, python3-statsmodels 0.13.5 and numpy 1.24.2 (Debian 12):

    /usr/bin/python3 tests/reference/trend.py

For values known only as limits no general package was at hand: those cases are computed here by brute force over all
pairs, and the variance of the score of the smallest by going through all permutations.
"""

import itertools
import json
import math
import pathlib

import numpy as np
import statsmodels.api as sm
from scipy import stats
from statsmodels.duration.survfunc import SurvfuncRight
from statsmodels.robust import norms, scale

rng = np.random.default_rng(20260301)
LEVEL = 0.9


def score_and_variance(x, low, high):
    """Kendall's score and its permutation variance from all pairs, without any short cut."""
    n = len(x)
    a = np.sign(x[None, :] - x[:, None])
    b = (low[None, :] >= high[:, None]).astype(float) - (high[None, :] <= low[:, None])
    np.fill_diagonal(b, 0)
    score = float((a * b).sum() / 2)
    aa, bb = (a**2).sum(), (b**2).sum()
    ra, rb = (a.sum(axis=1) ** 2).sum(), (b.sum(axis=1) ** 2).sum()
    variance = aa * bb / (2 * n * (n - 1))
    if n > 2:
        variance += (ra - aa) * (rb - bb) / (n * (n - 1) * (n - 2))
    return score, float(variance), float((a * b != 0).sum())


def complete(name, x, y):
    """A data set without limit values."""
    n = len(x)
    score, variance, _ = score_and_variance(x, y, y)
    exact = n <= 30 and len(set(y)) == n and len(set(x)) == n
    case = {"name": name, "x": x.tolist(), "y": y.tolist(), "score": score, "variance": variance, "exact": exact}
    case["tau"] = float(stats.kendalltau(x, y).statistic)
    if exact:
        case["pValue"] = float(stats.kendalltau(x, y, method="exact").pvalue)
    else:
        z = max(0.0, abs(score) - 1) / math.sqrt(variance)
        case["pValue"] = float(min(1.0, 2 * stats.norm.sf(z)))
    if len(set(x)) >= 4:
        slope, _, low, high = stats.theilslopes(y, x, LEVEL)
        case["slope"] = float(slope)
        case["intercept"] = float(np.median(y - slope * x))
        if not exact:
            case["interval"] = [float(low), float(high)]
    return case


def days(n):
    return np.cumsum(rng.integers(20, 40, n)).astype(float)


def limited(name, x, y, limits):
    """A data set with values below a reporting limit: brute force."""
    n = len(x)
    is_limit = y < limits
    shown = np.where(is_limit, limits, y)
    low = np.where(is_limit, -np.inf, shown)
    high = shown.astype(float)
    score, variance, _ = score_and_variance(x, low, high)

    def score_at(slope):
        return score_and_variance(x, np.where(is_limit, -np.inf, shown - slope * x), shown - slope * x)[0]

    # The score changes only at the slopes of pairs: just beside each of them it is evaluated.
    slopes = sorted({(shown[j] - shown[i]) / (x[j] - x[i]) for i in range(n) for j in range(i) if x[i] != x[j]})
    middles = [slopes[0] - 1] + [(s + t) / 2 for s, t in zip(slopes, slopes[1:])] + [slopes[-1] + 1]
    scores = [score_at(middle) for middle in middles]

    def last(at_least):
        if scores[0] < at_least or scores[-1] >= at_least:
            return None
        return float(slopes[max(i for i, s in enumerate(scores) if s >= at_least)])

    rising, not_falling = last(1), last(0)
    slope = None if rising is None or not_falling is None else (rising + not_falling) / 2
    # The interval rests on how the score varies about the line, where other pairs have a known order than about a level.
    about = shown - (slope or 0) * x
    spread = score_and_variance(x, np.where(is_limit, -np.inf, about), about)[1]
    idle = math.floor(1 + stats.norm.ppf((1 + LEVEL) / 2) * math.sqrt(spread))
    return {
        "name": name,
        "x": x.tolist(),
        "y": shown.tolist(),
        "below": is_limit.tolist(),
        "score": score,
        "variance": variance,
        "slope": slope,
        "interval": [last(idle + 1), last(-idle)],
    }


def permuted_variance(x, low, high):
    scores = []
    for order in itertools.permutations(range(len(x))):
        scores.append(score_and_variance(x, low[list(order)], high[list(order)])[0])
    return float(np.var(scores))


def kaplan_meier(values, is_limit):
    """Values below a limit, turned round into values above one, by statsmodels."""
    estimate = SurvfuncRight(-values, 1 - is_limit.astype(int))
    return {
        "values": values.tolist(),
        "below": is_limit.tolist(),
        "atOrAbove": [[float(-t), float(1 - s)] for t, s in zip(estimate.surv_times, estimate.surv_prob)],
    }


def step_case(name, x, y):
    """The t of a step at every place, by ordinary least squares."""
    n = len(x)
    best = None
    tried = 0
    for place in range(3, n - 2):
        tried += 1
        design = np.column_stack([np.ones(n), x, (np.arange(n) >= place).astype(float)])
        fit = sm.OLS(y, design).fit()
        t = abs(fit.tvalues[2])
        if best is None or t > best[1]:
            best = (place, t)
    chance = 2 * tried * stats.t.sf(best[1], n - 3)
    return {"name": name, "x": x.tolist(), "y": y.tolist(), "place": best[0], "pAtMost": float(min(1, chance))}


def main():
    cases = []
    for n in (3, 4, 5, 7, 10, 15, 30):
        x = days(n)
        cases.append(complete(f"{n} without ties", x, np.round(60 + 0.15 * x + rng.normal(0, 6, n), 5)))
    for n in (5, 8, 12, 25, 60, 100, 101, 500):
        x = days(n)
        cases.append(complete(f"{n} with ties in y", x, np.round(60 + 0.02 * x + rng.normal(0, 4, n))))
    for n in (10, 40, 300):
        x = np.sort(rng.integers(0, n // 2, n)).astype(float)
        cases.append(complete(f"{n} with ties in x and y", x, np.round(50 + 0.3 * x + rng.normal(0, 3, n))))
    x = days(200)
    cases.append(complete("200 of which most are equal", x, np.where(rng.random(200) < 0.8, 7.0, rng.integers(5, 10, 200))))
    x = days(5000)
    cases.append(complete("5000 with ties", x, np.round(200 + 0.003 * x + rng.normal(0, 100, 5000))))

    below = []
    for n, share in ((8, 0.25), (12, 0.5), (25, 0.7), (60, 0.4), (120, 0.75)):
        x = days(n)
        y = np.round(40 + 0.02 * x + rng.normal(0, 5, n), 1)
        limit = np.round(np.quantile(y, share))
        below.append(limited(f"{n}, {share:.0%} below one limit", x, y, np.full(n, limit)))
        mixed = np.where(np.arange(n) < n // 2, limit, limit - 4)
        below.append(limited(f"{n}, two limits", x, y, mixed))

    permuted = []
    for n in (5, 6, 7):
        x = days(n)
        y = np.round(50 + rng.normal(0, 6, n))
        is_limit = y < 50
        shown = np.where(is_limit, 50.0, y)
        low = np.where(is_limit, -np.inf, shown)
        permuted.append(
            {"x": x.tolist(), "y": shown.tolist(), "below": is_limit.tolist(), "variance": permuted_variance(x, low, shown)}
        )

    meier = []
    for n in (9, 30):
        y = np.round(50 + rng.normal(0, 8, n), 1)
        limits = np.where(rng.random(n) < 0.5, 48.0, 52.0)
        is_limit = y < limits
        meier.append(kaplan_meier(np.where(is_limit, limits, y), is_limit))

    steps = []
    x = np.arange(24.0)
    noise = rng.normal(0, 3, 24)
    steps.append(step_case("a rise without a step", x, np.round(60 + 2 * x + noise, 2)))
    steps.append(step_case("a step in a rise", x, np.round(60 + 2 * x + 25 * (x >= 15) + noise, 2)))
    steps.append(step_case("a step in a level", x, np.round(60 - 14 * (x >= 9) + noise, 2)))

    heavy = np.round(np.append(rng.normal(10, 1, 19), 25.0), 3)
    huber = {
        "values": heavy.tolist(),
        "scatter": float(scale.mad(heavy)),
        "level": float(norms.estimate_location(heavy, scale.mad(heavy), norms.HuberT(1.345), tol=1e-12, maxiter=500)),
    }

    z = [-8.5, -5.0, -2.3, -0.4, 0.0, 1.2, 3.9]
    t = [(-30.0, 3), (-4.1, 8), (-0.7, 1), (0.3, 2), (2.2, 34), (5.5, 120)]
    reference = {
        "level": LEVEL,
        "complete": cases,
        "limited": below,
        "permuted": permuted,
        "kaplanMeier": meier,
        "steps": steps,
        "huber": huber,
        "normal": [[v, float(stats.norm.cdf(v))] for v in z],
        "normalQuantile": [[p, float(stats.norm.ppf(p))] for p in (1e-9, 0.004, 0.31, 0.5, 0.9, 0.9995)],
        "student": [[v, f, float(stats.t.cdf(v, f))] for v, f in t],
        "studentQuantile": [[p, f, float(stats.t.ppf(p, f))] for p, f in ((0.0005, 2), (0.05, 7), (0.95, 1), (0.975, 400))],
    }
    path = pathlib.Path(__file__).with_suffix(".json")
    path.write_text(json.dumps(reference, separators=(",", ":")) + "\n")


main()
