#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The figures of trials beside SciPy's (Debian's python3-scipy) at random series.

TU_SEED=N draws other series.
"""
import itertools
import math
import pathlib
import sys
import warnings

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import tap
import random_trials

stats = tap.need("scipy.stats", "python3-scipy")
RUNS = 300


def relative(found, expected, allowance, what):
    tap.near(found, float(expected), allowance * abs(float(expected)) + 1e-300, what)


@tap.case
def anderson_and_darlings_statistic_is_scipys_with_its_correction_for_n():
    rng = random_trials.generator()
    drawn = [random_trials.series(rng) for _ in range(RUNS)]
    for values, found in zip(drawn, random_trials.figures([("figures", v) for v in drawn])):
        n = len(values)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            plain = stats.anderson(values, "norm").statistic
        # SciPy's sum loses digits of its own with touches around -40: 1e-9
        tap.near(found[4], plain * (1 + 0.75 / n + 2.25 / n ** 2), 1e-9 * max(1, plain), "A*")


@tap.case
def theil_and_sens_slope_and_its_interval_are_scipys():
    rng = random_trials.generator()
    drawn = []
    for _ in range(RUNS):
        values = random_trials.series(rng)
        drawn.append((random_trials.times(rng, len(values)), values))
    counted = 0
    answers = random_trials.figures([("theil_sen", t, v) for t, v in drawn])
    for (times, values), found in zip(drawn, answers):
        # (y, x, confidence): its interval corrects for ties as Sen does
        expected = stats.theilslopes(values, times, 0.95)
        slopes = [(w - v) / (t - s) for (s, v), (t, w) in
                  itertools.combinations(zip(times, values), 2) if t > s]
        if math.isnan(found[1]):
            # Too few to leave a slope out at one end: SciPy states the outermost, we nothing.
            if expected[2] > min(slopes) and expected[3] < max(slopes):
                raise AssertionError(f"no interval, SciPy has {expected}")
            found[1:], counted = expected[2:], counted + 1
        for name, ours, theirs in zip(("slope", "low", "high"), found,
                                      (expected[0], expected[2], expected[3])):
            tap.near(ours, theirs, 1e-12 * abs(theirs) + 1e-16, f"{name} of {len(values)} touches")
    if counted > RUNS / 20:
        raise AssertionError(f"no interval for {counted} of {RUNS}")


@tap.case
def mann_and_kendalls_s_is_scipys_tau_b():
    rng = random_trials.generator()
    drawn = [random_trials.series(rng) for _ in range(RUNS)]
    for values, found in zip(drawn, random_trials.figures([("mann_kendall", v) for v in drawn])):
        n = len(values)
        pairs = n * (n - 1) / 2
        tied = sum(values.count(v) * (values.count(v) - 1) / 2 for v in set(values))
        tau = stats.kendalltau(range(n), values)
        tap.near(found[0] / (pairs * (pairs - tied)) ** 0.5, tau.statistic, 1e-12, "tau b")
        if tied == 0 and n < 50:
            exact = stats.kendalltau(range(n), values, method="exact").pvalue
            tap.near(found[1], exact, 1e-10, f"exact p of {n} touches")


@tap.case
def welch_and_brown_forsythe_are_scipys():
    rng = random_trials.generator()
    drawn = [(random_trials.series(rng), random_trials.series(rng)) for _ in range(RUNS)]
    for (a, b), found in zip(drawn, random_trials.figures([("compare", *d) for d in drawn])):
        welch = stats.ttest_ind(a, b, equal_var=False)
        levene = stats.levene(a, b, center="median")
        # means about -40 cost t some 1e-11, whatever it is
        tap.near(found[0], welch.statistic, 1e-9 * abs(welch.statistic) + 1e-9, "Welch's t")
        # SciPy's tails of t keep fewer digits than ours
        tap.near(found[2], welch.pvalue, 1e-8 * welch.pvalue + 1e-12, "p of Welch's t")
        relative(found[9], levene.statistic, 1e-9, "Brown-Forsythe")
        relative(found[10], levene.pvalue, 1e-8, "p of Brown-Forsythe")


@tap.case
def one_way_analysis_is_scipys():
    rng = random_trials.generator()
    drawn = []
    for _ in range(RUNS):
        groups = [random_trials.series(rng, rng.randrange(1, 12), kind=0)
                  for _ in range(rng.randrange(2, 9))]
        groups[0] += [-40.01, -39.99]
        drawn.append(groups)
    requests = [("groups", [v for g in groups for v in g],
                 [k for k, g in enumerate(groups) for _ in g]) for groups in drawn]
    for groups, found in zip(drawn, random_trials.figures(requests)):
        expected = stats.f_oneway(*groups)
        # SciPy's sums of squares of touches around -40 keep fewer digits than ours
        relative(found[2], expected.statistic, 1e-6, "F")
        relative(found[3], expected.pvalue, 1e-6, "p of F")


tap.run()
