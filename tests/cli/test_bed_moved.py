# SPDX-License-Identifier: GPL-3.0-or-later
"""`trueup bed` on the same bed told in another way: other order, other origin, turned, mirrored, twice the
size, in inches. What a figure means says how it has to follow; nothing here needs another program.

Two beds: a grid, where heights between touches are bilinear, and scattered places, where they are linear
in triangles. Relative to the figure, or to a micrometre where it is smaller, 1e-9 is allowed.
"""
import json
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

numpy = tap.need("numpy", "python3-numpy")
WORK = tempfile.TemporaryDirectory()
POWER = {"range": 1, "least squares": 1, "rms": 1, "zone": 1, "depth": 1, "volume": 3, "area": 2, "bite": 1,
         "skin": 1, "overcut needed": 1, "skin area": 2, "bows": 1, "twist": 1, "tilt": 0, "straightness": 1,
         "shims": 1, "uncut": 2}


def figures(points, *arguments, form="%.17g"):
    path = pathlib.Path(WORK.name) / "bed.csv"
    numpy.savetxt(path, points, delimiter=",", header="x,y,z", comments="", fmt=form)
    done = subprocess.run([tap.program(), "bed", str(path), "--json", *arguments], capture_output=True, text=True,
                          check=False)
    tap.equal(done.returncode, 0, done.stderr)
    found = json.loads(done.stdout)
    flatness, cut, surfacing = found["flatness"], found["through_cut"], found["surfacing"]
    straight = found.get("straightness", {"rows": [], "columns": []})
    return {
        "range": [found["range_z"]], "least squares": [flatness["least_squares"]["FLTt"]],
        "rms": [flatness["least_squares"]["FLTq"]], "zone": [flatness["minimum_zone"]["FLTt"]],
        "depth": [surfacing["depth"]], "volume": [surfacing["volume"]], "area": [surfacing["area"]],
        "uncut": [one["uncut_area"] for one in surfacing["each"]], "bite": [cut["worst_bite"]],
        "skin": [cut["worst_skin"]], "overcut needed": [cut["overcut_needed"]], "skin area": [cut["skin_area"]],
        "bows": sorted(abs(found["shape"][name]) for name in ("bow_x", "bow_y")),
        "twist": [abs(found["shape"]["twist"])],
        "tilt": [numpy.hypot(found["plane"]["slope_x"], found["plane"]["slope_y"])],
        "straightness": sorted(line["STRt"] for line in straight["rows"] + straight["columns"]),
        "shims": sorted(one["add"] for one in found["levelling"]),
    }


def limits(scale=1.0):
    return ["--overcut", f"{0.1 * scale}mm", "--depth-of-cut", f"{0.1 * scale}mm", "--allowance", f"{0.05 * scale}mm"]


def shape(x, y):
    return -80 + 0.001 * x - 0.0007 * y + 2e-6 * (x - 150) ** 2 + 3e-6 * x * y


def beds():
    random = numpy.random.default_rng(9)
    x, y = (side.ravel() for side in numpy.meshgrid(60.0 * numpy.arange(7), 70.0 * numpy.arange(5)))
    yield "grid", numpy.column_stack([x, y, shape(x, y) + 0.03 * random.standard_normal(x.size)])
    x, y = random.uniform(0, 400, 40), random.uniform(0, 300, 40)
    yield "scattered", numpy.column_stack([x, y, shape(x, y) + 0.03 * random.standard_normal(x.size)])


BEDS = [(name, points, figures(points, *limits())) for name, points in beds()]


def check(told, scale=1.0, unit=None):
    for name, points, before in BEDS:
        after = figures(told(points), *limits(scale), *(["--unit", unit] if unit else []))
        for figure, values in before.items():
            tap.equal(len(after[figure]), len(values), f"{name}: {figure}: how many")
            for found, was in zip(after[figure], values):
                expected = was * scale ** POWER[figure]
                tap.near(found, expected, 1e-9 * max(abs(expected), 1e-3), f"{name}: {figure}")


@tap.case
def the_order_of_the_touches_changes_nothing():
    random = numpy.random.default_rng(3)
    for _ in range(3):
        check(lambda points: points[random.permutation(len(points))])


@tap.case
def another_origin_changes_nothing():
    check(lambda points: points + [1234.5, -987.25, 0])
    check(lambda points: points + [0, 0, 55.125])


@tap.case
def a_quarter_turn_makes_rows_of_the_columns():
    check(lambda points: numpy.column_stack([-points[:, 1], points[:, 0], points[:, 2]]))


@tap.case
def a_mirrored_bed_is_as_flat():
    check(lambda points: points * [-1, 1, 1])


@tap.case
def a_bed_of_twice_the_size_has_twice_the_lengths_and_the_same_tilt():
    check(lambda points: points * 2, scale=2.0)


@tap.case
def the_same_bed_in_inches_has_the_same_figures_in_mm():
    check(lambda points: points / 25.4, unit="in")


@tap.case
def upside_down_bite_and_need_change_places():
    """The highest over the zero's place is then the lowest under it: bite less overcut is what is needed."""
    for name, points, before in BEDS:
        after = figures(points * [1, 1, -1], *limits())
        for figure in ("range", "least squares", "rms", "zone", "tilt", "twist", "bows", "straightness"):
            for found, was in zip(after[figure], before[figure]):
                tap.near(found, was, 1e-9 * max(was, 1e-3), f"{name}: {figure}")
        tap.near(after["bite"][0] - 0.1, before["overcut needed"][0], 1e-9, f"{name}: bite")
        tap.near(after["overcut needed"][0], before["bite"][0] - 0.1, 1e-9, f"{name}: overcut needed")


tap.run()
