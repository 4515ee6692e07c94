"""Writes scipy.json: reference values for the tests beside this folder. Run: python3 scipy_reference.py"""
import json
import pathlib
import numpy as np
import scipy
from scipy import integrate, signal, special, stats

rng = np.random.default_rng(20310514)
out = {"_source": f"computed with scipy {scipy.__version__}, numpy {np.__version__}"}
out["normal"] = [[p, stats.norm.ppf(p)] for p in (1e-15, 1e-6, 0.01, 0.3, 0.975, 0.9999999)]
out["student"] = [[p, v, stats.t.ppf(p, v)] for p in (1e-8, 0.01, 0.4, 0.975) for v in (0.7, 1, 2, 4, 8.2892, 30, 1000)]
out["chiSquared"] = [[p, v, stats.chi2.ppf(p, v)] for p in (1e-6, 0.05, 0.5, 0.95, 0.999999) for v in (1, 2, 7, 50.5, 1000)]
out["f"] = [[p, a, b, stats.f.ppf(p, a, b)] for p in (0.01, 0.5, 0.95, 0.9999) for a, b in ((1, 1), (3, 12), (10, 4.5), (200, 300))]
out["logGamma"] = [[x, special.gammaln(x)] for x in (0.01, 0.5, 1.5, 3.7, 42.0, 1234.5)]
x = rng.normal(size=600) + np.sin(np.arange(600) * 0.7)
f, p = signal.welch(x, fs=50.0, nperseg=128)
out["welch"] = {"samples": x.tolist(), "rate": 50.0, "segment": 128, "density": p.tolist()}
out["savitzkyGolay"] = [[m, o, d, signal.savgol_coeffs(2 * m + 1, o, deriv=d, use="dot").tolist()]
                        for m, o, d in ((3, 2, 0), (7, 4, 1), (10, 5, 2), (12, 3, 3))]
w = lambda u: (1 - u**3) ** 3
mu = [2 * integrate.quad(lambda u: w(u) * u**k, 0, 1, epsabs=1e-14)[0] for k in (0, 2, 4)]
det = mu[0] * mu[2] - mu[1] ** 2
gain = lambda n: 2 * integrate.quad(lambda u: w(u) * (mu[2] - mu[1] * u * u) / det * np.cos(2 * np.pi * n * u), 0, 1)[0]
out["smoothingGain"] = [[n, gain(n)] for n in (0.0, 0.3, 0.7122224531955599, 1.0, 1.5, 2.2)]
pathlib.Path(__file__).with_name("scipy.json").write_text(json.dumps(out) + "\n")
