#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The figures of trials beside R's (Debian's r-base-core) at random series.

All requests go to one run of R: it starts slowly. TU_SEED=N draws other series.
"""
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import tap
import random_trials

RUNS = 120

# A line "WHAT | numbers | numbers" each, as trial_figures reads them.
PROGRAM = r"""
options(warn = -1)
show <- function(...) cat(sprintf("%.17g", c(...)), "\n")
what <- list(
  figures = function(v, ...) {
    t <- t.test(v)$conf.int
    n <- length(v)
    s <- sd(v) * sqrt((n - 1) / qchisq(c(0.975, 0.025), n - 1))
    show(mean(v), sd(v), median(v), acf(v, 1, plot = FALSE)$acf[2], t, s)
  },
  mann_kendall = function(v, ...) {
    exact <- length(v) < 50 && !any(duplicated(v))
    k <- cor.test(seq_along(v), v, method = "kendall", exact = exact, continuity = TRUE)
    show(k$estimate, k$p.value)
  },
  compare = function(a, b) {
    w <- t.test(a, b)
    f <- var.test(a, b)
    away <- c(abs(a - median(a)), abs(b - median(b)))
    side <- factor(rep(1:2, c(length(a), length(b))))
    l <- anova(lm(away ~ side))
    show(w$statistic, w$parameter, w$p.value, w$conf.int, f$statistic, f$p.value,
         sqrt(f$conf.int), l$F[1], l$Pr[1])
  },
  groups = function(v, g) {
    a <- anova(aov(v - v[1] ~ factor(g)))
    show(a$"Sum Sq", a$F[1], a$Pr[1])
  },
  warm_up = function(t, v) {
    t <- t - t[1]
    y <- v - v[1]
    fit <- nls(y ~ cbind(1, 1 - exp(-t / tau)), start = list(tau = max(t) / 3),
               algorithm = "plinear", control = nls.control(maxiter = 500, tol = 1e-6))
    c <- summary(fit)$coefficients
    show(c[2, 1] + v[1], c[3, 1], c[1, 1], c[2, 2], c[3, 2], c[1, 2], summary(fit)$sigma)
  })
for (line in readLines(file("stdin"))) {
  part <- strsplit(line, "|", fixed = TRUE)[[1]]
  lists <- lapply(part[-1], function(x) scan(text = x, quiet = TRUE))
  tryCatch(do.call(what[[trimws(part[1])]], lists), error = function(e) cat("#", conditionMessage(e), "\n"))
}
"""


def by_r(requests):
    """The same requests to R."""
    rscript = tap.tool("Rscript", "r-base-core")
    lines = [" | ".join([what] + [" ".join(repr(float(x)) for x in numbers) for numbers in lists])
             for what, *lists in requests]
    with tempfile.TemporaryDirectory() as folder:
        program = pathlib.Path(folder) / "figures.R"
        program.write_text(PROGRAM)
        done = subprocess.run([rscript, "--vanilla", str(program)], text=True, timeout=250,
                              input="\n".join(lines) + "\n", capture_output=True, check=True)
    answers = done.stdout.splitlines()
    if len(answers) != len(lines):
        raise AssertionError(f"{len(lines)} requests, {len(answers)} answers: {done.stderr}")
    return [answer if answer.startswith("#") else [float(x) for x in answer.split()]
            for answer in answers]


def beside_r(requests):
    theirs = by_r(requests)
    return zip(requests, random_trials.figures(requests), theirs)


def relative(found, expected, allowance, what):
    tap.near(found, expected, allowance * abs(expected) + 1e-300, what)


@tap.case
def mean_sd_median_lag_1_and_the_intervals_are_rs():
    rng = random_trials.generator()
    names = ("mean", "sd", "median", "lag 1", "mean low", "mean high", "sd low", "sd high")
    requests = [("figures", random_trials.series(rng)) for _ in range(RUNS)]
    for _, ours, theirs in beside_r(requests):
        for name, found, expected in zip(names, ours[:4] + ours[6:], theirs):
            tap.near(found, expected, 1e-9 * max(abs(expected), 1e-2), name)


@tap.case
def mann_and_kendalls_p_is_rs_exact_or_with_its_correction_for_continuity():
    rng = random_trials.generator()
    requests = [("mann_kendall", random_trials.series(rng)) for _ in range(RUNS)]
    for (_, values), ours, theirs in beside_r(requests):
        # R takes an upper tail from 1: no nearer than 1e-14
        tap.near(ours[1], theirs[1], 1e-8 * theirs[1] + 1e-14, f"p of {len(values)} touches")


@tap.case
def welch_f_and_brown_forsythe_are_rs():
    rng = random_trials.generator()
    names = ("t", "dof", "p of t", "low", "high", "F", "p of F", "ratio low", "ratio high",
             "Brown-Forsythe", "p of Brown-Forsythe")
    requests = [("compare", random_trials.series(rng), random_trials.series(rng))
                for _ in range(RUNS)]
    for _, ours, theirs in beside_r(requests):
        for name, found, expected in zip(names, ours, theirs):
            # means about -40 cost t some 1e-11, whatever it is
            least = 1e-9 if name == "t" else 1e-14
            tap.near(found, expected, 1e-8 * abs(expected) + least, name)


@tap.case
def one_way_analysis_is_rs():
    rng = random_trials.generator()
    requests = []
    for _ in range(RUNS):
        sizes = [rng.randrange(1, 12) for _ in range(rng.randrange(2, 9))] + [3]
        seat = [rng.gauss(0, 0.02) for _ in sizes]
        numbers = [k for k, size in enumerate(sizes) for _ in range(size)]
        rng.shuffle(numbers)
        requests.append(("groups", [-40 + seat[k] + rng.gauss(0, 0.01) for k in numbers], numbers))
    for _, ours, theirs in beside_r(requests):
        for name, found, expected in zip(("SS between", "SS within", "F", "p"), ours,
                                         (theirs[0], theirs[1], theirs[2], theirs[3])):
            relative(found, expected, 1e-9, name)


@tap.case
def the_warm_up_is_that_of_rs_nls():
    rng = random_trials.generator()
    names = ("start", "rise", "tau", "sd of start", "sd of rise", "sd of tau", "residual sd")
    requests = [("warm_up", *random_trials.warm_up(rng)) for _ in range(RUNS)]
    compared = 0
    for _, ours, theirs in beside_r(requests):
        if isinstance(ours, str) or isinstance(theirs, str):
            continue  # one of them does not settle
        compared += 1
        for name, found, expected in zip(names, ours, theirs):
            relative(found, expected, 1e-5, name)
    if compared < 0.95 * RUNS:
        raise AssertionError(f"only {compared} of {RUNS} were fitted by both")


tap.run()
