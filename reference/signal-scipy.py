"""Makes signal-scipy.json, the reference numbers for packages/signal, with SciPy alone. Run: python3 reference/signal-scipy.py

Nothing here is taken from Underfoot: each number is a SciPy call, named beside it. Inputs are printed in full.
"""
import json
import math
import pathlib

import numpy as np
import scipy
from scipy import integrate, interpolate, signal, stats

rng = np.random.default_rng(7)
t = np.arange(120) / 200
x = np.round(700 + 40 * np.sin(2 * np.pi * 2 * t) + 90 * np.exp(-(((t - 0.3) / 0.05) ** 2)) + rng.normal(0, 5, t.size), 3)


def design(cutoff, rate):
    return math.tan(math.pi * cutoff / rate) / (math.sqrt(2) - 1) ** 0.25


def two_pass(values, cutoff, rate):
    b, a = signal.butter(2, 2 / math.pi * math.atan(design(cutoff, rate)))
    return signal.filtfilt(b, a, values)


filters = []
for rate, cutoff in [(200, 6), (200, 25), (500, 10), (1000, 25), (1000, 50), (2000, 25)]:
    b, a = signal.butter(2, 2 / math.pi * math.atan(design(cutoff, rate)))
    gain = abs(signal.freqz(b, a, [2 * math.pi * cutoff / rate])[1][0]) ** 2
    filters.append({"rateHz": rate, "cutoffHz": cutoff, "b": b.tolist(), "a": a.tolist(), "gainAtCutoff": float(gain),
                    "filtered": signal.filtfilt(b, a, x).tolist()})

plain_b, plain_a = signal.butter(2, 20 / 0.8022432629231502 / 500)

# Residual analysis: 600 samples at 400 Hz, the line by scipy.stats.linregress.
rate = 400
time = np.arange(600) / rate
noisy = np.round(50 * np.sin(2 * np.pi * 1.2 * time) + 8 * np.sin(2 * np.pi * 5 * time) + rng.normal(0, 0.6, time.size), 4)
frequencies = np.arange(2, rate // 8 + 1)
residual = np.array([np.sqrt(np.mean((noisy - two_pass(noisy, f, rate)) ** 2)) for f in frequencies])
count = len(frequencies)
lines = [(i, stats.linregress(frequencies[i:], residual[i:])) for i in range(count // 2, count - 10 + 1)]
first, line = max(lines, key=lambda pair: pair[1].rvalue ** 2)
cutoff = next(int(f) for f, r in zip(frequencies, residual) if r <= line.intercept)

# Noise gains: the exact power of the digital filter, and the closed form's integrals by quadrature.
power = integrate.quad(lambda u: (1 + u ** 4) ** -2, 0, np.inf)[0]
derivative_power = integrate.quad(lambda u: u * u * (1 + u ** 4) ** -2, 0, np.inf)[0]
gains = []
for rate_hz, cutoff_hz in [(1000, 10), (1000, 25), (2000, 50)]:
    b, a = signal.butter(2, 2 / math.pi * math.atan(design(cutoff_hz, rate_hz)))
    h4 = lambda w: abs(signal.freqz(b, a, [w])[1][0]) ** 4
    gains.append({"rateHz": rate_hz, "cutoffHz": cutoff_hz,
                  "digital": math.sqrt(integrate.quad(h4, 0, math.pi, limit=400)[0] / math.pi),
                  "digitalDerivativePerS": rate_hz * math.sqrt(integrate.quad(lambda w: w * w * h4(w), 0, math.pi, limit=400)[0] / math.pi)})

# The cubic through four neighbours, and a gap's cubic, by scipy.interpolate.BarycentricInterpolator.
positions = [0, 0.3, 1.5, 17.25, 60.999, 118.2, 119]
resampled = []
for at in positions:
    start = min(max(int(at) - 1, 0), x.size - 4)
    nodes = np.arange(start, start + 4)
    resampled.append(float(interpolate.BarycentricInterpolator(nodes, x[nodes])(at)))
around = np.array([38, 39, 45, 46])
gap = interpolate.BarycentricInterpolator(around, x[around])(np.arange(40, 45))

# Hampel: median and MAD of 11 samples around each.
spiky = x.copy()
spiky[[20, 50, 51, 80, 81, 82, 100]] += [200, -150, -160, 90, 120, 100, 14]
window = np.lib.stride_tricks.sliding_window_view(spiky, 11)
mad = stats.median_abs_deviation(window, axis=1, scale="normal")
is_spike = np.abs(spiky[5:-5] - np.median(window, axis=1)) > 6 * mad

out = {
    "source": f"SciPy {scipy.__version__}, NumPy {np.__version__}, by reference/signal-scipy.py",
    "tolerance": "coefficients 1e-12; curves 1e-9 of the range of x; cut-off and spikes exact",
    "x": x.tolist(),
    "filters": filters,
    "designFrequency": {"designHz": 20 / 0.8022432629231502, "rateHz": 1000, "b": plain_b.tolist(), "a": plain_a.tolist()},
    "cumulativeTrapezoid": integrate.cumulative_trapezoid(x, dx=1 / 200, initial=0).tolist(),
    "movingSlope": {"windowSamples": 11, "rateHz": 200,
                    "slope": signal.savgol_filter(x, 11, 1, deriv=1, delta=1 / 200)[5:-5].tolist()},
    "resampled": {"positions": positions, "values": resampled},
    "gap": {"first": 40, "end": 45, "values": gap.tolist()},
    "spikes": {"x": spiky.tolist(), "found": (np.flatnonzero(is_spike) + 5).tolist()},
    "mean": float(np.mean(x)), "standardDeviation": float(np.std(x, ddof=1)),
    "noise": {"power": power, "derivativePower": derivative_power, "rows": gains},
    "residual": {"rateHz": rate, "x": noisy.tolist(), "residual": residual.tolist(), "firstIndex": first,
                 "slope": line.slope, "intercept": line.intercept, "r2": line.rvalue ** 2, "cutoffHz": cutoff},
}
pathlib.Path(__file__).with_suffix(".json").write_text(json.dumps(out, separators=(",", ":")) + "\n")
