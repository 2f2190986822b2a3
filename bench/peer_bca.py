"""The bca task with NumPy and SciPy, one thread, for comparison: python3 bench/peer_bca.py DIR REPEAT

Prints one JSON object: versions, seconds of each run, the same checksums. The fastest form known here: how often each shot is in each
resample, all resampled means by one matrix product, only the two wanted places put in order.
"""
import json
import math
import os
import sys
import time

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import numpy as np
import scipy
from scipy.special import ndtr, ndtri

folder, repeat = sys.argv[1], int(sys.argv[2])
with open(os.path.join(folder, "manifest.json"), encoding="utf-8") as file:
    manifest = json.load(file)
params = manifest["params"]


def load(name, dtype):
    entry = manifest["files"][name]
    return np.fromfile(os.path.join(folder, entry["path"]), dtype=dtype).reshape(entry["shape"])


values, indices = load("values", "<f8"), load("indices", "<u2")
n_a, n_b = params["nA"], params["nB"]


def bca():
    count, resamples = n_a + n_b, params["resamples"]
    at = indices.astype(np.intp)
    at[:, n_a:] += n_a
    at += count * np.arange(resamples)[:, None]
    weights = np.bincount(at.ravel(), minlength=resamples * count).reshape(resamples, count).astype(float)
    weights[:, :n_a] /= n_a
    weights[:, n_a:] /= -n_b
    found = values @ weights.T
    a, b = values[:, :n_a], values[:, n_a:]
    theta = a.mean(axis=1) - b.mean(axis=1)
    z0 = ndtri((found < theta[:, None]).mean(axis=1))
    u = np.hstack([(a - a.mean(axis=1, keepdims=True)) / n_a, -(b - b.mean(axis=1, keepdims=True)) / n_b])
    u2 = u * u
    skew = (u2 * u).sum(axis=1) / (6 * u2.sum(axis=1) ** 1.5)
    limits = []
    for z in (-ndtri((1 + params["level"]) / 2), ndtri((1 + params["level"]) / 2)):
        place = ndtr(z0 + (z0 + z) / (1 - skew * (z0 + z))) * (resamples - 1)
        limits.append(place)
    low = np.floor(limits).astype(int)
    out = np.empty((2, len(values)))
    for m, row in enumerate(found):
        ranks = (low[0, m], min(low[0, m] + 1, resamples - 1), low[1, m], min(low[1, m] + 1, resamples - 1))
        row.partition(sorted(set(ranks)))
        for side in (0, 1):
            share = limits[side][m] - low[side, m]
            out[side, m] = row[ranks[2 * side]] + share * (row[ranks[2 * side + 1]] - row[ranks[2 * side]])
    return out


bca()
seconds = []
for _ in range(repeat):
    start = time.perf_counter()
    limits = bca()
    seconds.append(time.perf_counter() - start)
lower, upper = math.fsum(limits[0]), math.fsum(limits[1])
print(json.dumps({
    "peer": f"NumPy {np.__version__}, SciPy {scipy.__version__}",
    "seconds_all": seconds,
    "checksum": {"sum_lower": lower, "sum_upper": upper, "sum_limits": lower + upper},
}))
