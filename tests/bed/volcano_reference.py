#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes fixtures/reference/r_volcano.json anew: R's data set `volcano`, what R's lm and a quadrature
by sampling say of it, and SciPy's linear interpolation over some of its points, moved at random.

    tests/bed/volcano_reference.py > fixtures/reference/r_volcano.json

Needs r-base-core, python3-numpy and python3-scipy. None of the code under test takes part.
"""
import json
import subprocess
import sys

import numpy
import scipy
import scipy.interpolate

R = r"""
z <- datasets::volcano
X <- rep(10 * (0:86), times = 61) - 430
Y <- rep(10 * (0:60), each = 87) - 300
h <- as.vector(z)
plane <- lm(h ~ X + Y)
quadratic <- lm(h ~ X + Y + I(X * Y) + I(X^2) + I(Y^2))
cat(h, "\n"); cat(sprintf("%.15g", coef(plane)), "\n"); cat(sprintf("%.15g", coef(quadratic)), "\n")
cat(sprintf("%.15g", summary(plane)$sigma), sprintf("%.15g", summary(quadratic)$sigma), "\n")
cat(R.version.string, "\n")
"""


def above(z, level, cells=slice(None), rows=slice(None), fine=100):
    """Area and volume above a level, bilinear cells of 10 by 10, by the mean of many samples."""
    s = (numpy.arange(fine) + 0.5) / fine
    a, b = z[:-1, :-1][rows, cells], z[:-1, 1:][rows, cells]
    c, d = z[1:, :-1][rows, cells], z[1:, 1:][rows, cells]
    area = volume = 0.0
    for t in s:
        front = a[..., None] * (1 - s) + b[..., None] * s
        back = c[..., None] * (1 - s) + d[..., None] * s
        h = front * (1 - t) + back * t - level
        area += (h > 0).sum()
        volume += h[h > 0].sum()
    return area * 100 / fine**2, volume * 100 / fine**2


def main():
    lines = subprocess.run(["Rscript", "-e", R], check=True, capture_output=True,
                           text=True).stdout.splitlines()
    h, plane, quadratic, sigma = ([float(v) for v in line.split()] for line in lines[:4])
    z = numpy.array(h).reshape(61, 87)
    levels = [100.5, 120.5, 139.7, 160.3, 180.5]  # not of the data: no plateau at a level
    random = numpy.random.RandomState(20261125)
    index = random.choice(len(h), 300, replace=False)
    x = 10.0 * (index % 87) + random.uniform(-3, 3, 300).round(3)
    y = 10.0 * (index // 87) + random.uniform(-3, 3, 300).round(3)
    at = numpy.c_[random.uniform(0, 860, 200), random.uniform(0, 600, 200)].round(3)
    there = scipy.interpolate.LinearNDInterpolator(numpy.c_[x, y], z.ravel()[index])(at)
    rectangle = above(z, 139.5, slice(10, 50), slice(5, 35))
    json.dump({
        "name": "R volcano: heights on a grid of 87 by 61, spacing 10",
        "source": "R package datasets, object volcano: topography of a volcano, digitised from a "
                  "map; integers, 87 values from x = 0 to 860, 61 such rows from y = 0 to 600",
        "licence": "GPL-2 or GPL-3, as R",
        "from": f"{lines[4].strip()}; NumPy {numpy.__version__}; SciPy {scipy.__version__}; "
                "written by tests/bed/volcano_reference.py",
        "data": {"columns": 87, "rows": 61, "step": 10, "z": [int(v) for v in h]},
        "lm": {"about": [430, 300], "plane": plane, "plane_sigma": sigma[0],
               "terms": ["1", "X", "Y", "XY", "X^2", "Y^2"], "quadratic": quadratic,
               "quadratic_sigma": sigma[1]},
        "above": [dict(zip(("level", "area", "volume"), (level, *above(z, level))))
                  for level in levels],
        "above_note": "mean of 100 by 100 samples a cell: volumes to 1e-5 or better, areas to 1e-4",
        "rectangle": {"x": [100, 500], "y": [50, 350], "level": 139.5, "area": rectangle[0],
                      "volume": rectangle[1]},
        "scattered": {"index": index.tolist(), "x": x.tolist(), "y": y.tolist(),
                      "at_x": at[:, 0].tolist(), "at_y": at[:, 1].tolist(),
                      "linear": [None if numpy.isnan(v) else float(v) for v in there],
                      "note": "scipy.interpolate.LinearNDInterpolator; null outside the hull"},
    }, sys.stdout)
    print()


if __name__ == "__main__":
    main()
