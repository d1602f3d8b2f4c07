# SPDX-License-Identifier: GPL-3.0-or-later
"""The figures of `trueup trials` that NumPy and SciPy have ready, of the second column of a CSV; for tools/bench.

    bench_trials.py FILE one-pass|all|kendall|every

all: also those that take the values in order of size. kendall: Mann and Kendall's test beside these.
every: that, Theil and Sen's slope with its interval (SciPy forms all pairs), and Rosner's outliers.
"""
import sys

import numpy
from scipy import special

z = numpy.loadtxt(sys.argv[1], delimiter=",", skiprows=1, usecols=1)
n, m, s = len(z), z.mean(), z.std(ddof=1)
e = z - m
mr = numpy.abs(numpy.diff(z)).mean()
t = special.stdtrit(n - 1, 0.975)
chi = special.chdtri(n - 1, [0.025, 0.975])
print(n, m, s, z.min(), z.max(), z.max() - z.min(), (e[1:] @ e[:-1]) / (e @ e),
      m - t * s / n ** 0.5, m + t * s / n ** 0.5, *(s * ((n - 1) / chi) ** 0.5),
      1.96 * 2 ** 0.5 * s, 4 * s, m - 3 * mr / 1.128, m, m + 3 * mr / 1.128, 3.267 * mr)
if sys.argv[2] != "one-pass":
    ordered = numpy.sort(z)
    p = special.ndtr((ordered - m) / s)
    a = -n - ((2 * numpy.arange(1, n + 1) - 1) * (numpy.log(p) + numpy.log1p(-p[::-1]))).mean()
    print(numpy.median(ordered), 1 + numpy.count_nonzero(numpy.diff(ordered)),
          a * (1 + 0.75 / n + 2.25 / n ** 2))
if sys.argv[2] in ("kendall", "every"):
    from scipy import stats

    print(stats.kendalltau(numpy.arange(n), z, method="asymptotic").pvalue)
if sys.argv[2] == "every":
    print(*stats.theilslopes(z, numpy.loadtxt(sys.argv[1], delimiter=",", skiprows=1, usecols=0)))
    alpha = 0.05 / (1 + 3.6 / n)
    left, found, last = z, [], 0
    for step in range(min(n // 10 + 1, 32)):
        k = len(left)
        off = numpy.abs(left - left.mean())
        at = off.argmax()
        limit = stats.t.isf(alpha / (2 * k), k - 2)
        found.append((left[at], off[at] / left.std(ddof=1)))
        if found[-1][1] > (k - 1) * limit / (k * (k - 2 + limit ** 2)) ** 0.5:
            last = step + 1
        left = numpy.delete(left, at)
    print(found[:last])
