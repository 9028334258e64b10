# The numpy side of the row "circulation": all cases at once, one array for each bin, and the same steps to the root.
import json
import resource
import sys
import time

import numpy as np

with open(sys.argv[1]) as file:
    job = json.load(file)
circuit, unsure, draws = job["circuit"], job["uncertainty"], job["draws"]
bins, channels = circuit["bins"], circuit["limited"]
ML_PER_L = 1000


def transmission(element, factor):
    def through(beta):
        return 1 / (1 + (beta - 1) * factor)

    above = element["above"]
    of_bin = (1 + above) * through(element["lower"]) - above * through(element["upper"])
    return np.minimum(1, np.maximum(through(element["least"]), of_bin))


def minutes_of(random):
    def factor(relative):
        return np.exp(np.sqrt(np.log1p(relative**2)) * random.standard_normal(draws))

    volume, flow, beta = factor(unsure["volume"]), factor(unsure["flow"]), factor(unsure["beta"])
    ingress, laboratory = factor(unsure["ingress"]), factor(unsure["laboratory"])
    flow *= circuit["flowLpm"]
    volume *= 1 + random.uniform(0, unsure["hoses"], draws)
    leakage = random.uniform(0, unsure["leakage"], draws)
    rates, starts = [], []
    for one in bins:
        (element,) = one["main"]
        rates.append((1 - leakage) * (1 - transmission(element, beta)))
        counted = random.standard_gamma(one["startPerMl"] * unsure["countedMl"] + 0.5, draws)
        starts.append(counted / unsure["countedMl"] * laboratory)
    passes = np.zeros(draws)
    for channel in channels:
        parts, floor = [], 0.0
        for index in range(channel["firstBin"], channel["endBin"]):
            inflow = channel["ingressPerMin"][index - channel["firstBin"]] * ingress / (flow * ML_PER_L)
            settled = inflow / rates[index]
            floor = floor + settled
            parts.append((starts[index] - settled, rates[index]))
        headroom = channel["limit"] - floor
        at = np.zeros(draws)
        reachable = headroom > 0
        with np.errstate(all="ignore"):
            for _ in range(60):
                falling, speed = 0.0, 0.0
                for above, rate in parts:
                    left = above * np.exp(-rate * at)
                    falling = falling + left
                    speed = speed + rate * left
                step = np.log(falling / headroom) * falling / speed
                step[~(reachable & (falling > headroom))] = 0
                at += step
                if not (step > 1e-12 * at).any():
                    break
        at[~reachable] = np.inf
        np.maximum(passes, at, out=passes)
    return passes * (circuit["volumeL"] * volume) / flow


def at_probability(minutes, probability):
    place = int(np.ceil(probability * (draws + 1))) - 1
    return float(np.partition(minutes, place)[place])


seconds, processor = [], []
for run in range(job["runs"] + 1):
    start, used = time.perf_counter(), time.process_time()
    minutes = minutes_of(np.random.default_rng(4))
    at_probability(minutes, job["probability"])
    if run > 0:
        seconds.append(time.perf_counter() - start)
        processor.append(time.process_time() - used)
spread = 4 * np.sqrt(2 * job["probability"] * (1 - job["probability"]) / draws)
answer = {
    "least": at_probability(minutes, job["probability"] - spread),
    "most": at_probability(minutes, job["probability"] + spread),
}
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e6
json.dump({"seconds": seconds, "processor": processor, "peakMb": peak, "answer": answer}, sys.stdout)
