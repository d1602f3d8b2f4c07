# SPDX-License-Identifier: GPL-3.0-or-later
"""The whole way, from solids that meet to the printed zero, at every top corner of the sample shop.

tools/sample-corner moves solids; it knows no formula for a zero. The plate's walls are unequal, so a
plate that is turned the wrong way shows at once.
"""
import json
import pathlib
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

CORNERS = ("front-left-top", "front-right-top", "back-left-top", "back-right-top")
SEEDS = range(1, 1 + tap.runs(4, 12))


def set_up(corner, seed):
    """(truth, touches as options) of a simulated set-up."""
    done = subprocess.run([tap.ROOT / "tools" / "sample-corner", corner, str(seed)],
                          capture_output=True, text=True, check=True)
    facts = [line.split() for line in done.stdout.splitlines()]
    truth = {name[-1]: float(value) for name, value in facts if name.startswith("truth_")}
    return truth, [f"--{name[-1]}={value}" for name, value in facts if name.startswith("touch_")]


def excess(corner, seed):
    """The error of each axis in units of what the program allows for."""
    truth, touches = set_up(corner, seed)
    done = subprocess.run([tap.program(), "zero", corner, "--shop",
                           tap.ROOT / "fixtures" / "shop" / "shop.json", "--plate", "offcut",
                           "--cutter", "quarter", "--json", *touches],
                          capture_output=True, text=True, check=True)
    answer = json.loads(done.stdout)
    return [abs(answer["zero"][a] - truth[a]) / answer["uncertainty"][a]["expanded"] for a in "xyz"]


def corner_is_found(corner):
    """95 % intervals: of 36 figures 34 are expected inside, of 12 at least 10, and none far outside."""
    found = [ratio for seed in SEEDS for ratio in excess(corner, seed)]
    inside = sum(ratio <= 1 for ratio in found)
    if inside < len(found) * 8 // 9 or max(found) > 2:
        raise AssertionError(f"{inside} of {len(found)} inside, the worst at {max(found):.2f} U")


for a_corner in CORNERS:
    tap.add(f"the true {a_corner} corner lies within what is allowed for", corner_is_found, a_corner)


@tap.case
def a_seed_always_gives_the_same_set_up():
    tap.equal(set_up("front-left-top", 5), set_up("front-left-top", 5))
    tap.equal(set_up("front-left-top", 5) == set_up("front-left-top", 6), False)


@tap.case
def a_corner_or_seed_that_is_none_is_refused_in_words():
    for words, part in ((["front-lift-top"], "front-left-top (default)"),
                        (["front-left-top", "x"], 'SEED is a whole number, as in 7; found "x"'),
                        (["front-left-top", ""], "SEED is a whole number"),
                        (["front-left-top", "1", "2"], "tools/sample-corner [CORNER [SEED]]")):
        done = subprocess.run([tap.ROOT / "tools" / "sample-corner", *words], capture_output=True,
                              text=True)
        tap.equal(done.returncode, 2, f"exit code of {words}")
        tap.equal(done.stdout, "", f"output of {words}")
        if part not in done.stderr or "Traceback" in done.stderr:
            raise AssertionError(f"{words}: {done.stderr}")


tap.run()
