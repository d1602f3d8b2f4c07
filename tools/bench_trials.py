# SPDX-License-Identifier: GPL-3.0-or-later
"""The figures of `trueup trials` that NumPy and SciPy have ready, of column z of a CSV; for tools/bench."""
import sys

import numpy
from scipy import special

z = numpy.loadtxt(sys.argv[1], delimiter=",", skiprows=1, usecols=(0, 1))[:, 1]
n, m, s = len(z), z.mean(), z.std(ddof=1)
e = z - m
mr = numpy.abs(numpy.diff(z)).mean()
p = special.ndtr((numpy.sort(z) - m) / s)
a = -n - ((2 * numpy.arange(1, n + 1) - 1) * (numpy.log(p) + numpy.log1p(-p[::-1]))).mean()
t = special.stdtrit(n - 1, 0.975)
chi = special.chdtri(n - 1, [0.025, 0.975])
print(n, m, numpy.median(z), s, z.min(), z.max(), (e[1:] * e[:-1]).sum() / (e * e).sum(),
      m - t * s / n ** 0.5, m + t * s / n ** 0.5, *(s * ((n - 1) / chi) ** 0.5),
      m - 3 * mr / 1.128, m, m + 3 * mr / 1.128, 3.267 * mr, a * (1 + 0.75 / n + 2.25 / n ** 2))
