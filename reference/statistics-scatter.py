"""Makes statistics-scatter.json, reference numbers for packages/statistics/src/scatter, with NumPy, SciPy and mpmath alone.

Run: python3 reference/statistics-scatter.py

Data invented (loads in N, shares in %, times in ms; no person). t quantiles refined by mpmath, since SciPy's own are good to 1e-9 only in some versions.
"""
import json
import math
import pathlib

import mpmath as mp
import numpy as np
import scipy
from scipy import stats

mp.mp.dps = 30


def t_quantile(p, nu):
    upper = lambda t: mp.betainc(mp.mpf(nu) / 2, mp.mpf(1) / 2, 0, nu / (nu + t * t), regularized=True) / 2
    return float(mp.findroot(lambda t: upper(t) - (1 - mp.mpf(p)), float(stats.t.ppf(p, nu))))


rng = np.random.default_rng(11)
bands = []
for n, centre, spread in ((5, 74.0, 3.0), (7, 640.0, 22.0), (9, 12.5, 1.1), (15, 230.0, 9.0)):
    x = np.round(rng.normal(centre, spread, n), 2)
    nu, s, t = n - 1, x.std(ddof=1), t_quantile(0.975, n - 1)
    low, high, upper = stats.chi2.ppf([0.975, 0.025, 0.2], nu)
    bands.append({
        "x": x.tolist(), "mean": x.mean(), "sd": s, "sdLow": s * math.sqrt(nu / low), "sdHigh": s * math.sqrt(nu / high),
        "bandLow": x.mean() - t * s * math.sqrt(1 + 1 / n), "bandHigh": x.mean() + t * s * math.sqrt(1 + 1 / n),
        "meanLow": x.mean() - t * s / math.sqrt(n), "cvPercent": 100 * math.sqrt(math.expm1(np.log(x).std(ddof=1) ** 2)),
        "mdcSingle": t * s * math.sqrt(2), "mdcMeansOf4": t * s * math.sqrt(0.5), "sdUpper80": s * math.sqrt(nu / upper),
        "toleranceFactor": math.sqrt(nu * (1 + 1 / n) * stats.norm.ppf(0.975) ** 2 / stats.chi2.ppf(0.05, nu)),
    })
out = {"source": f"NumPy {np.__version__}, SciPy {scipy.__version__}, mpmath {mp.__version__} by reference/statistics-scatter.py", "bands": bands}
pathlib.Path(__file__).with_suffix(".json").write_text(json.dumps(out, indent=1) + "\n")
