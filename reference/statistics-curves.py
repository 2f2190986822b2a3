"""Makes statistics-curves.json, reference numbers for whole curves and several conditions, with NumPy and SciPy alone.

Run: python3 reference/statistics-curves.py

Every labelling is visited one by one: scipy.stats.ttest_ind (equal_var=False) and ttest_1samp for t, f_oneway for F, with equal_var=False for
Welch's F, scipy.ndimage.label for clusters, BarycentricInterpolator through four samples and numpy.interp for registration. t of the floored
case from NumPy's variances. Curves drawn (loads in N), no person.
"""
import itertools
import json
import pathlib

import numpy as np
import scipy
from scipy import interpolate, ndimage, optimize, stats

rng = np.random.default_rng(11)
TIE = 1e-9


def smooth(count, points, width):
    kernel = np.exp(-0.5 * (np.arange(-3 * width, 3 * width + 1) / width) ** 2)
    noise = rng.normal(size=(count, points + 6 * width))
    return np.array([np.convolve(row, kernel / np.sqrt((kernel**2).sum()), "valid") for row in noise])


def threshold(maxima):
    return float(np.sort(maxima)[len(maxima) - int(np.floor(0.05 * len(maxima) + 1e-9)) - 1])


def adjusted(maxima, t):
    return [float(np.mean(maxima >= abs(one) * (1 - TIE))) for one in t]


def masses(t, forming):
    found = []
    for sign in (1, -1):
        labels, count = ndimage.label(sign * t > forming)
        found += [(int(np.flatnonzero(labels == k)[0]), int(np.flatnonzero(labels == k)[-1]), sign, float(np.abs(t[labels == k]).sum())) for k in range(1, count + 1)]
    return sorted(found)


def summary(all_t, observed, nu):
    maxima = np.abs(all_t).max(axis=1)
    forming = optimize.brentq(lambda t: stats.t.sf(t, nu) - 0.025, 1, 20, xtol=1e-13, rtol=1e-14)
    largest = np.array([max([m[3] for m in masses(t, forming)], default=0.0) for t in all_t])
    return {
        "t": observed.tolist(), "threshold": threshold(maxima), "adjusted": adjusted(maxima, observed), "countArrangements": len(all_t),
        "clusters": [{"firstPoint": a, "lastPoint": b, "sign": s, "mass": m, "p": float(np.mean(largest >= m * (1 - TIE)))} for a, b, s, m in masses(observed, forming)],
    }


def two(a, b, sigma):
    both, n_a, n_b = np.vstack([a, b]), len(a), len(b)
    floor = sigma**2 * (1 / n_a + 1 / n_b)

    def t_of(chosen):
        mask = np.zeros(n_a + n_b, bool)
        mask[list(chosen)] = True
        x, y = both[mask], both[~mask]
        if sigma == 0:
            return stats.ttest_ind(y, x, equal_var=False).statistic
        return (y.mean(0) - x.mean(0)) / np.sqrt(x.var(0, ddof=1) / n_a + y.var(0, ddof=1) / n_b + floor)

    all_t = np.array([t_of(c) for c in itertools.combinations(range(n_a + n_b), n_a)])
    return {"a": a.tolist(), "b": b.tolist(), "sigma": sigma, **summary(all_t, t_of(range(n_a)), n_a + n_b - 2)}


def roughness(x):
    u = x - x.mean(0)
    u = u / np.sqrt((u**2).sum(0))
    return float(np.sqrt((np.diff(u, axis=1) ** 2).sum(0)).sum())


def band(a, b):
    va, vb = a.var(0, ddof=1) / len(a), b.var(0, ddof=1) / len(b)
    nu = float(((va + vb) ** 2 / (va**2 / (len(a) - 1) + vb**2 / (len(b) - 1))).mean())
    weights = (len(a) - 1, len(b) - 1)
    rough = (weights[0] * roughness(a) + weights[1] * roughness(b)) / sum(weights)
    chance = lambda c: 2 * (stats.t.sf(c, nu) + rough / (2 * np.pi) * (1 + c * c / nu) ** (-(nu - 1) / 2)) - 0.05
    c = optimize.brentq(chance, 1, 1000, xtol=1e-13, rtol=1e-14)
    return {"nu": nu, "roughness": rough, "factor": c, "low": (b.mean(0) - a.mean(0) - c * np.sqrt(va + vb)).tolist()}


points = 24
bump = 4 * np.exp(-0.5 * ((np.arange(points) - 15) / 3) ** 2)
even = (np.round(400 + smooth(5, points, 2), 3), np.round(400 + smooth(5, points, 2) + bump, 3))
odd = (np.round(smooth(4, points, 2), 3), np.round(2 * smooth(6, points, 2) + bump, 3))
d = np.round(smooth(7, points, 2) + bump / 2, 3)
signs = np.array(list(itertools.product((1, -1), repeat=7)))
flipped = np.array([stats.ttest_1samp(s[:, None] * d, 0).statistic for s in signs])

three = np.round(np.vstack([smooth(3, points, 2), smooth(3, points, 2) + bump / 2, smooth(2, points, 2)]), 3)
groups = [0, 0, 0, 1, 1, 1, 2, 2]
f_of = lambda g: stats.f_oneway(*[three[np.array(g) == k] for k in range(3)]).statistic
all_f = np.array([f_of(g) for g in sorted(set(itertools.permutations(groups)))])
observed_f = f_of(groups)

means = [np.round(rng.normal(m, s, n), 2).tolist() for m, s, n in ((70, 2, 6), (72, 5, 5), (73, 1, 7))]
welch = stats.f_oneway(*means, equal_var=False)

samples = np.round(np.sin(np.arange(60) / 7) + 0.1 * rng.normal(size=60), 4)
own, target, at = [120.0, 400.0, 555.0], [100.0, 410.0, 600.0], np.linspace(100, 600, 26)
read = np.interp(at, target, own)
firsts = np.clip(np.floor(read / 10).astype(int) - 1, 0, 56)
cubic = [float(interpolate.BarycentricInterpolator(np.arange(f, f + 4), samples[f : f + 4])(r / 10)) for f, r in zip(firsts, read)]

out = {
    "source": f"NumPy {np.__version__}, SciPy {scipy.__version__} by reference/statistics-curves.py",
    "twoConditions": [two(*even, 0), two(*odd, 0), two(*odd, 0.5)],
    "bands": [{"case": 0, **band(*even)}, {"case": 1, **band(*odd)}],
    "pairs": {"differences": d.tolist(), **summary(flipped, flipped[0], 6)},
    "threeConditions": {
        "values": three.tolist(), "groups": groups, "f": observed_f.tolist(), "threshold": threshold(all_f.max(axis=1)),
        "adjusted": adjusted(all_f.max(axis=1), observed_f), "countArrangements": len(all_f),
    },
    "welchF": {"groups": means, "f": float(welch.statistic), "p": float(welch.pvalue)},
    "registration": {"samples": samples.tolist(), "rateHz": 100, "ownMs": own, "targetMs": target, "readAtMs": read.tolist(), "values": cubic},
}
pathlib.Path(__file__).with_suffix(".json").write_text(json.dumps(out, indent=1) + "\n")
