"""Makes statistics-trend.json, reference numbers for packages/statistics/src/trend, with NumPy and SciPy alone.

Run: python3 reference/statistics-trend.py

kendall: scipy.stats.kendalltau(method="exact"), the score by counting pairs. theilSen: scipy.stats.theilslopes. Data drawn, no person.
norris: data and certified values of NIST's Statistical Reference Datasets, linear regression, set Norris, read from the copy that SciPy ships
with its tests where that is installed, else kept from the file beside this script.
"""
import json
import pathlib

import numpy as np
import scipy
from scipy import stats

target = pathlib.Path(__file__).with_suffix(".json")
rng = np.random.default_rng(5)
kendall, theil = [], []
for n in (4, 5, 7, 9, 12, 20, 30):
    x = np.sort(rng.choice(200, n, replace=False)).astype(float)
    y = np.round(0.02 * x + rng.normal(0, 1, n), 6)
    upper = np.triu_indices(n, 1)
    score = float(np.sign(np.subtract.outer(x, x))[upper] @ np.sign(np.subtract.outer(y, y))[upper])
    kendall.append({"x": x.tolist(), "y": y.tolist(), "score": score, "p": stats.kendalltau(x, y, method="exact").pvalue})
    theil.append({"x": x.tolist(), "y": y.tolist(), "slope": float(stats.theilslopes(y, x)[0])})
shipped = pathlib.Path(stats.__file__).parent / "tests/data/nist_linregress/Norris.dat"
if shipped.exists():
    rows = [line.split() for line in shipped.read_text().splitlines()[60:]]
    data = np.array([[float(v) for v in row] for row in rows if len(row) == 2])
    norris = {"x": data[:, 1].tolist(), "y": data[:, 0].tolist()}
    # Certified values as the file prints them (NIST StRD, Norris).
    norris["certified"] = {"b0": -0.262323073774029, "seB0": 0.232818234301152, "b1": 1.00211681802045, "seB1": 0.429796848199937e-3, "residualSd": 0.884796396144373}
else:
    norris = json.loads(target.read_text())["norris"]
out = {"source": f"NumPy {np.__version__}, SciPy {scipy.__version__} by reference/statistics-trend.py; Norris: NIST StRD", "kendall": kendall, "theilSen": theil, "norris": norris}
target.write_text(json.dumps(out).replace("}, ", "},\n ") + "\n")
