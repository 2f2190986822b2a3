"""The chain task with SciPy and NumPy, one thread, for comparison: python3 bench/peer_chain.py DIR REPEAT

Prints one JSON object: versions, seconds of each run, the same checksums. Trials are filtered one by one, all twelve channels
at once: faster than all trials in one call, which leaves the cache.
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
from scipy.integrate import cumulative_trapezoid
from scipy.signal import butter, filtfilt

folder, repeat = sys.argv[1], int(sys.argv[2])
with open(os.path.join(folder, "manifest.json"), encoding="utf-8") as file:
    manifest = json.load(file)
params = manifest["params"]
entry = manifest["files"]["signals"]
signals = np.fromfile(os.path.join(folder, entry["path"]), dtype="<f8").reshape(entry["shape"])
rate, quiet, gravity = params["rateHz"], params["quietSamples"], params["gravity"]
centres = params["plateCentres"]
b, a = butter(2, params["cutoffHz"] / (math.sqrt(2) - 1) ** 0.25 / (rate / 2))


def chain():
    peaks, samples, last, ranges, masses = [], [], [], [], []
    for trial in signals:
        f = filtfilt(b, a, trial, axis=-1)
        plates = [f[:6], f[6:]]
        places = [(o[0] - p[4] / p[2], o[1] + p[3] / p[2]) for p, o in zip(plates, centres)]
        force = plates[0][:3] + plates[1][:3]
        px, py = ((plates[0][2] * places[0][k] + plates[1][2] * places[1][k]) / force[2] for k in (0, 1))
        torque = sum(p[5] + (o[0] - px) * p[1] - (o[1] - py) * p[0] for p, o in zip(plates, centres))
        at_rest = force[:, :quiet].mean(axis=1, keepdims=True)
        mass = at_rest[2, 0] / gravity
        speed = cumulative_trapezoid((force - at_rest) / mass, dx=1 / rate, axis=-1, initial=0)
        travel = cumulative_trapezoid(speed, dx=1 / rate, axis=-1, initial=0)
        curves = np.vstack([force, torque, speed, travel])
        at = curves.argmax(axis=1)
        peaks.append(curves[np.arange(10), at])
        samples.append(at)
        last.append(travel[:, -1])
        ranges.append([np.ptp(v) for v in (*places[0], *places[1], px, py)])
        masses.append(mass)
    return peaks, samples, last, ranges, masses


chain()
seconds = []
for _ in range(repeat):
    start = time.perf_counter()
    result = chain()
    seconds.append(time.perf_counter() - start)
peaks, samples, last, ranges, masses = (np.array(part, dtype=float).ravel() for part in result)
print(json.dumps({
    "peer": f"SciPy {scipy.__version__}, NumPy {np.__version__}",
    "seconds_all": seconds,
    "checksum": {
        "sum_peaks": math.fsum(peaks),
        "sum_peak_times": math.fsum(samples) / rate,
        "sum_final_displacement": math.fsum(last),
        "sum_abs_final_displacement": math.fsum(abs(last)),
        "sum_cop_ranges": math.fsum(ranges),
        "sum_mass": math.fsum(masses),
    },
}))
