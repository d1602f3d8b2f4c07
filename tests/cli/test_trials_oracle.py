#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The figures in the JSON of `trueup trials` beside their definitions, at random series in files.

The sums are exact rational numbers (Python's fractions) of the very doubles in the file; quantiles are
SciPy's (Debian's python3-scipy), whose t keeps some nine digits. Definitions: docs/statistics.md names
their sources. What tests/trials holds against SciPy and R is left out here. TU_SEED=N draws other series.
"""
import fractions
import json
import math
import os
import pathlib
import random
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

stats = tap.need("scipy.stats", "python3-scipy")
RUNS = 40
WORK = pathlib.Path(tempfile.mkdtemp())
LENGTHS = (3, 5, 8, 9, 10, 11, 19, 20, 30, 51, 120)


def generator():
    return random.Random(int(os.environ.get("TU_SEED", "20261125")))


def draw(rng, count, at=None):
    """Touches in mm: even noise, in steps, with chips, heavy tails, in two heaps."""
    sd, kind = rng.choice((0.002, 0.01, 0.05)), rng.randrange(5)
    at = rng.choice((-40.0, 0.5, 123.4)) if at is None else at
    values = [at + rng.gauss(0, sd) for _ in range(count)]
    if kind == 1:
        values = [round(v / 0.0025) * 0.0025 for v in values]
    elif kind == 2:
        for _ in range(1 + count // 12):
            values[rng.randrange(count)] += rng.choice((-1, 1)) * rng.uniform(4, 15) * sd
    elif kind == 3:
        values = [at + sd * math.tan(math.pi * (rng.random() - 0.5) * 0.98) for _ in values]
    elif kind == 4:
        values = [v + rng.choice((0, 8 * sd)) for v in values]
    return values if len(set(values)) > 2 else draw(rng, count, at)


def judged(header, rows, *options):
    path = WORK / "touches.csv"
    path.write_text("\n".join([header, *rows, ""]))
    done = subprocess.run([tap.program(), "trials", path, "--json", *options], capture_output=True,
                          text=True, check=False)
    tap.equal(done.returncode, 0, f"{header} {options}: {done.stderr}")
    return json.loads(done.stdout)


def moments(values):
    """Mean (exact) and s."""
    exact = [fractions.Fraction(v) for v in values]
    mean = sum(exact) / len(exact)
    return mean, math.sqrt(sum((v - mean) ** 2 for v in exact) / (len(exact) - 1))


def near(found, expected, what, scale=None):
    tap.near(found, float(expected), 5e-9 * abs(scale or float(expected)), what)


def rosner(values):
    """(index, G, critical) of each outlier: B. Rosner, Technometrics 25 (1983) 165-172, with the level
    that docs/statistics.md states."""
    n, rest, found, last = len(values), dict(enumerate(values)), [], 0
    level = 0.05 if n < 10 else 0.05 / (1 + 3.6 / n)
    for k in range(n // 10 + 1):
        left = len(rest)
        mean, sd = moments(list(rest.values()))
        far = max(rest, key=lambda i: abs(rest[i] - mean))
        t = stats.t.isf(level / (2 * left), left - 2)
        found.append((far, float(abs(rest[far] - mean)) / sd,
                      (left - 1) / math.sqrt(left) * math.sqrt(t * t / (left - 2 + t * t))))
        if found[-1][1] > found[-1][2]:
            last = k + 1
        del rest[far]
    return found[:last], moments(list(rest.values()) + [values[i] for i, _, _ in found[last:]])[1]


@tap.case
def outliers_are_rosners_at_the_stated_level():
    rng, some = generator(), 0
    for _ in range(RUNS):
        values = [v + rng.uniform(-1e-6, 1e-6) for v in draw(rng, rng.choice(LENGTHS))]  # no ties
        series = judged("z", map(repr, values))["series"][0]
        expected, without = rosner(values)
        tap.equal([o["index"] for o in series["outliers"]], [i for i, _, _ in expected], f"{values}")
        for ours, (_, statistic, critical) in zip(series["outliers"], expected):
            near(ours["statistic"], statistic, "G")
            near(ours["critical"], critical, "critical value of G")
        near(series["sd_without"], without, "s without outliers")
        some += len(expected) > 1
    if some < 3:
        raise AssertionError(f"only {some} series with two outliers or more: the test tests little")


@tap.case
def the_chart_has_its_limits_and_the_next_touch_its_interval():
    rng = generator()
    for _ in range(RUNS):
        values = draw(rng, rng.choice(LENGTHS))
        n, (mean, sd) = len(values), moments(values)
        series = judged("t;z", (f"{10 * i};{v!r}" for i, v in enumerate(values)))["series"][0]
        moving = sum(abs(fractions.Fraction(b) - fractions.Fraction(a))
                     for a, b in zip(values, values[1:])) / (n - 1)
        reach = 3 * float(moving) / 1.128
        chart = series["chart"]
        near(chart["lower"], float(mean) - reach, "lower limit, mm", reach)
        near(chart["upper"], float(mean) + reach, "upper limit, mm", reach)
        near(chart["mr_centre"], moving, "mean moving range, mm")
        near(chart["mr_upper"], 3.267 * float(moving), "limit of the moving range, mm")
        tap.equal(chart["beyond"], sum(abs(float(v - mean)) > reach for v in values), "beyond")
        half = stats.t.isf(0.025, n - 1) * sd * math.sqrt(1 + 1 / n)
        near(series["repeats_within"], half, "next touch, mm")
        near(series["repeatability_limit"], 1.96 * math.sqrt(2) * sd, "repeatability limit, mm")
        near(series["unidirectional_repeatability"], 4 * sd, "R, mm")


@tap.case
def touches_needed_are_the_fewest_that_do():
    rng = generator()
    for _ in range(RUNS):
        values = [v + rng.uniform(-1e-6, 1e-6) for v in draw(rng, rng.choice(LENGTHS))]
        sd = moments(values)[1]
        wanted = rng.choice((0.3, 0.5, 1, 2)) * sd
        series = judged("z", map(repr, values), "--mean-within", repr(wanted))["series"][0]
        fewest = next(n for n in range(2, 500) if stats.t.isf(0.025, n - 1) * sd / math.sqrt(n) <= wanted)
        tap.equal(series["touches_needed"], fewest, f"+-{wanted} mm at s {sd}")


@tap.case
def both_directions_have_the_reversal_and_r_of_iso_230_2():
    rng = generator()
    for _ in range(RUNS):
        plus, minus = ([at + rng.gauss(0, rng.choice((0.002, 0.01))) for _ in range(rng.choice((2, 3, 5, 20)))]
                       for at in (12.5 + rng.choice((0, 0.01)), 12.5))
        rows = [f"+\t{v!r}" for v in plus] + [f"-\t{v!r}" for v in minus]
        rng.shuffle(rows)
        found = judged("dir\tx", rows)["reversal"]
        (m_plus, s_plus), (m_minus, s_minus) = moments(plus), moments(minus)
        b = float(m_plus - m_minus)
        parts = s_plus ** 2 / len(plus), s_minus ** 2 / len(minus)
        dof = sum(parts) ** 2 / (parts[0] ** 2 / (len(plus) - 1) + parts[1] ** 2 / (len(minus) - 1))
        half = stats.t.isf(0.025, dof) * math.sqrt(sum(parts))
        near(found["b"], b, "B, mm", half)
        near(found["b_interval"][0], b - half, "B, lower, mm", half)
        near(found["b_interval"][1], b + half, "B, upper, mm", half)
        near(found["r"], max(2 * s_plus + 2 * s_minus + abs(b), 4 * s_plus, 4 * s_minus), "R, mm")


@tap.case
def a_gauge_study_of_unequal_groups_has_the_components_of_iso_5725_2():
    rng = generator()
    for _ in range(RUNS):
        sizes = [rng.choice((1, 2, 3, 5, 8)) for _ in range(rng.randrange(1, 8))] + [4]
        groups = [[-40 + shift + rng.gauss(0, 0.01) for _ in range(size)]
                  for size in sizes for shift in [rng.choice((0, 1)) * rng.gauss(0, 0.03)]]
        rows = [f"g{k};{v!r}" for k, group in enumerate(groups) for v in group]
        rng.shuffle(rows)
        found = judged("seat;z", rows, "--by", "seat")["groups"]
        exact = [[fractions.Fraction(v) for v in group] for group in groups]
        n, p = sum(sizes), len(sizes)
        grand = sum(map(sum, exact)) / n
        between = sum(len(g) * (sum(g) / len(g) - grand) ** 2 for g in exact) / (p - 1)
        within = sum((v - sum(g) / len(g)) ** 2 for g in exact for v in g) / (n - p)
        n0 = (n - fractions.Fraction(sum(size * size for size in sizes), n)) / (p - 1)
        component = max(fractions.Fraction(0), (between - within) / n0)
        near(found["repeatability"], math.sqrt(within), "s_r, mm")
        near(found["between"], math.sqrt(component), "s_L, mm", math.sqrt(within))
        near(found["reproducibility"], math.sqrt(component + within), "s_R, mm")
        for edge, tail in zip(found["repeatability_interval"], (0.025, 0.975)):
            near(edge, math.sqrt(float(within) * (n - p) / stats.chi2.isf(tail, n - p)), "s_r, interval, mm")


@tap.case
def the_delay_is_the_slope_of_one_line_from_each_side():
    rng = generator()
    for _ in range(RUNS):
        delay = rng.uniform(0, 0.02)
        touched = [(sign, feed, (10.01 if sign > 0 else 10) + sign * delay * feed / 60 + rng.gauss(0, 0.003))
                   for sign in (-1, 1) for feed in rng.sample((20, 50, 100, 300), rng.randrange(2, 5))
                   for _ in range(rng.randrange(2, 7))]
        rng.shuffle(touched)
        found = judged("feed,dir,y", (f"{f},{s:+d},{y!r}" for s, f, y in touched), "--feed")["feed"]
        # The slope of a line whose height differs by side: x and y from the mean of their side.
        centred = []
        for side in (-1, 1):
            x = [fractions.Fraction(s * f, 60) for s, f, _ in touched if s == side]
            y = [fractions.Fraction(y) for s, _, y in touched if s == side]
            x0, y0 = sum(x) / len(x), sum(y) / len(y)
            centred += [(a - x0, b - y0) for a, b in zip(x, y)]
        xx = sum(a * a for a, _ in centred)
        slope = sum(a * b for a, b in centred) / xx
        dof = len(centred) - 3
        residual = math.sqrt(sum((b - slope * a) ** 2 for a, b in centred) / dof)
        half = stats.t.isf(0.025, dof) * residual / math.sqrt(xx)
        near(found["delay"], slope, "delay, s", half)
        near(found["delay_interval"][0], float(slope) - half, "delay, lower, s", half)
        near(found["delay_interval"][1], float(slope) + half, "delay, upper, s", half)
        near(found["residual_sd"], residual, "s beside the line, mm")


try:
    tap.run()
finally:
    for item in WORK.iterdir():
        item.unlink()
    WORK.rmdir()
