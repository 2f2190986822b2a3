"""The lmm task with statsmodels, one thread, for comparison: python3 bench/peer_lmm.py DIR REPEAT

Prints one JSON object: versions, seconds of each run, the same checksums. Its optimiser stops earlier than ours: the variances then
agree to about 1e-6.
"""
import json
import os
import sys
import time
import warnings

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import numpy as np
import statsmodels
from statsmodels.regression.mixed_linear_model import MixedLM

warnings.simplefilter("ignore")
folder, repeat = sys.argv[1], int(sys.argv[2])
with open(os.path.join(folder, "manifest.json"), encoding="utf-8") as file:
    manifest = json.load(file)


def read(name):
    entry = manifest["files"][name]
    kind = {"f64": "<f8", "u16": "<u2"}[entry["type"]]
    return np.fromfile(os.path.join(folder, entry["path"]), dtype=kind).reshape(entry["shape"])


values, player, condition = read("values"), read("player"), read("condition")


def once():
    columns = np.column_stack([np.ones(len(player))] + [(condition == c).astype(float) for c in range(1, manifest["params"]["conditions"])])
    fixed = of_player = residual = 0.0
    for y in values:
        fit = MixedLM(y, columns, groups=player).fit(reml=True)
        fixed += float(np.sum(fit.fe_params))
        of_player += float(np.asarray(fit.cov_re)[0, 0])
        residual += float(fit.scale)
    return {"sum_fixed": fixed, "sum_player_variance": of_player, "sum_residual_variance": residual}


checksum = once()
seconds = []
for _ in range(repeat):
    start = time.perf_counter()
    checksum = once()
    seconds.append(time.perf_counter() - start)
print(json.dumps({"peer": f"statsmodels {statsmodels.__version__}", "seconds_all": seconds, "checksum": checksum}))
