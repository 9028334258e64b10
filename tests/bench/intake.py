# The pandas side of the row "intake": a plain script that reads the file and makes the ISO 4406 codes.
import json
import resource
import sys
import time

import numpy as np
import pandas as pd

UPPER = np.array(
    [0.01, 0.02, 0.04, 0.08, 0.16, 0.32, 0.64, 1.3, 2.5, 5, 10, 20, 40, 80, 160, 320, 640, 1300, 2500, 5000]
    + [10_000, 20_000, 40_000, 80_000, 160_000, 320_000, 640_000, 1_300_000, 2_500_000]
)

with open(sys.argv[1]) as file:
    job = json.load(file)


def read():
    frame = pd.read_csv(job["file"])
    counts = [frame[f"{size} µm(c) per mL"].to_numpy() for size in (4, 6, 14, 21)]
    possible = (counts[0] >= counts[1]) & (counts[1] >= counts[2]) & (counts[2] >= counts[3])
    places = [pd.Series(np.searchsorted(UPPER, column[possible])).astype(str) for column in counts[:3]]
    return places[0] + "/" + places[1] + "/" + places[2]


seconds, processor = [], []
for run in range(job["runs"] + 1):
    start, used = time.perf_counter(), time.process_time()
    codes = read()
    if run > 0:
        seconds.append(time.perf_counter() - start)
        processor.append(time.process_time() - used)
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e6
json.dump(
    {
        "seconds": seconds,
        "processor": processor,
        "peakMb": peak,
        "answer": {"samples": len(codes), "codes": {code: int(count) for code, count in codes.value_counts().items()}},
    },
    sys.stdout,
)
