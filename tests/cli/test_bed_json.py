# SPDX-License-Identifier: GPL-3.0-or-later
"""`trueup bed --json` and its table in docs/bed.md name the same keys; figures keep to what they are.

Answers of many kinds are made, so that each key is met; the figures that must fit together (a sum, an
order, a place inside the bed) are checked in each.
"""
import json
import math
import pathlib
import random
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

WORK = pathlib.Path(tempfile.mkdtemp())
SHOP = tap.ROOT / "fixtures" / "shop" / "shop.json"


def write(name, points):
    (WORK / name).write_text("x,y,z\n" + "".join(f"{x},{y},{z:.5f}\n" for x, y, z in points), encoding="utf-8")
    return name


def height(x, y):
    return -80 + 0.0003 * x + 4e-7 * (x - 500) * (y - 300)


CHANCE = random.Random(6)
BED = [(x, y, height(x, y) + CHANCE.gauss(0, 0.003)) for y in range(50, 700, 100) for x in range(50, 1000, 100)]
CHIP = [(x, y, z + (0.6 if (x, y) == (450, 350) else 0)) for x, y, z in BED]
write("bed.csv", BED)
write("twice.csv", BED + [(x, y, z + CHANCE.gauss(0, 0.003)) for x, y, z in BED[:20]])
write("chip.csv", CHIP)
write("plate.csv", [(x, y, z + (9 if x < 300 else 0)) for x, y, z in BED])
write("bed-front.csv", [(x, y, z) for x, y, z in BED if y < 300])
write("bed-back.csv", [(x, y, z + 0.3) for x, y, z in BED if y > 300])
write("before.csv", [(x, y, z + 0.5 + 1e-4 * x) for x, y, z in BED])
write("gap.csv", [(x if x < 500 else x + 600, y, z) for x, y, z in BED])
write("three.csv", [(0, 0, 1), (100, 0, 2), (0, 100, 3)])
write("anywhere.csv", [(x := CHANCE.uniform(0, 900), y := CHANCE.uniform(0, 600), height(x, y)) for _ in range(40)])

RUNS = {
    "a grid": ["bed.csv"],
    "touched twice": ["twice.csv", "--depth-of-cut", "0.1"],
    "a time": ["bed.csv", "--surfacer", "25", "--step-over", "15", "--feed", "2000"],
    "a job and a cut": ["bed.csv", "--job", "300,200,300,300", "--overcut", "0.1", "--within", "0.01"],
    "a comparison": ["bed.csv", "--against", "before.csv"],
    "three places": ["three.csv"],
    "columns left out": ["gap.csv"],
    "anywhere": ["anywhere.csv"],
    "supports": ["bed.csv", "--support", "0,0", "--support", "900,0", "--support", "400,600"],
    "again": ["chip.csv", "--shop", str(SHOP), "--cutter", "pin", "--active", "0,0,-80", "--re-touch", "again.ngc"],
    "nothing again": ["bed.csv", "--shop", str(SHOP), "--cutter", "pin", "--active", "0,0,-80", "--re-touch", "no.ngc"],
    "a chip at the zero": ["chip.csv", "--overcut", "0.1", "--zeroed-at", "450,350"],
    "a seam": ["bed-front.csv", "bed-back.csv"],
    "two groups": ["plate.csv"],
    "inches": ["three.csv", "--unit", "in"],
}


def run(arguments):
    done = subprocess.run([tap.program(), "bed", *arguments, "--json"], capture_output=True, text=True, cwd=WORK,
                          check=False)
    if done.returncode not in (0, 1):
        raise AssertionError(f"{arguments}: {done.stderr}")
    return json.loads(done.stdout, parse_constant=lambda word: tap.equal(word, "a number", "in JSON"))


def answers():
    return {name: run(arguments) for name, arguments in RUNS.items()}


def keys(value):
    if isinstance(value, list):
        return set().union(*map(keys, value)) if value else set()
    if isinstance(value, dict):
        return set(value) | set().union(set(), *map(keys, value.values()))
    return set()


def page_keys():
    page = (tap.ROOT / "docs" / "bed.md").read_text(encoding="utf-8")
    table = re.search(r"\| key \| holds \|\n\|---\|---\|\n((?:\|.*\n)+)", page).group(1)
    return set(re.findall(r"`(\w+)`", table))


@tap.case
def the_page_names_each_key_and_no_other():
    met = set().union(*map(keys, answers().values()))
    tap.equal(sorted(met - page_keys()), [], "keys that the page lacks")
    tap.equal(sorted(page_keys() - met), [], "keys of the page that no answer has")


@tap.case
def figures_that_belong_together_fit():
    for name, a in answers().items():
        squares, zone = a["flatness"]["least_squares"], a["flatness"]["minimum_zone"]
        tap.near(a["highest"]["z"] - a["lowest"]["z"], a["range_z"], 1e-9, f"{name}: range")
        tap.near(squares["FLTp"] + squares["FLTv"], squares["FLTt"], 1e-9, f"{name}: above and below")
        tap.equal(zone["FLTt"] <= squares["FLTt"] + 1e-9, True, f"{name}: no zone is narrower than the narrowest")
        tap.near(math.hypot(*zone["normal"]), 1, 1e-12, f"{name}: the normal is a unit vector")
        for p in zone["high"]:
            up = sum(n * (p[k] - zone["low"][0][k]) for n, k in zip(zone["normal"], "xyz")) if zone["low"] else 0
            tap.near(up, zone["FLTt"], 1e-9, f"{name}: contact places are the zone's width apart")
        tap.near(min(s["add"] for s in a["levelling"]), 0, 0, f"{name}: the highest support gets nothing")
        tap.near(sum(p["volume"] for p in a["surfacing"]["each"]), a["surfacing"]["volume"],
                 1e-6 * max(1, a["surfacing"]["volume"]), f"{name}: passes take the volume, mm3")
        tap.equal(a["surfacing"]["passes"], len(a["surfacing"]["each"]), f"{name}: passes")
        if "noise" in a and "true_interval" in a["noise"]:
            low, high = a["noise"]["true_interval"]
            tap.equal(low <= a["noise"]["best"] <= high, True, f"{name}: best within the interval")


@tap.case
def lengths_are_millimetres_whatever_the_units_asked_for():
    a = run(["three.csv", "--unit", "in"])
    tap.near(a["range_z"], 2 * 25.4, 1e-9, "range, mm")


@tap.case
def slopes_are_millimetres_per_metre():
    write("slope.csv", [(0, 0, 0), (1000, 0, 2), (0, 1000, -3), (1000, 1000, -1)])
    plane = run(["slope.csv"])["plane"]
    tap.near(plane["slope_x"], 2, 1e-9, "mm/m")
    tap.near(plane["slope_y"], -3, 1e-9, "mm/m")
    tap.near(plane["height_at_centre"], -0.5, 1e-9, "mm")


tap.run()
