"""The maxt task with NumPy, one thread, for comparison: python3 bench/peer_maxt.py DIR REPEAT

Prints one JSON object: versions, seconds of each run, the same checksums. The fastest form known here: centred curves scaled at each
point so that the group sum alone orders |t|, all group sums by one matrix product.
"""
import json
import math
import os
import sys
import time

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import numpy as np

folder, repeat = sys.argv[1], int(sys.argv[2])
with open(os.path.join(folder, "manifest.json"), encoding="utf-8") as file:
    manifest = json.load(file)
params = manifest["params"]


def load(name, dtype):
    entry = manifest["files"][name]
    return np.fromfile(os.path.join(folder, entry["path"]), dtype=dtype).reshape(entry["shape"])


curves = load("curves", "<f8")
permutations = load("permutations", "<u2")
n_a, n_b = params["nA"], params["nB"]


def max_t():
    n = n_a + n_b
    labels = np.zeros(permutations.shape)
    np.put_along_axis(labels, permutations[:, :n_a].astype(np.intp), 1.0, axis=1)
    centred = curves - curves.mean(axis=0)
    scale = np.sqrt(n / (n_a * n_b) / (centred * centred).sum(axis=0))
    correlation = labels @ (centred * scale)
    largest = np.maximum(correlation.max(axis=1), -correlation.min(axis=1))
    maxima = largest * np.sqrt((n - 2) / (1 - largest * largest))
    return maxima, np.quantile(maxima, params["quantile"])


max_t()
seconds = []
for _ in range(repeat):
    start = time.perf_counter()
    maxima, threshold = max_t()
    seconds.append(time.perf_counter() - start)
print(json.dumps({
    "peer": f"NumPy {np.__version__}",
    "seconds_all": seconds,
    "checksum": {"threshold": float(threshold), "sum_maxima": math.fsum(maxima), "observed": float(maxima[0])},
}))
