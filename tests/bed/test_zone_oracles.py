#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The minimum zone beside two programs that share nothing with it.

CGAL: the convex hull of the points and its width, in exact arithmetic, over all directions
(oracle_width.cpp). SciPy: in a frame turned to the zone's normal, the linear programme of the minimax
plane, solved by HiGHS, may find nothing narrower.
"""
import math
import os
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

numpy = tap.need("numpy", "python3-numpy")
optimize = tap.need("scipy.optimize", "python3-scipy")
spatial = tap.need("scipy.spatial", "python3-scipy")
SEED = int(os.environ.get("TRUEUP_SEED") or 6)


def turned(random, points):
    """The points turned at random and moved away."""
    rotation, _ = numpy.linalg.qr(random.standard_normal((3, 3)))
    return points @ rotation.T + random.uniform(-500, 500, 3)


def grid(random, count, noise):
    """A bed: a bowl, a twist, a tilt and noise over a grid."""
    side = math.isqrt(count)
    i = numpy.arange(side * side)
    x, y = (i % side) * 900.0 / side, (i // side) * 600.0 / side
    z = (1e-6 * (x - 300) ** 2 - 2e-6 * (y - 200) ** 2 + 1e-6 * x * y + 0.003 * x - 0.001 * y
         + noise * random.standard_normal(side * side))
    return numpy.column_stack((x, y, z))


def stepped(random, count):
    """Heights in whole steps of 0.0125 mm: many points touch."""
    points = grid(random, count, 0.02)
    points[:, 2] = numpy.round(points[:, 2] / 0.0125) * 0.0125
    return points


def fat(random, count):
    return random.standard_normal((count, 3)) * (3.0, 2.0, 1.5)


def strip(random, count):
    return numpy.column_stack((random.uniform(0, 900, count), random.uniform(0, 8, count),
                               random.uniform(0, 0.3, count)))


def ball(random, count):
    """All on a sphere: each of them is a corner of the hull."""
    points = random.standard_normal((count, 3))
    return 50 * points / numpy.linalg.norm(points, axis=1)[:, None]


def pipe(random, count):
    angle = random.uniform(0, 2 * numpy.pi, count)
    return numpy.column_stack((20 * numpy.cos(angle), 20 * numpy.sin(angle), random.uniform(-20, 20, count)))


def globe(meridians):
    """Crossings of meridians and parallels: four and four nearly in a plane, the poles many times over."""
    longitude, latitude = numpy.meshgrid(numpy.arange(meridians) * 2 * numpy.pi / meridians,
                                         numpy.linspace(-numpy.pi / 2, numpy.pi / 2, meridians // 2))
    return 70 * numpy.column_stack(((numpy.cos(latitude) * numpy.cos(longitude)).ravel(),
                                    (numpy.cos(latitude) * numpy.sin(longitude)).ravel(),
                                    numpy.sin(latitude).ravel()))


def clouds():
    """(name, points) of sizes from hundreds to thousands; to a hundred thousand where all are asked for."""
    most = tap.runs(10000, 90000)
    random = numpy.random.default_rng(SEED)
    for count in (n for n in (400, 2500, 10000, 90000) if n <= most):
        yield f"bed of {count}", grid(random, count, 0.05)
        yield f"smooth bed of {count}", grid(random, count, 0.001)
        yield f"stepped bed of {count}", stepped(random, count)
        yield f"strip of {count}", strip(random, count)
        yield f"turned bed of {count}", turned(random, grid(random, count, 0.05))
    for count in (n for n in (80, 300, 1000, 4000, 50000) if n <= most):
        for _ in range(4):
            yield f"fat cloud of {count}", turned(random, fat(random, count))
    yield "turned globe", turned(random, globe(80))
    yield "ball of 3000", turned(random, ball(random, 3000))
    yield "side of a pipe", turned(random, pipe(random, 3000))


def ours(points, folder):
    """(width, normal, criterion) as the library finds them; it checks its certificate on the way."""
    path = pathlib.Path(folder) / "points"
    points.tofile(path)
    result = subprocess.run([os.environ["ZONE_DUMP"], str(path)], capture_output=True, text=True,
                            check=False)
    if result.returncode != 0:
        raise AssertionError(result.stderr)
    words = result.stdout.split()
    return float(words[0]), numpy.array([float(word) for word in words[1:4]]), words[4]


def widths_are_those_of_cgal(oracle):
    criteria = set()
    with tempfile.TemporaryDirectory() as folder:
        for name, points in clouds():
            width, _, criterion = ours(points, folder)
            found = subprocess.run([oracle, str(pathlib.Path(folder) / "points")],
                                   capture_output=True, text=True, check=True).stdout.split()
            rounding = 1e-14 * abs(points).max() + 1e-14 * numpy.ptp(points, axis=0).max()
            tap.near(width, float(found[0]), rounding, f"width of {name}, mm")
            criteria.add(criterion)
    tap.equal(criteria, {"3-1", "1-3", "2-2"}, "criteria met")


def minimax(points):
    """The smallest vertical distance of two parallel planes about the points, by HiGHS."""
    size = abs(points).max(axis=0)
    scaled = points / size
    corners = scaled[spatial.ConvexHull(scaled).vertices]
    one = numpy.ones((len(corners), 1))
    plane = numpy.hstack((corners[:, :2], one))
    result = optimize.linprog(
        [0, 0, 0, 1], A_ub=numpy.vstack((numpy.hstack((-plane, -one)), numpy.hstack((plane, -one)))),
        b_ub=numpy.concatenate((-corners[:, 2], corners[:, 2])),
        bounds=[(None, None)] * 3 + [(0, None)], method="highs-ds",
        options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10})
    if not result.success:
        raise AssertionError(result.message)
    return 2 * result.fun * size[2]


@tap.case
def turned_to_the_zone_highs_finds_nothing_narrower():
    with tempfile.TemporaryDirectory() as folder:
        for name, points in clouds():
            width, normal, _ = ours(points, folder)
            # the rows of the last two right singular vectors are square to the normal
            _, _, axes = numpy.linalg.svd(normal.reshape(1, 3))
            frame = numpy.vstack((axes[1:], normal))
            seen = (points - points.mean(axis=0)) @ frame.T
            seen[:, 2] -= (seen[:, 2].max() + seen[:, 2].min()) / 2
            tap.near(minimax(seen) / width, 1.0, 1e-7, f"minimax width of {name} over the zone's")


if os.environ.get("ORACLE_WIDTH"):  # a build with -Doracles=enabled
    tap.add("widths are those of cgal", widths_are_those_of_cgal, os.environ["ORACLE_WIDTH"])
tap.run()
