#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The bound of docs/geometry.md that makes a locally narrowest zone the narrowest of all, tried on
small clouds whose optima are found by going over all of them. Shares no code with src/bed."""
import itertools
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

numpy = tap.need("numpy", "python3-numpy")
ROUNDING = 1e-9


def directions(points):
    """Normals of all planes through three points, and of all pairs of parallel edges."""
    n = len(points)
    edges = [points[j] - points[i] for i, j in itertools.combinations(range(n), 2)]
    for a, b in itertools.combinations(edges, 2):
        normal = numpy.cross(a, b)
        if numpy.linalg.norm(normal) > ROUNDING:
            yield normal / numpy.linalg.norm(normal)


def plane_of(normal):
    """Two unit vectors square to the normal."""
    other = numpy.eye(3)[numpy.argmin(abs(normal))]
    u = numpy.cross(normal, other)
    u /= numpy.linalg.norm(u)
    return numpy.array([u, numpy.cross(normal, u)])


def circle_of(flat, origin):
    """Radius of the largest circle about a place inside the hull of places: over all directions,
    how far the hull reaches at least. Only the normals of lines through two of them matter."""
    least = numpy.inf
    for a, b in itertools.permutations(flat - origin, 2):
        length = numpy.linalg.norm(b - a)
        if length < ROUNDING:
            continue
        e = numpy.array([b[1] - a[1], a[0] - b[0]]) / length
        least = min(least, max((flat - origin) @ e))
    return least


def outline_width(flat):
    """Smallest width of places in a plane: square to a line through two of them."""
    least = numpy.inf
    for a, b in itertools.combinations(flat, 2):
        length = numpy.linalg.norm(b - a)
        if length > ROUNDING:
            along = flat @ numpy.array([b[1] - a[1], a[0] - b[0]]) / length
            least = min(least, numpy.ptp(along))
    return least


def optimum(points, normal):
    """Width, r and D of the zone with this normal; r is 0 or less when it is no strict optimum."""
    along = points @ normal
    width = numpy.ptp(along)
    high = points[along > along.max() - ROUNDING]
    low = points[along < along.min() + ROUNDING]
    flat = plane_of(normal)
    if len(high) + len(low) < 4:
        return width, 0, 0
    differences = numpy.array([flat @ (h - l) for h in high for l in low])
    return width, circle_of(differences, 0), outline_width(points @ flat.T)


def clouds(count):
    random = numpy.random.default_rng(31)
    for k in range(count):
        points = random.normal(size=(4 + k % 4, 3))
        points[:, 2] *= (0.05, 0.3, 1)[k % 3]
        yield random, points


@tap.case
def an_optimum_that_meets_the_bound_is_the_narrowest_of_all():
    proved, unproved, wrong_without = 0, 0, 0
    for _, points in clouds(150):
        found = [optimum(points, normal) for normal in directions(points)]
        narrowest = min(width for width, _, _ in found)
        for width, r, d in found:
            if r <= ROUNDING:
                continue
            if width * width <= r * d:
                proved += 1
                tap.near(width, narrowest, 1e-9, "a zone that meets the bound")
            else:
                unproved += 1
                wrong_without += width > narrowest + 1e-6
    # else the bound was not put to the test
    assert proved > 50 and unproved > 50 and wrong_without > 20, (proved, unproved, wrong_without)


@tap.case
def a_tilt_widens_the_contacts_and_the_outline_as_derived():
    for random, points in clouds(60):
        for normal in directions(points):
            width, r, d = optimum(points, normal)
            if r <= ROUNDING:
                continue
            for _ in range(20):
                turn, t = random.uniform(0, 2 * numpy.pi), random.uniform(0, numpy.pi / 2)
                e = numpy.array([numpy.cos(turn), numpy.sin(turn)]) @ plane_of(normal)
                tilted = numpy.ptp(points @ (numpy.cos(t) * normal + numpy.sin(t) * e))
                assert tilted >= width * numpy.cos(t) + r * numpy.sin(t) - 1e-9
                assert tilted >= d * numpy.sin(t) - width * numpy.cos(t) - 1e-9


tap.run()
