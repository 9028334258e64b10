"""Reference values for the distributions, made with mpmath 1.3.0 in 400 digits.

Run from the root of the project:  python3 tests/reference/make-numeric.py

The gamma and beta functions are summed as series here; the library works by continued fractions wherever it can.
"""
import json
import pathlib

from mpmath import erfc, exp, findroot, log, loggamma, mp, mpf, sqrt

mp.dps = 400
ENOUGH = mpf(10) ** -398


def normal(z):
    return erfc(-mpf(z) / sqrt(2)) / 2


def normal_quantile(p):
    return findroot(lambda z: log(normal(z) / mpf(p)), -sqrt(-2 * log(mpf(p))))


def gamma_lower(a, x):
    a, x = mpf(a), mpf(x)
    term = total = 1 / a
    n = 1
    while term > total * ENOUGH:
        term *= x / (a + n)
        total += term
        n += 1
    return total * exp(a * log(x) - x - loggamma(a))


def beta_lower(x, a, b):
    x, a, b = mpf(x), mpf(a), mpf(b)
    term = total = 1 / a
    n = 0
    while term > total * ENOUGH:
        term *= (a + b + n) / (a + 1 + n) * x
        total += term
        n += 1
    return total * exp(a * log(x) + b * log(1 - x) + loggamma(a + b) - loggamma(a) - loggamma(b))


def student(t, f):
    x = mpf(f) / (mpf(f) + mpf(t) ** 2)
    half = mpf(f) / 2
    tail = beta_lower(x, half, 0.5) / 2 if x < 0.9 else (1 - beta_lower(1 - x, 0.5, half)) / 2
    return 1 - tail if t > 0 else tail


DEVIATIONS = [-37, -30, -20, -10, -8, -7.2, -7, -6, -5, -4, -3.01, -3, -2.99, -2, -1, -0.1, 0, 0.5, 1, 2, 3, 5, 8]
PROBABILITIES = [1e-300, 1e-100, 1e-20, 1e-10, 1e-6, 0.001, 0.025, 0.05, 0.1, 0.25, 0.4, 0.49]
PLACES = [0.3, 0.8, 0.97, 1, 1.02, 1.3, 2]
BETAS = [
    (0.1, 0.5, 0.5), (1e-6, 0.5, 0.5), (0.5, 2, 3), (0.9, 2, 0.5), (0.01, 25, 1), (0.3, 25, 70), (0.2, 25, 71),
    (0.001, 25, 20001), (0.0013, 25, 20001), (0.00125, 25, 400001),
]
gammas = [(a, a * place) for a in [0.5, 1, 2.5, 10.5, 100.5, 1000.5, 5000.5] for place in PLACES]
values = {
    "normal": [[z, float(normal(z))] for z in DEVIATIONS],
    "normalQuantile": [[p, float(normal_quantile(p))] for p in PROBABILITIES],
    "gamma": [[a, x, float(gamma_lower(a, x)), float(1 - gamma_lower(a, x))] for a, x in gammas],
    "beta": [[x, a, b, float(beta_lower(x, a, b)), float(1 - beta_lower(x, a, b))] for x, a, b in BETAS],
    "student": [
        [t, f, float(student(t, f))]
        for f in [1, 2, 5, 30, 100, 1000]
        for t in [-50, -10, -5, -1.7, -1, -0.1, 0.5, 2]
    ],
}
pathlib.Path(__file__).with_name("numeric.json").write_text(json.dumps(values) + "\n")
