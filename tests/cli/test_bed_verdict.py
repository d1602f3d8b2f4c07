# SPDX-License-Identifier: GPL-3.0-or-later
"""What `trueup bed` decides, where a careless decision would cost stock or a bed: jobs on scattered places,
too few places, suspects, places nobody touched, heights that are not the bed's.

The beds are closed forms; what a case expects is a pencil's figure or one of the answer's own that was
worked out another way.
"""
import json
import pathlib
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

numpy = tap.need("numpy", "python3-numpy")
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


@tap.case
def shims_for_a_job_follow_its_slope_only_where_that_is_more_than_scatter():
    random = numpy.random.default_rng(2)
    noisy = write("noisy.csv", grid(lambda x, y: -80 + random.normal(0, 0.004)))
    small = [noisy, "--job", "176,126,20,20", "--shop", SHOP]
    tap.equal(answer(*small)["levelling"], [])
    said = bed(*small)[0]
    says(said, "levelling: the slope is no more than heights scatter")
    says_not(said, "him the ")
    steep = write("steep.csv", grid(lambda x, y: -80 + 0.002 * x + 0.001 * ((x + y) % 20)))
    says(bed(steep, "--job", "50,50,200,200", "--shop", SHOP)[0], "him the front left corner by", "to level the job")


# --- suspects that decide ---


def bowl(x, y):
    return -80 + 0.0004 * x + 1e-6 * (x - 200) ** 2 + 0.002 * numpy.sin(x * 0.7 + y * 1.3)


def with_chip(x, y, height):
    return [(a, b, z + (height if (a, b) == (x, y) else 0)) for a, b, z in grid(bowl)]


@tap.case
def a_chip_that_is_the_highest_place_is_named_before_anything_is_advised():
    clean = answer(write("clean.csv", grid(bowl)))
    chip = write("chip.csv", with_chip(200, 150, 0.6))
    text = bed(chip)[0]
    assert text.startswith("What follows rests on a suspect place at X 200.000 Y 150.000: look and touch it again"), text
    says(text, "Look before you shim or surface. As touched: ", "or surface 0.694 mm", "Without the suspects: shim the front left",
         "or surface 0.214 mm")
    says_not(text, "levelling does not help")
    says(text, "levelling, suspects included: add", "surfacing, suspects included: 0.694 mm deep")
    found = answer(chip)
    tap.equal((found["rests_on"]["x"], found["rests_on"]["y"]), (200, 150))
    without = found["without_suspects"]
    tap.near(without["range_z"], clean["range_z"], 1e-9, "the chip was on neither end of the clean bed")
    tap.near(without["surfacing_depth"], clean["surfacing"]["depth"], 1e-9, "depth")
    assert "rests_on" not in clean and "without_suspects" not in clean


@tap.case
def a_hole_does_not_send_the_cutter_down_without_a_word():
    hole = write("hole.csv", with_chip(300, 100, -1.5))
    says(bed(hole, "--depth-of-cut", "0.5")[0], "rests on a suspect place at X 300.000 Y 100.000",
         "in 4 passes to make it flat. Without the suspects: ", "in 1 pass")


@tap.case
def a_zero_in_the_middle_on_a_chip_is_told():
    clean = answer(write("clean.csv", grid(bowl)), "--overcut", "0.2")["through_cut"]
    chip = write("chip.csv", with_chip(200, 150, 0.6))
    text = bed(chip, "--overcut", "0.2")[0]
    says(text, "where the stock was zeroed rests on a suspect place, X 200.000 Y 150.000: state --zeroed-at")
    found = answer(chip, "--overcut", "0.2")
    tap.near(found["without_suspects"]["overcut_needed"], clean["overcut_needed"], 0.01, "beside the clean bed's")
    tap.equal(found["reference_rests_on"]["x"], 200)
    says_not(bed(chip, "--overcut", "0.2", "--zeroed-at", "50,50")[0], "where the stock was zeroed rests")


@tap.case
def a_chip_beside_a_job_that_raises_its_border_is_named_and_one_far_away_is_not():
    chip = write("chip.csv", with_chip(200, 150, 0.6))
    says(bed(chip, "--job", "210,160,60,60")[0], "What follows rests on a suspect place at X 200.000 Y 150.000")
    says_not(bed(chip, "--job", "300,200,80,80")[0], "suspect place at")


@tap.case
def what_a_suspect_does_not_change_is_said_once():
    corner = write("corner.csv", with_chip(0, 0, 0.6))
    says_not(bed(corner, "--overcut", "0.3")[0].split("A cut programmed")[1].split("heights, mm")[0], "Without the")


# --- heights that are hardly one bed's ---


@tap.case
def touches_on_a_plate_are_asked_about_and_nothing_is_advised():
    plate = write("plate.csv", [(x, y, z + (9.53 if x < 150 else 0)) for x, y, z in grid(bowl)])
    text = bed(plate, "--depth-of-cut", "0.5")[0]
    says(text, "two groups 9.", "of 42 and 21 places: touches on a plate, or of another series?")
    says_not(text, "him the", "passes", "levelling", "surfacing:")
    found = answer(plate)["parted"]
    tap.equal((found["lower"], found["upper"]), (42, 21))
    steep = write("steep.csv", grid(lambda x, y: -80 + 0.01 * x))
    says(bed(steep)[0], "4.050 mm to surface is more than a bed is out by")


# --- several series ---


@tap.case
def series_put_together_are_named_and_a_step_between_them_too():
    random = numpy.random.default_rng(8)
    places = grid(lambda x, y: bowl(x, y) + random.normal(0, 0.004))
    days = lambda step: [(x, y, z + (step if y > 150 else 0), "mon" if y <= 150 else "tue")  # noqa: E731
                         for x, y, z in places]
    told = bed(write("days.csv", days(0.5), "x,y,z,series"))[1]
    says(told, "2 series were put together as one map: mon, tue\n", "higher than mon")
    tap.near(float(re.search(r"series tue lies ([\d.]+) mm", told)[1]), 0.5, 0.01, "step planted")
    text = bed("days.csv")[0]
    says(text, "mm apart where they adjoin: as one map they are no bed, so nothing is advised.")
    says_not(text.split("heights, mm")[0], "him the", "urface 0")
    told = bed(write("calm.csv", days(0.0), "x,y,z,series"))[1]
    says(told, "2 series were put together as one map: mon, tue\n")
    says_not(told, "higher than")
    says_not(bed("days.csv", "--series", "mon")[1], "put together", "higher than")


@tap.case
def files_put_together_are_series_of_their_own():
    left = write("left.csv", [p for p in grid(bowl) if p[0] < 200])
    right = write("right.csv", [(x, y, z - 0.2) for x, y, z in grid(bowl) if x >= 200])
    says(bed(left, right)[1], "2 series were put together as one map: left.csv, right.csv",
         "series left.csv lies 0.20", "mm higher than right.csv")
    says_not(bed(left)[1], "put together")


# --- through cuts ---


@tap.case
def a_through_cut_keeps_a_reserve_for_what_touches_and_bed_scatter():
    random = numpy.random.default_rng(3)
    rough = write("rough.csv", grid(lambda x, y: -80 + random.normal(0, 0.01), 15, 11))
    found = answer(rough, "--overcut", "1")["through_cut"]
    # twice the standard deviation of a difference of two heights; 0.01 mm is what was planted
    tap.near(found["reserve"], 2 * 2**0.5 * 0.01, 0.2 * 2 * 2**0.5 * 0.01, "reserve, 165 heights")
    needed = found["overcut_needed"]
    says_not(bed(rough, "--overcut", needed + 0.9 * found["reserve"])[0], "and cuts through everywhere")
    says(bed(rough, "--overcut", needed + 0.9 * found["reserve"])[0], "by less than heights scatter, so a skin may stay")
    says(bed(rough, "--overcut", needed + 1.1 * found["reserve"])[0], "and cuts through everywhere", "with a reserve of")


@tap.case
def where_nothing_tells_the_scatter_the_missing_reserve_is_said():
    few = write("few.csv", [(0., 0., -80.), (300., 0., -80.1), (0., 200., -80.05), (300., 200., -80.2)])
    says(bed(few, "--overcut", "0.5")[0], "mm (no reserve in it: nothing tells how heights scatter) would be enough")
    assert "reserve" not in answer(few, "--overcut", "0.5")["through_cut"]
    says(bed(few, "--overcut", "0.5", "--shop", SHOP)[0], "mm (with a reserve of 0.011 mm) would be enough")  # 2 sqrt(2) 0.004 mm, the shop file


@tap.case
def the_reserve_is_what_the_bed_between_the_touches_may_be_lower():
    random = numpy.random.default_rng(11)
    x, y = numpy.meshgrid(numpy.linspace(0, 400, 161), numpy.linspace(0, 300, 121))
    with_it = without = 0
    for _ in range(60):
        waves = [(random.normal(0, 0.05), *random.normal(0, 0.0105, 2), random.uniform(0, 6.28)) for _ in range(6)]
        wavy = lambda x, y: -80 + sum(a * numpy.cos(p * x + q * y + f) for a, p, q, f in waves)  # noqa: E731, B023
        name = write("wavy.csv", grid(lambda x, y: wavy(x, y) + random.normal(0, 0.004)))
        cut = answer(name, "--overcut", "0.1")["through_cut"]
        needed = wavy(200, 150) - wavy(x, y).min()
        without += cut["overcut_needed"] >= needed
        with_it += cut["overcut_needed"] + cut["reserve"] >= needed
    assert with_it >= 57 and without < 45, (with_it, without)  # 95 % of 60; the touches alone do not tell


@tap.case
def what_nobody_touched_is_in_no_sentence_about_all_of_it():
    ell = write("ell.csv", [p for p in grid(bowl) if p[0] <= 150 or p[1] <= 100])
    job = [ell, "--job", "0,0,400,300", "--overcut", "0.5", "--zeroed-at", "100,100"]
    text = bed(*job)[0]
    says(text, "cuts through everywhere that was touched")
    says_not(text, "everywhere;")
    bed(*job, "--within", "0.9", code=5)


# --- the end ---

tap.run()
