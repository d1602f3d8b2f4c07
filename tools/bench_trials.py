# SPDX-License-Identifier: GPL-3.0-or-later
"""The figures of `trueup trials` that NumPy and SciPy have ready, of the second column of a CSV; for tools/bench.

    bench_trials.py FILE one-pass|all|kendall

all: also those that take the values in order of size. kendall: Mann and Kendall's test beside these.
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
if sys.argv[2] == "kendall":
    from scipy import stats

    print(stats.kendalltau(numpy.arange(n), z, method="asymptotic").pvalue)
