"""Makes statistics-distributions.json, the reference numbers for packages/statistics/src/distributions, with mpmath alone.

Run: python3 reference/statistics-distributions.py   (mpmath 1.3.0, 40 digits; written with 17)

Distributions by mpmath's betainc, gammainc and ncdf; quantiles by its root finder on those; noncentral t by adaptive quadrature of
the definition, an integral of the normal distribution over the chi distribution. Nothing here is taken from Underfoot.
"""
import json
import pathlib

import mpmath as mp

mp.mp.dps = 40


def t_upper(t, nu):
    t, nu = mp.mpf(t), mp.mpf(nu)
    half = mp.betainc(nu / 2, mp.mpf(1) / 2, 0, nu / (nu + t * t), regularized=True) / 2
    return half if t >= 0 else 1 - half


def f_upper(f, a, b):
    f, a, b = map(mp.mpf, (f, a, b))
    return mp.betainc(b / 2, a / 2, 0, b / (b + a * f), regularized=True)


def chi_upper(x, nu):
    return mp.gammainc(mp.mpf(nu) / 2, mp.mpf(x) / 2, mp.inf, regularized=True)


def rising_root(f, low, high):
    """f rises and passes 0 between low and high: halving on a logarithmic or linear scale until 30 digits stand."""
    for _ in range(140):
        middle = mp.sqrt(low * high) if low > 0 else (low + high) / 2
        if f(middle) < 0:
            low = middle
        else:
            high = middle
    return low


def t_quantile(p, nu):
    """p > 1/2"""
    q = 1 - mp.mpf(p)
    return rising_root(lambda t: q - t_upper(t, nu), mp.mpf("1e-6"), mp.mpf("1e14"))


def f_quantile(p, a, b):
    return rising_root(lambda x: (1 - mp.mpf(p)) - f_upper(x, a, b), mp.mpf("1e-30"), mp.mpf("1e14"))


def chi_quantile(p, nu):
    return rising_root(lambda x: (1 - mp.mpf(p)) - chi_upper(x, nu), mp.mpf("1e-30"), mp.mpf("1e6"))


def noncentral(t, nu, delta):
    t, nu, delta = map(mp.mpf, (t, nu, delta))
    log_k = mp.log(2) + nu / 2 * mp.log(nu / 2) - mp.loggamma(nu / 2)
    h = lambda u: mp.exp(log_k + (nu - 1) * mp.log(u) - nu * u * u / 2)
    top = 1 + 14 / mp.sqrt(nu)
    return mp.quad(lambda u: mp.ncdf(t * u - delta) * h(u), [0, mp.mpf(1) / 2, mp.mpf(3) / 4, 1, mp.mpf(5) / 4, mp.mpf(3) / 2, 2, 3, max(top, 4)])


NUS = (1, 2, 2.7, 4, 9, 22.3, 58, 100, 1000, 100000)
PS = (0.55, 0.7, 0.9, 0.95, 0.975, 0.995, 0.999, 0.999999)
out = {
    "source": "mpmath %s, 40 digits, by reference/statistics-distributions.py" % mp.__version__,
    "t": [{"nu": nu, "t": t, "upper": t_upper(t, nu)} for nu in NUS for t in (0.001, 0.1, 1, 2.5, 5, 20)],
    "tQuantile": [{"nu": nu, "p": p, "t": t_quantile(p, nu)} for nu in NUS for p in PS],
    "normal": [{"z": z, "upper": (1 - mp.ncdf(z)) if z < 2 else mp.erfc(mp.mpf(z) / mp.sqrt(2)) / 2} for z in (0.01, 0.5, 1, 1.96, 2.999, 3.001, 5, 8, 20)],
    "normalQuantile": [{"p": p, "z": mp.sqrt(2) * mp.erfinv(2 * mp.mpf(p) - 1)} for p in (1e-12, 1e-6, 0.001, 0.025, 0.3, 0.4999) + PS],
    "chiSquared": [{"nu": nu, "x": x, "lower": mp.gammainc(mp.mpf(nu) / 2, 0, mp.mpf(x) / 2, regularized=True), "upper": chi_upper(x, nu)} for nu in NUS[:-1] for x in (0.1, 1, 4, 20, 60, 1000)],
    "chiSquaredQuantile": [{"nu": nu, "p": p, "x": chi_quantile(p, nu)} for nu in NUS for p in (0.001, 0.025, 0.2, 0.5, 0.8, 0.95, 0.975, 0.999)],
    "f": [{"nu1": a, "nu2": b, "f": x, "upper": f_upper(x, a, b)} for a, b in ((1, 4), (2, 9), (4, 15.5), (5, 100), (11, 55), (300, 400)) for x in (0.1, 0.9, 1, 3, 9, 30)],
    "fQuantile": [{"nu1": a, "nu2": b, "p": p, "f": f_quantile(p, a, b)} for a, b in ((1, 5), (2, 9), (4, 15.5), (5, 7.4), (11, 55), (300, 400)) for p in (1e-6, 0.025, 0.5, 0.95, 0.975, 0.999)],
    "noncentralT": [{"nu": nu, "delta": d, "t": t, "cdf": noncentral(t, nu, d)} for nu in (1, 2, 4, 9, 22, 198) for d in (0, 0.5, 2, 3.5, 6) for t in (-1, 0.5, 2.1, 5)],
}


def plain(v):
    if isinstance(v, dict):
        return {k: plain(x) for k, x in v.items()}
    if isinstance(v, list):
        return [plain(x) for x in v]
    return float(v) if isinstance(v, mp.mpf) else v


text = json.dumps(plain(out))
pathlib.Path(__file__).with_suffix(".json").write_text(text.replace("}, ", "},\n ").replace("], ", "],\n") + "\n")
