# SPDX-License-Identifier: GPL-3.0-or-later
"""Series at random and the figures that the library gives them, for scripts beside other programs."""
import math
import os
import random
import subprocess


def figures(requests):
    """[(what, list, ...)] -> a list of numbers each, by the test program trial_figures."""
    lines = [" | ".join([what] + [" ".join(repr(float(x)) for x in numbers) for numbers in lists])
             for what, *lists in requests]
    done = subprocess.run([os.environ["TRIAL_FIGURES"]], input="\n".join(lines) + "\n", text=True,
                          capture_output=True, timeout=120, check=True)
    answers = done.stdout.splitlines()
    if len(answers) != len(lines):
        raise AssertionError(f"{len(lines)} requests, {len(answers)} answers: {done.stderr}")
    return [[float(x) for x in answer.split()] if not answer.startswith("#") else answer
            for answer in answers]


def series(rng, count=None, kind=None):
    """Touches as they come: normal, in steps, drifting, with a chip, heavy tails; about -40 mm."""
    count = count or rng.choice((8, 9, 12, 20, 33, 49, 50, 75, 200))
    kind = rng.randrange(5) if kind is None else kind
    sd = rng.choice((0.002, 0.01, 0.05))
    values = [-40 + rng.gauss(0, sd) for _ in range(count)]
    if kind == 1:
        values = [round(x / 0.0125) * 0.0125 for x in values]
    elif kind == 2:
        values = [x + 0.1 * sd * i for i, x in enumerate(values)]
    elif kind == 3:
        values[rng.randrange(count)] += 10 * sd
    elif kind == 4:
        values = [-40 + sd * math.tan(math.pi * (rng.random() - 0.5) * 0.98) for _ in range(count)]
    if count > 3 and len(set(values)) < 3:
        values[0] += 0.0125
        values[1] -= 0.0125
    return values


def times(rng, count):
    """Ascending, some of them equal in one of three."""
    steps = rng.choice(((1,), (0, 1, 2), None))
    now, result = 0.0, []
    for _ in range(count):
        now += rng.choice(steps) if steps else rng.uniform(0.2, 3)
        result.append(now)
    result[-1] += 1
    return result


def warm_up(rng):
    """(times, values) of a machine that warms up, bent enough to be fitted."""
    count = rng.randrange(15, 80)
    step, rise = rng.uniform(5, 60), rng.choice((-1, 1)) * rng.uniform(0.02, 0.2)
    tau = count * step * rng.uniform(0.1, 0.6)
    at = [1000 + step * i + rng.uniform(0, step / 3) for i in range(count)]
    return at, [-12.5 + rise * (1 - math.exp(-(t - at[0]) / tau)) + rng.gauss(0, abs(rise) / 30)
                for t in at]


def generator():
    return random.Random(int(os.environ.get("TU_SEED", "20261125")))
