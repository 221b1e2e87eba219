#!/usr/bin/env python3
"""Makes the reference tables of the filter tests with scipy; nothing of helmcue is used.

Run from the top of the tree, on a machine with Debian's python3-scipy:

    python3 testdata/checks/scripts/filter_reference.py

and it writes, beside this folder,

  circle_filter.json      posteriors of a histogram filter on the circle
  kappa_scipy.csv         von Mises concentration against mean resultant length
  kalman_steady.csv       steady variances of linear Gaussian models (Riccati)
  cusum_arl.csv           average run length of the one-sided normal CUSUM (integral equation)

The figures in the files were made with scipy 1.10.1.
"""
import json
import pathlib

import numpy as np
from scipy import linalg, optimize, special, stats

HERE = pathlib.Path(__file__).resolve().parent.parent
STEP = 0.1  # degrees: a twentieth of the bins under test
GRID = np.arange(0, 360, STEP)


def off(a):
    return (a + 180) % 360 - 180


def spread(p, variance):
    """Convolution with a normal of this variance, wrapped, by Fourier."""
    k = np.fft.rfftfreq(len(GRID), d=STEP)  # cycles a degree
    return np.clip(np.fft.irfft(np.fft.rfft(p) * np.exp(-2 * np.pi**2 * variance * k**2), len(GRID)), 0, None)


def doubt(p, share):
    return (1 - share) * p + share / 360


def measure(p, deg, sd, wild):
    """A direction with von Mises error of concentration 1/sd^2, a share of them meaningless."""
    like = (1 - wild) * stats.vonmises.pdf(np.radians(GRID - deg), 1 / np.radians(sd) ** 2) + wild / (2 * np.pi)
    q = p * like
    return q / (q.sum() * STEP)


def mean_and_length(p):
    z = (p * np.exp(1j * np.radians(GRID))).sum() * STEP
    return np.degrees(np.angle(z)) % 360, abs(z)


def arc(p, mass=0.9):
    """The smallest arc with so much of the mass."""
    c = np.concatenate([[0], np.cumsum(np.concatenate([p, p]) * STEP)])
    best = (1e9, 0)
    for i in range(len(GRID)):
        j = np.searchsorted(c, c[i] + mass)
        frac = (c[j] - c[i] - mass) / (c[j] - c[j - 1])
        best = min(best, ((j - i - frac) * STEP, i))
    return (best[1] * STEP - STEP / 2) % 360, best[0]


def circle_filter():
    cases = {
        "one measurement": [("measure", 225, 10, 0.002)],
        "across north": [("measure", 355, 10, 0.002), ("spread", 50), ("measure", 8, 8, 0.002)],
        "an hour of drift": [("measure", 90, 5, 0.002), ("spread", 400)],
        "ten that agree": [s for k in range(10) for s in (("measure", 40 + 6 * np.sin(k), 12, 0.02), ("spread", 3))],
        "one wild among five": [s for d in (200, 204, 20, 197, 203) for s in (("measure", d, 6, 0.05), ("spread", 4))],
        "doubted, then moved": [("measure", 300, 6, 0.002), ("doubt", 0.2), ("measure", 330, 8, 0.002), ("spread", 20)],
        "drift beats memory": [s for d in (100, 110, 120, 130, 140) for s in (("spread", 60), ("measure", d, 8, 0.01))],
        "wide": [("measure", 10, 40, 0), ("spread", 100)],
        "a forecast, then a hand": [("measure", 80, 25, 0.1), ("spread", 30), ("measure", 120, 10, 0.002)],
    }
    out = []
    for name, steps in cases.items():
        p = np.full(len(GRID), 1 / 360)
        for op, *a in steps:
            p = {"measure": measure, "spread": spread, "doubt": doubt}[op](p, *a)
        m, r = mean_and_length(p)
        lo, width = arc(p)
        out.append({
            "name": name, "steps": [{"op": s[0], "args": [round(float(x), 4) for x in s[1:]]} for s in steps],
            "mean_deg": round(m, 3), "resultant": round(r, 5), "lo_deg": round(lo, 2), "width_deg": round(width, 2),
            "mode_deg": round(float(GRID[np.argmax(p)]), 1),
        })
    return out


def kappa():
    yield "resultant,kappa"
    for r in (0.02, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.711, 0.8, 0.85, 0.9, 0.95, 0.98, 0.99, 0.999):
        k = optimize.brentq(lambda x: special.i1e(x) / special.i0e(x) - r, 1e-9, 1e6, xtol=1e-12)
        yield f"{r},{k:.8f}"


def kalman():
    """Steady variance just after a measurement of h.x + noise each dt seconds, of the
    sum of a random walk (q deg2/s) and an Ornstein-Uhlenbeck part (sd, tau), of which
    the walk is wanted; the other is nuisance."""
    yield "walk_deg2_s,nuisance_sd_deg,nuisance_tau_s,dt_s,noise_sd_deg,steady_variance_deg2"
    for q, sd, tau, dt, noise in (
        (0.11, 0, 10, 20, 5), (0.11, 0, 10, 1, 10), (0.02, 5, 60, 5, 2), (0.11, 6, 30, 10, 1), (0.3, 4, 90, 15, 6), (0.001, 8, 20, 20, 3),
    ):
        f = np.exp(-dt / tau)
        a = np.diag([1, f])
        w = np.diag([q * dt, sd * sd * (1 - f * f)])
        h = np.array([[1.0, 1.0]])
        r = np.array([[noise**2]])
        if sd == 0:
            a, w, h = a[:1, :1], w[:1, :1], h[:, :1]
        p = linalg.solve_discrete_are(a.T, h.T, w, r)
        p = p - p @ h.T @ linalg.inv(h @ p @ h.T + r) @ h @ p
        yield f"{q},{sd},{tau},{dt},{noise},{p[0, 0]:.8f}"


def cusum():
    """Page's S = max(0, S + x - k), alarm above h, x normal of mean delta and deviation 1,
    S begun at 0. Fredholm equation of Page 1954, by Gauss-Legendre (Nystroem)."""
    yield "k,h,delta,arl"
    for k, h in ((0.25, 8), (0.5, 3), (0.5, 4), (0.5, 5), (0.75, 3), (1.0, 2)):
        x, w = np.polynomial.legendre.leggauss(80)
        x, w = (x + 1) * h / 2, w * h / 2
        for delta in (0, 0.5, 1.0, 2.0):
            f = stats.norm(loc=delta - k).pdf
            n = len(x)
            a = np.zeros((n + 1, n + 1))
            b = np.ones(n + 1)
            nodes = np.concatenate([[0], x])
            for i, s in enumerate(nodes):
                a[i, 0] = stats.norm(loc=delta - k).cdf(-s)
                a[i, 1:] = w * f(x - s)
            arl = np.linalg.solve(np.eye(n + 1) - a, b)
            yield f"{k},{h},{delta},{arl[0]:.3f}"


def main():
    with open(HERE / "circle_filter.json", "w") as f:
        f.write("[\n" + ",\n".join(json.dumps(c) for c in circle_filter()) + "\n]\n")
    for name, rows in (("kappa_scipy", kappa), ("kalman_steady", kalman), ("cusum_arl", cusum)):
        (HERE / f"{name}.csv").write_text("\n".join(rows()) + "\n")


main()
