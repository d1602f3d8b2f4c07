# SPDX-License-Identifier: GPL-3.0-or-later
"""`trueup zero --seat bed --bed-map`: the height is carried from where the plate sat to the zero.

The beds are closed forms, so the height under any place is known; the touch is what a plate of that
thickness would give there.
"""
import json
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

WORK = tempfile.TemporaryDirectory()
SHOP = tap.ROOT / "fixtures" / "shop" / "shop.json"
THICKNESS = next(p for p in json.loads(SHOP.read_text())["plates"] if p["name"] == "slab")["thickness"]
THICKNESS = float(str(THICKNESS).split("+-", maxsplit=1)[0].rstrip("m")) if isinstance(THICKNESS, str) else THICKNESS


def height(x, y):
    return -80 + 0.002 * (x - 500) - 0.0015 * (y - 300) + 2e-6 * (x - 500) * (y - 300)


def zero(*arguments):
    return subprocess.run([tap.program(), "zero", *map(str, arguments), "--shop", str(SHOP)], cwd=WORK.name,
                          capture_output=True, text=True, check=False)


def write_map(name, step=100, noise=lambda i: 0.0):
    rows = ["x,y,z"]
    places = [(x, y) for y in range(0, 701, step) for x in range(0, 1101, step)]
    rows += [f"{x},{y},{height(x, y) + noise(i):.5f}" for i, (x, y) in enumerate(places)]
    (pathlib.Path(WORK.name) / name).write_text("\n".join(rows) + "\n")


write_map("bed.csv")
write_map("rough.csv", noise=lambda i: 0.02 * (((i * 7919) % 13) / 6 - 1))


def carried(target, plate, wanted, *more):
    touch = height(*plate) + THICKNESS
    done = zero(target, "--plate", "slab", "--z", f"{touch:.4f}", "--seat", "bed", "--bed-map", "bed.csv", "--plate-at",
                f"{plate[0]},{plate[1]}", "--zero-at", f"{wanted[0]},{wanted[1]}", *more, "--json")
    tap.equal(done.returncode, 0, done.stderr)
    return json.loads(done.stdout)


@tap.case
def the_bottom_is_where_the_bed_is_under_the_zero():
    for plate, wanted in (((150, 130), (820, 610)), ((820, 610), (150, 130)), ((333, 444), (333.5, 12)),
                          ((0, 0), (1100, 700))):
        answer = carried("bottom", plate, wanted)
        # bilinear between touches, as the bed is; what is left is the rounding of the touch
        tap.near(answer["zero"]["z"], height(*wanted), 1.1e-4, f"{plate} to {wanted}")
        tap.near(answer["bed_rise"], height(*wanted) - height(*plate), 2e-5, "rise")


@tap.case
def the_top_has_the_stock_above_that():
    answer = carried("top", (150, 130), (820, 610), "--stock-thickness", "18mm")
    tap.near(answer["zero"]["z"], height(820, 610) + 18, 1.1e-4, "top")


@tap.case
def without_a_place_the_corner_itself_is_taken():
    shop = json.loads(SHOP.read_text())
    cutter = next(c["name"] for c in shop["cutters"] if c["shape"] == "flat" and c["name"] == "quarter")
    touch = height(450, 250) + 9.53
    arguments = ["front-left-bottom", "--plate", "offcut", "--cutter", cutter, "--x", "700.000", "--y", "400.000", "--z",
                 f"{touch:.4f}", "--seat", "bed"]
    plain = json.loads(zero(*arguments, "--json").stdout)
    answer = json.loads(zero(*arguments, "--bed-map", "bed.csv", "--plate-at", "450,250", "--json").stdout)
    corner = plain["zero"]["x"], plain["zero"]["y"]
    tap.equal((answer["zero"]["x"], answer["zero"]["y"]), corner)
    tap.near(answer["zero"]["z"] - plain["zero"]["z"], height(*corner) - height(450, 250), 2e-5, "rise to the corner")


@tap.case
def a_rough_map_counts_in_the_budget_and_no_way_costs_nothing():
    touch = height(150, 130) + THICKNESS
    for wanted, expected in (("820,610", True), ("150,130", False)):
        done = zero("bottom", "--plate", "slab", "--z", f"{touch:.4f}", "--seat", "bed", "--bed-map", "rough.csv",
                    "--plate-at", "150,130", "--zero-at", wanted, "--json")
        tap.equal(done.returncode, 0, done.stderr)
        budget = json.loads(done.stdout)["uncertainty"]["z"]["budget"]
        parts = [part["standard"] for part in budget if part["source"] == "bed map"]
        tap.equal(bool(parts and parts[0] > 0.005), expected, str(parts))


@tap.case
def the_pencil_gets_the_rise_with_its_sign():
    touch = height(150, 130) + THICKNESS
    done = zero("bottom", "--plate", "slab", "--z", f"{touch:.4f}", "--seat", "bed", "--bed-map", "bed.csv", "--plate-at",
                "150,130", "--zero-at", "820,610", "--explain")
    rise = height(820, 610) - height(150, 130)
    assert f"+ {rise:.4f}, by which the bed is higher at the zero than under the plate" in done.stdout, done.stdout


tap.run()
