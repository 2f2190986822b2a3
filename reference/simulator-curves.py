"""Writes simulator-curves.json: SciPy's values of the simulator's monotone cubic and pulse. Run: python3 simulator-curves.py"""
import json
import os

import scipy
from scipy.integrate import quad
from scipy.interpolate import PchipInterpolator
from scipy.special import beta

knots = [(1.2, 58.0), (1.95, 57.0), (2.2, 78.0), (2.28, 79.5), (2.78, 85.0)]
times = [t for t, _ in knots]
values = [v for _, v in knots]
# A flat knot beyond each end makes the end slopes 0, as the curve is constant outside.
curve = PchipInterpolator([times[0] - 1] + times + [times[-1] + 1], [values[0]] + values + [values[-1]])
at = [round(1.0 + 0.05 * i, 2) for i in range(41)]
us = [-0.9, -0.5, -0.1, 0.0, 0.3, 0.7, 1.0]


def pulse(u):
    return (1 - u * u) ** 3


out = {
    "source": f"SciPy {scipy.__version__}: PchipInterpolator (Fritsch & Butland 1984 slopes), integrate.quad, special.beta",
    "generator": "reference/simulator-curves.py",
    "monotoneCubic": {
        "tolerance": 1e-12,
        "knots": [{"at": t, "value": v} for t, v in knots],
        "at": at,
        "value": [float(curve(t)) for t in at],
    },
    "pulse": {
        "tolerance": 1e-12,
        "area": float(beta(0.5, 4)),
        "u": us,
        "firstIntegral": [quad(pulse, -1, u, epsabs=1e-15)[0] for u in us],
        "secondIntegral": [quad(lambda v: (u - v) * pulse(v), -1, u, epsabs=1e-15)[0] for u in us],
    },
}
with open(os.path.join(os.path.dirname(__file__), "simulator-curves.json"), "w") as file:
    json.dump(out, file, indent=1)
    file.write("\n")
