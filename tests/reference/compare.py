"""Holds the engine's figures (JSON on standard input) against SciPy, uncertainties and an IEC 60751 library.

Prints one line for each comparison that fails, and the number of comparisons at the end. Exit code 1 if any failed.
"""

import json
import math
import sys

import numpy as np
from rtd_sensor import pt100
from scipy import stats
from uncertainties import ufloat

failed = 0
compared = 0


def close(what, ours, reference, relative=1e-9, absolute=0.0):
    global failed, compared
    compared += 1
    if not math.isclose(ours, reference, rel_tol=relative, abs_tol=absolute):
        failed += 1
        print(f"{what}: engine {ours!r}, reference {reference!r}")


def grubbs(values, tail):
    n = len(values)
    t = stats.t.isf(tail, n - 2)
    return (n - 1) / math.sqrt(n) * math.sqrt(t * t / (n - 2 + t * t))


def rosner(values, most, level):
    left = list(enumerate(values))
    removed, outliers = [], 0
    n = len(values)
    for i in range(1, most + 1):
        now = np.array([value for _, value in left])
        place = int(np.argmax(np.abs(now - now.mean())))
        r = abs(now[place] - now.mean()) / now.std(ddof=1)
        t = stats.t.isf(level / (2 * (n - i + 1)), n - i - 1)
        critical = (n - i) * t / math.sqrt((n - i - 1 + t * t) * (n - i + 1))
        removed.append(left.pop(place)[0])
        if r > critical:
            outliers = i
    return removed[:outliers]


figures = json.load(sys.stdin)

for z, p in figures["normal"]:
    close(f"normal distribution below {z}", p, stats.norm.cdf(z), 1e-8)
for tail, free, t in figures["student"]:
    close(f"Student's t, {free} degrees, tail {tail}", t, stats.t.isf(tail, free), 1e-9)
for values, median, mad, mean, deviation in figures["samples"]:
    close("median", median, float(np.median(values)))
    close("median absolute deviation", mad, 1.4826 * stats.median_abs_deviation(values), 1e-9)
    close("mean", mean, float(np.mean(values)))
    close("standard deviation", deviation, float(np.std(values, ddof=1)))
for values, g, critical in figures["grubbs"]:
    array = np.array(values)
    close("Grubbs' G", g, float(np.max(np.abs(array - array.mean())) / array.std(ddof=1)))
    close("Grubbs' critical value", critical, grubbs(values, 0.05 / (2 * len(values))), 1e-9)
for values, most, found in figures["esd"]:
    compared += 1
    if found != rosner(values, most, 0.05):
        failed += 1
        print(f"generalised ESD: engine {found}, reference {rosner(values, most, 0.05)} for {values}")
for celsius, ohms in figures["platinum"]:
    close(f"Pt100 at {celsius} °C", ohms, pt100.celsius_to_resistance(celsius), 1e-9)
    close(f"Pt100 of {ohms} Ω", celsius, pt100.resistance_to_celsius(ohms), 1e-6, 1e-4)
for budget in figures["budgets"]:
    total = sum((ufloat(0.0, u) for u in budget["standard"]), ufloat(budget["value"], 0.0))
    close("combined uncertainty", budget["expanded"], 2.0 * total.std_dev, 1e-9)
for low, high, value, u, p in figures["conformity"]:
    close("conformity", p, stats.norm.cdf(high, value, u) - stats.norm.cdf(low, value, u), 1e-7, 1e-9)

print(f"{compared} comparisons, {failed} failed")
sys.exit(1 if failed or compared < 500 else 0)
