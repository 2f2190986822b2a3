"""Makes compare.json, a worked example for packages/compare with NumPy and SciPy alone.

Run: python3 reference/compare.py

Two conditions on two lies, three measures, 7 and 6 shots, all invented. scipy.stats.ttest_ind(equal_var=False) with its confidence interval;
scipy.stats.permutation_test over all C(13, 6) labellings with |Welch's t| as statistic; step-down max-T (Westfall & Young 1993) counted here over
the same labellings; scipy.stats.false_discovery_control (Benjamini & Hochberg); limits of Hedges' g by scipy.stats.nct and brentq.
"""
import itertools
import json
import math
import pathlib

import numpy as np
import scipy
from scipy import optimize, special, stats

rng = np.random.default_rng(11)
nA, nB = 7, 6
share = 40.0
common = rng.normal(size=nA + nB)
names = ["both.target.peak turf", "lead.share.at.impact", "both.turn.peak"]
raw = {
    # The slope's share stands in every shot of B, and the player adds 20 N to it.
    names[0]: np.concatenate([150 + 8 * common[:nA], 150 + share + 20 + 8 * common[nA:]]),
    names[1]: 74 + 3 * (0.6 * common + 0.8 * rng.normal(size=nA + nB)) + np.repeat([0.0, 3.0], [nA, nB]),
    names[2]: 18 + 2 * rng.normal(size=nA + nB),
}
shares = {names[0]: [0.0] * nA + [share] * nB}
freed = {name: values - np.array(shares.get(name, [0.0] * (nA + nB))) for name, values in raw.items()}


def abs_t(a, b, axis=-1):
    t = stats.ttest_ind(b, a, equal_var=False, axis=axis).statistic
    return np.abs(t)


def hedges(a, b):
    nu = len(a) + len(b) - 2
    pooled = math.sqrt(((len(a) - 1) * a.var(ddof=1) + (len(b) - 1) * b.var(ddof=1)) / nu)
    unit = math.sqrt(1 / len(a) + 1 / len(b))
    j = math.exp(special.gammaln(nu / 2) - special.gammaln((nu - 1) / 2)) / math.sqrt(nu / 2)
    d = (b.mean() - a.mean()) / pooled
    at = lambda p: optimize.brentq(lambda delta: stats.nct.cdf(d / unit, nu, delta) - p, d / unit - 8, d / unit + 8, xtol=1e-12)
    return [j * d, j * at(0.975) * unit, j * at(0.025) * unit]


labellings = list(itertools.combinations(range(nA + nB), nB))
t_of = {name: [] for name in names}
for chosen in labellings:
    mask = np.zeros(nA + nB, bool)
    mask[list(chosen)] = True
    for name in names:
        t_of[name].append(float(abs_t(freed[name][~mask], freed[name][mask])))
observed = {name: float(abs_t(freed[name][:nA], freed[name][nA:])) for name in names}
order = sorted(names, key=lambda name: -observed[name])
adjusted, reached = {}, 0.0
for r, name in enumerate(order):
    largest = np.max([t_of[other] for other in order[r:]], axis=0)
    reached = max(reached, float(np.mean(largest >= observed[name] - 1e-10)))
    adjusted[name] = reached

rows = {}
for name in names:
    a, b = freed[name][:nA], freed[name][nA:]
    test = stats.ttest_ind(b, a, equal_var=False)
    interval = test.confidence_interval(0.95)
    permuted = stats.permutation_test((a, b), abs_t, vectorized=True, n_resamples=np.inf, alternative="greater")
    rows[name] = {
        "raw": raw[name].tolist(),
        "slopeShare": shares.get(name),
        "difference": float(b.mean() - a.mean()),
        "low": float(interval.low),
        "high": float(interval.high),
        "nu": float(test.df),
        "welchP": float(test.pvalue),
        "p": float(permuted.pvalue),
        "adjustedP": adjusted[name],
        "g": hedges(a, b),
    }
q = stats.false_discovery_control([rows[name]["p"] for name in names], method="bh")
for name, one in zip(names, q):
    rows[name]["q"] = float(one)

out = {
    "what": "Condition against condition by measure: a worked example of two lies, invented shots.",
    "source": f"SciPy {scipy.__version__}, NumPy {np.__version__}; generator reference/compare.py",
    "nA": nA,
    "nB": nB,
    "countArrangements": len(labellings),
    "measures": rows,
}
pathlib.Path(__file__).with_suffix(".json").write_text(json.dumps(out, indent=1) + "\n")
