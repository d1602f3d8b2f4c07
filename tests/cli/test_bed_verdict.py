# SPDX-License-Identifier: GPL-3.0-or-later
"""What `trueup bed` decides, where a careless decision would cost stock or a bed: jobs on scattered places,
too few places, suspects, places nobody touched, heights that are not the bed's.

The beds are closed forms; what a case expects is a pencil's figure or one of the answer's own that was
worked out another way.
"""
import json
import pathlib
import subprocess
import sys
import tempfile

import numpy

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

WORK = tempfile.TemporaryDirectory()
SHOP = tap.ROOT / "fixtures" / "shop" / "shop.json"


def write(name, rows, head="x,y,z"):
    path = pathlib.Path(WORK.name) / name
    path.write_text("\n".join([head, *(",".join(f"{v:.6f}" if isinstance(v, float) else str(v) for v in row)
                                       for row in rows)]) + "\n")
    return path.name


def bed(*arguments, code=0):
    done = subprocess.run([tap.program(), "bed", *map(str, arguments)], capture_output=True, text=True,
                          cwd=WORK.name, check=False)
    tap.equal(done.returncode, code, done.stderr)
    return " ".join(done.stdout.split()), done.stderr


def answer(*arguments, code=0):
    return json.loads(bed(*arguments, "--json", code=code)[0])


def says(text, *words):
    for word in words:
        assert word in text, (word, text)


def says_not(text, *words):
    for word in words:
        assert word not in text, (word, text)


def grid(height, columns=9, rows=7, step=50):
    return [(float(step * i), float(step * j), float(height(step * i, step * j)))
            for j in range(rows) for i in range(columns)]


# --- a part of the bed ---


@tap.case
def a_ridge_through_a_job_on_scattered_places_is_not_missed():
    random = numpy.random.default_rng(5)
    for turn in range(25):
        places = random.uniform((0, 0), (400, 300), (40, 2))
        ridge = [(float(x), float(y), float(0.5 - abs(x - 100 - y / 3) / 100)) for x, y in places]
        x, y = random.uniform(60, 200), random.uniform(50, 100)
        size = random.uniform(20, 120, 2)
        found = answer(write("ridge.csv", ridge), "--job", f"{x},{y},{size[0]},{size[1]}")
        tap.near(found["range_z"], found["surfacing"]["depth"] - 0.05, 1e-9, f"job {turn}: depth less the allowance")


@tap.case
def three_places_have_no_warp_for_noise_to_change():
    three = write("three.csv", [(0., 0., -80.), (300., 0., -80.1), (0., 200., -80.2)])
    for words in ([three, "--shop", SHOP], [write("twice.csv", [(0., 0., -80.), (0., 0., -80.01), (300., 0., -80.1),
                                                              (0., 200., -80.2)])]):
        found = answer(*words)
        tap.near(found["flatness"]["minimum_zone"]["FLTt"], 0, 1e-12, "three points lie in a plane")
        assert found["noise"]["repeatability"] > 0 and "true_interval" not in found["noise"], found["noise"]
        says_not(bed(*words)[0], "truly")


@tap.case
def places_beside_the_job_do_not_count_as_matched():
    name = write("same.csv", grid(lambda x, y: -80 + 0.0003 * x))
    change = answer(name, "--against", name, "--job", "100,100,150,100")["comparison"]
    tap.equal(change["matched"], 4 * 3)
    tap.equal(answer(name, "--against", name)["comparison"]["matched"], 63)


# --- the end ---

tap.run()
