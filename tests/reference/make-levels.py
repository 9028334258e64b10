"""Reference values for counting certainty, made with SciPy (Debian package python3-scipy).

Run from the root of the project:  python3 tests/reference/make-levels.py

The level behind a raw count is integrated here by adaptive quadrature, by another route than the library's: over the
laboratory factor always, with SciPy's incomplete gamma function.
"""
import json
import math
import pathlib

from scipy import __version__, integrate, special, stats

GAMMA_SHAPES = [0.5, 1, 1.5, 2.5, 10.5, 20, 75.5, 1000.5, 37500.5, 375000.5, 40000000.5]
PLACES = [0.01, 0.3, 0.9, 0.99, 0.9999, 1, 1.0001, 1.01, 1.1, 2, 5]
tails = [
    {"a": a, "x": a * f, "lower": special.gammainc(a, a * f), "upper": special.gammaincc(a, a * f)}
    for a in GAMMA_SHAPES
    for f in PLACES
]
# SciPy stops its series after 2000 terms, so that for the largest shape it is wrong far out in the tails.
quantiles = [
    {"a": a, "p": p, "x": special.gammaincinv(a, p)}
    for a in GAMMA_SHAPES[:-1]
    for p in [1e-10, 0.025, 0.5, 0.975, 1 - 1e-10]
]


def at_most(shape, log_sd, x):
    if log_sd == 0:
        return special.gammainc(shape, x)
    def part(z):
        return stats.norm.pdf(z) * special.gammainc(shape, x * math.exp(log_sd * z))
    turn = math.log(shape / x) / log_sd
    width = 1 / (log_sd * math.sqrt(shape))
    marks = [turn + k * width for k in (-12, -6, -3, -1, 0, 1, 3, 6, 12)]
    ends = sorted({-9.0, 9.0, *[m for m in marks if -9 < m < 9]})
    return sum(integrate.quad(part, a, b, epsabs=1e-13, epsrel=1e-12, limit=200)[0] for a, b in zip(ends, ends[1:]))


levels = [
    {"raw": raw, "rsd": rsd, "factor": f, "probability": at_most(raw + 0.5, math.sqrt(math.log1p(rsd**2)), (raw + 0.5) * f)}
    for raw in [0, 1, 3, 19, 75, 1000, 37500, 375000]
    for rsd in [0, 0.001, 0.02, 0.1, 0.3, 1.0, 3.0]
    for f in [0.5, 0.9, 1, 1.05, 1.5, 2]
]



def shared(channels, rsd, combine):
    log_sd = math.sqrt(math.log1p(rsd**2))
    def part(z):
        f = math.exp(log_sd * z)
        return stats.norm.pdf(z) * combine([special.gammainc(n + 0.5, limit * f) for n, limit in channels])
    marks = [math.log((n + 0.5) / limit) / log_sd + k / (log_sd * math.sqrt(n + 0.5)) for n, limit in channels for k in range(-8, 9)]
    ends = sorted({-9.0, 9.0, *[m for m in marks if -9 < m < 9]})
    return sum(integrate.quad(part, a, b, epsabs=1e-13, epsrel=1e-12, limit=400)[0] for a, b in zip(ends, ends[1:]))


together = [
    {
        "channels": [{"raw": n, "limit": limit} for n, limit in channels],
        "rsd": rsd,
        "product": shared(channels, rsd, math.prod),
        "least": shared(channels, rsd, min),
    }
    for channels in [
        [(3750, 4000), (1000, 1000), (75, 62.5)],
        [(375000, 400000), (30000, 32500), (1875, 2000)],
        [(20, 30), (5, 8), (0, 1)],
    ]
    for rsd in [0.02, 0.15, 0.5]
]

dispersion = []
for raw, volumes in [([96, 104], [25, 25]), ([80, 120, 100], [20, 20, 20]), ([50, 110, 95], [10, 20, 20]), ([9, 31, 14, 22], [5, 5, 5, 5])]:
    expected = [sum(raw) * v / sum(volumes) for v in volumes]
    result = stats.chisquare(raw, expected)
    dispersion.append({"raw": raw, "volumes": volumes, "probability": result.pvalue})

out = {"madeWith": f"scipy {__version__}", "tails": tails, "quantiles": quantiles, "levels": levels, "together": together, "dispersion": dispersion}
pathlib.Path(__file__).with_name("levels.json").write_text(json.dumps(out, indent=1) + "\n")
