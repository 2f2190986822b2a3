"""Makes statistics-difference.json, reference numbers for packages/statistics/src/difference, with NumPy, SciPy and mpmath alone.

Run: python3 reference/statistics-difference.py

scipy.stats.ttest_ind(equal_var=False), ttest_rel, and permutation_test over all labellings or sign flips with |t| as statistic. Intervals by the
t quantile of mpmath. Data drawn (loads in N, shares in %), no person.
"""
import json
import pathlib

import mpmath as mp
import numpy as np
import scipy
from scipy import stats

mp.mp.dps = 30


def t_quantile(p, nu):
    upper = lambda t: mp.betainc(mp.mpf(nu) / 2, mp.mpf(1) / 2, 0, nu / (nu + t * t), regularized=True) / 2
    return float(mp.findroot(lambda t: upper(t) - (1 - mp.mpf(p)), float(stats.t.ppf(p, nu))))


def result(difference, se, nu, p):
    half = t_quantile(0.975, nu) * se
    return {"t": difference / se, "nu": nu, "p": p, "low": difference - half, "high": difference + half}


rng = np.random.default_rng(3)
pairs = []
for n_a, n_b, shift, ratio in ((5, 5, 2.0, 1), (6, 7, 0.3, 2), (7, 4, 3.0, 1)):
    a = np.round(rng.normal(72, 2, n_a), 2)
    b = np.round(rng.normal(72 + shift, 2 * ratio, n_b), 2)
    va, vb = a.var(ddof=1) / n_a, b.var(ddof=1) / n_b
    nu = (va + vb) ** 2 / (va**2 / (n_a - 1) + vb**2 / (n_b - 1))
    n = min(n_a, n_b)
    d = b[:n] - a[:n]
    welch_t = lambda x, y, axis: np.abs(stats.ttest_ind(x, y, equal_var=False, axis=axis).statistic)
    mean_t = lambda x, axis: np.abs(stats.ttest_1samp(x, 0, axis=axis).statistic)
    pairs.append({
        "a": a.tolist(), "b": b.tolist(),
        "welch": result(b.mean() - a.mean(), float(np.sqrt(va + vb)), nu, float(stats.ttest_ind(b, a, equal_var=False).pvalue)),
        "paired": result(d.mean(), float(d.std(ddof=1) / np.sqrt(n)), n - 1, float(stats.ttest_rel(b[:n], a[:n]).pvalue)),
        "tost": [
            {"margin": m, "pBMinusA": float(max(stats.ttest_ind(b + m, a, equal_var=False, alternative="greater").pvalue, stats.ttest_ind(b - m, a, equal_var=False, alternative="less").pvalue))}
            for m in (1.0, 3.0, 6.0)
        ],
        "permutationP": float(stats.permutation_test((a, b), welch_t, vectorized=True, n_resamples=np.inf, alternative="greater").pvalue),
        "signFlipP": float(stats.permutation_test((d,), mean_t, vectorized=True, permutation_type="samples", n_resamples=np.inf, alternative="greater").pvalue),
    })
out = {"source": f"NumPy {np.__version__}, SciPy {scipy.__version__}, mpmath {mp.__version__} by reference/statistics-difference.py", "pairs": pairs}
pathlib.Path(__file__).with_suffix(".json").write_text(json.dumps(out, indent=1) + "\n")
