"""Makes statistics-association.json, reference numbers for packages/statistics/src/association, with NumPy and SciPy alone.

Run: python3 reference/statistics-association.py

spearman: scipy.stats.spearmanr, p by visiting every order. kendall: scipy.stats.kendalltau (tau-b; method="exact" without ties).
stratified: scipy.stats.spearmanr in each stratum, p by visiting every order within strata.
rankSum: scipy.stats.mannwhitneyu(method="exact") without ties, every labelling with ties; area U/(n1 n0);
limits: the roots by scipy.optimize.brentq of the equation of Newcombe 2006 (method 5 there, from memory).
firth: the penalised log-likelihood maximised by scipy.optimize.minimize without its gradient, limits by brentq on the profile; the two by two
table has a closed form besides: log odds ratio with one half added to each cell (Haldane 1956; Anscombe 1956, from memory).
bonettWright: rank correlation of 20 drawn pairs and its interval tanh(atanh(rho) -+ z sqrt((1 + rho^2/2)/(n - 3))), Bonett & Wright 2000.
rCheck: base R 4.2.2, cor.test(exact = TRUE), typed in. Data drawn or invented, no person.
"""
import itertools
import json
import math
import pathlib

import numpy as np
import scipy
from scipy import optimize, special, stats

rng = np.random.default_rng(11)


def every_order(x, y, score):
    observed = abs(score(x, y))
    hits = total = 0
    for order in itertools.permutations(range(len(y))):
        total += 1
        hits += abs(score(x, [y[k] for k in order])) >= observed - 1e-10
    return hits / total


def rank_pearson(x, y):
    return float(np.corrcoef(stats.rankdata(x), stats.rankdata(y))[0, 1])


spearman = []
for n, ties in ((5, False), (6, True), (7, True), (7, False)):
    x = rng.permutation(20)[:n].astype(float)
    y = np.round(0.2 * x + rng.normal(0, 1.5, n), 0 if ties else 5)
    spearman.append({"x": x.tolist(), "y": y.tolist(), "rho": float(stats.spearmanr(x, y).statistic), "p": every_order(x, y, rank_pearson)})
kendall = []
for n, ties in ((12, False), (25, False), (40, False), (11, True)):
    x = np.round(rng.normal(0, 2, n), 0 if ties else 6)
    y = np.round(0.4 * x + rng.normal(0, 1, n), 0 if ties else 6)
    got = stats.kendalltau(x, y, method="auto" if ties else "exact")
    kendall.append({"x": x.tolist(), "y": y.tolist(), "tauB": float(got.statistic), "p": None if ties else float(got.pvalue)})
x = np.round(rng.normal(0, 1.4, 20), 3)
y = np.round(0.8 * x + rng.normal(0, 0.6, 20), 3)
rho = float(stats.spearmanr(x, y).statistic)
half = stats.norm.ppf(0.975) * math.sqrt((1 + rho**2 / 2) / 17)
bonett_wright = {"x": x.tolist(), "y": y.tolist(), "rho": rho, "low": math.tanh(math.atanh(rho) - half), "high": math.tanh(math.atanh(rho) + half)}
strata = [([3, 1, 4, 2], [2, 1, 3, 3]), ([10, 30, 20, 25, 11], [5, 9, 6, 8, 7])]
sizes = [len(x) - 1 for x, _ in strata]
statistic = sum(m * stats.spearmanr(x, y).statistic for m, (x, y) in zip(sizes, strata))
per = [[m * rank_pearson(x, [y[k] for k in o]) for o in itertools.permutations(range(len(x)))] for m, (x, y) in zip(sizes, strata)]
sums = np.add.outer(per[0], per[1])
stratified = {
    "x": strata[0][0] + strata[1][0],
    "y": strata[0][1] + strata[1][1],
    "conditions": [0] * 4 + [1] * 5,
    "statistic": float(statistic),
    "p": float(np.mean(np.abs(sums) >= abs(statistic) - 1e-10)),
}


def newcombe(area, m, n):
    z = stats.norm.ppf(0.975)
    half = (m + n) / 2
    gap = lambda a: z * math.sqrt(a * (1 - a) * (1 + (half - 1) * ((1 - a) / (2 - a) + a / (1 + a))) / (m * n))
    low = optimize.brentq(lambda a: area - a - gap(a), 0, area - 1e-9 if area == 1 else area, xtol=1e-15) if area > 0 else 0.0
    high = optimize.brentq(lambda a: a - area - gap(a), area + 1e-9 if area == 0 else area, 1, xtol=1e-15) if area < 1 else 1.0
    return low, high


rank_sum = []
for m, n, ties in ((4, 5, False), (6, 9, False), (5, 7, True), (8, 20, False)):
    a = np.round(rng.normal(0.8, 1, m), 0 if ties else 4)
    b = np.round(rng.normal(0, 1, n), 0 if ties else 4)
    u = float(stats.mannwhitneyu(a, b).statistic)
    if ties:
        ranks = stats.rankdata(np.concatenate([a, b]))
        sums = [sum(c) for c in itertools.combinations(ranks, m)]
        centre = m * (m + n + 1) / 2
        p = float(np.mean(np.abs(np.array(sums) - centre) >= abs(ranks[:m].sum() - centre) - 1e-10))
    else:
        p = float(stats.mannwhitneyu(a, b, method="exact").pvalue)
    low, high = newcombe(u / (m * n), m, n)
    rank_sum.append({"positive": a.tolist(), "negative": b.tolist(), "area": u / (m * n), "p": p, "low": low, "high": high})
perfect = [{"area": area, "counts": [4, 5], "limits": newcombe(area, 4, 5)} for area in (0.0, 1.0)]


def firth(x, y):
    columns = np.column_stack([np.ones(len(x)), x])
    y = np.asarray(y, float)

    def loss(beta):
        eta = columns @ beta
        chance = special.expit(eta)
        information = columns.T @ (columns * (chance * (1 - chance))[:, None])
        return -(np.sum(y * eta - np.logaddexp(0, eta)) + np.linalg.slogdet(information)[1] / 2)

    tight = {"xatol": 1e-12, "fatol": 1e-14, "maxiter": 10000, "maxfev": 20000}
    best = optimize.minimize(loss, [0, 0], method="Nelder-Mead", options=tight)
    best = optimize.minimize(loss, best.x, method="Nelder-Mead", options=tight)
    profile = lambda b: optimize.minimize_scalar(lambda a: loss([a, b]), bracket=(best.x[0] - 1, best.x[0] + 1), tol=1e-12).fun
    chi_squared = 2 * (profile(0.0) - best.fun)
    cut = stats.chi2.ppf(0.95, 1) / 2
    edge = lambda b: profile(b) - best.fun - cut
    return {
        "x": list(map(float, x)),
        "y": y.tolist(),
        "intercept": float(best.x[0]),
        "slope": float(best.x[1]),
        "chiSquared": float(chi_squared),
        "p": float(stats.chi2.sf(chi_squared, 1)),
        "low": optimize.brentq(edge, best.x[1] - 20, best.x[1]),
        "high": optimize.brentq(edge, best.x[1], best.x[1] + 40),
    }


fits = [
    firth([-1.3, -0.9, -0.4, -0.2, 0.1, 0.5, 0.8, 1.1, 1.4, 0.3], [0, 0, 1, 0, 0, 1, 1, 0, 1, 1]),
    firth([-1.5, -1.1, -0.6, -0.3, 0.2, 0.6, 1.0, 1.7], [0, 0, 0, 0, 1, 1, 1, 1]),
]
table = {"x": [1] * 8 + [0] * 9, "y": [1] * 6 + [0] * 2 + [1] * 3 + [0] * 6, "slope": math.log(6.5 * 6.5 / (2.5 * 3.5))}
r_check = {"x": [1, 2, 3, 4, 5, 6, 7], "y": [3, 1, 4, 2, 6, 5, 7], "rho": 0.785714285714285, "pSpearman": 0.048015873015873, "tau": 0.619047619047619, "pKendall": 0.069047619047619}
out = {
    "source": f"NumPy {np.__version__}, SciPy {scipy.__version__} by reference/statistics-association.py; rCheck: R 4.2.2",
    "spearman": spearman,
    "kendall": kendall,
    "bonettWright": bonett_wright,
    "stratified": stratified,
    "rankSum": rank_sum,
    "perfect": perfect,
    "firth": fits,
    "table": table,
    "rCheck": r_check,
}
pathlib.Path(__file__).with_suffix(".json").write_text(json.dumps(out).replace("}, ", "},\n ") + "\n")
