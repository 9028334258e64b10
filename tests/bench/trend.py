# The scipy side of the row "trend". The ends of the interval are given with the neighbouring slopes on either side.
import json
import resource
import sys
import time

import numpy as np
from scipy import stats

with open(sys.argv[1]) as file:
    job = json.load(file)
x = np.array([point["x"] for point in job["few"]])
y = np.array([point["y"] for point in job["few"]])
seconds, processor = [], []
for run in range(job["runs"] + 1):
    start, used = time.perf_counter(), time.process_time()
    line = stats.theilslopes(y, x, job["level"])
    if run > 0:
        seconds.append(time.perf_counter() - start)
        processor.append(time.process_time() - used)
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e6
earlier, later = np.triu_indices(len(x), 1)
slopes = np.sort((y[later] - y[earlier]) / (x[later] - x[earlier]))


def beside(slope):
    at = int(np.searchsorted(slopes, slope))
    return slopes[max(at - 1, 0) : at + 2].tolist()


json.dump(
    {
        "seconds": seconds,
        "processor": processor,
        "peakMb": peak,
        "answer": {"slope": line.slope, "low": beside(line.low_slope), "high": beside(line.high_slope)},
    },
    sys.stdout,
)
