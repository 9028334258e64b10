# The n log n side of the row "trend": the slope as Sen defines it (J. Am. Stat. Assoc. 63 (1968) 1379), the root of
# Kendall's tau between x and y - slope * x. scipy counts the pairs in n log n (Knight, J. Am. Stat. Assoc. 61 (1966) 436)
# and finds the roots; the ends of the interval are the roots at the critical values of tau.
import json
import math
import resource
import sys
import time

import numpy as np
from scipy import optimize, stats

with open(sys.argv[1]) as file:
    job = json.load(file)
x = np.array([point["x"] for point in job["many"]])
y = np.array([point["y"] for point in job["many"]])


def slope_and_interval():
    n = len(x)
    critical = stats.norm.ppf((1 + job["level"]) / 2) * math.sqrt(2 * (2 * n + 5) / (9 * n * (n - 1)))

    def slope_at(tau):
        def away(slope):
            return stats.kendalltau(x, y - slope * x).statistic - tau

        reach = np.std(y) / np.std(x)
        while away(-reach) < 0 or away(reach) > 0:
            reach *= 4
        return optimize.brentq(away, -reach, reach, xtol=1e-15, rtol=1e-13)

    return slope_at(0.0), slope_at(critical), slope_at(-critical)


seconds, processor = [], []
for run in range(job["runs"] + 1):
    start, used = time.perf_counter(), time.process_time()
    slope, low, high = slope_and_interval()
    if run > 0:
        seconds.append(time.perf_counter() - start)
        processor.append(time.process_time() - used)
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e6
json.dump(
    {
        "seconds": seconds,
        "processor": processor,
        "peakMb": peak,
        "answer": {"slope": slope, "low": low, "high": high},
    },
    sys.stdout,
)
