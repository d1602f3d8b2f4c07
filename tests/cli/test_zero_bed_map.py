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


def places(columns=range(0, 1101, 100), rows=range(0, 701, 100)):
    return [(x, y) for y in rows for x in columns]


def write_places(name, chosen, lift=lambda x, y: 0.0):
    rows = ["x,y,z"] + [f"{x},{y},{height(x, y) + lift(x, y):.5f}" for x, y in chosen]
    (pathlib.Path(WORK.name) / name).write_text("\n".join(rows) + "\n")


def asked(name, plate, wanted, *more):
    return zero("bottom", "--plate", "slab", "--z", f"{height(*plate) + THICKNESS:.4f}", "--seat", "bed", "--bed-map", name,
                "--plate-at", f"{plate[0]},{plate[1]}", "--zero-at", f"{wanted[0]},{wanted[1]}", "--json", *more)


def refused(done, code, *words):
    tap.equal((done.returncode, done.stdout), (code, ""), done.stderr)
    for word in words:
        assert word in done.stderr, done.stderr


@tap.case
def a_height_in_a_hole_is_refused_on_either_side():
    write_places("hole.csv", [p for p in places() if not (300 <= p[0] <= 700 and 200 <= p[1] <= 500)])
    refused(asked("hole.csv", (50, 50), (500, 350)), 5, "--zero-at: the zero, X 500.000 Y 350.000", "in a hole of the map")
    refused(asked("hole.csv", (500, 350), (50, 50)), 5, "--plate-at: where the plate sat", "in a hole of the map")
    # the cell at the hole's rim has two corners that nobody touched
    refused(asked("hole.csv", (50, 50), (250, 350)), 5, "X 300.000 Y 300.000 was not touched")
    tap.equal(asked("hole.csv", (50, 50), (150, 350)).returncode, 0)
    tap.equal(asked("hole.csv", (50, 50), (200, 350)).returncode, 0, "on the rim")


@tap.case
def a_crossing_that_was_filled_in_is_no_touch():
    write_places("clamp.csv", [p for p in places() if p != (500, 300)])
    refused(asked("clamp.csv", (50, 50), (530, 330)), 5, "X 500.000 Y 300.000 was not touched; touch it, too")
    tap.equal(asked("clamp.csv", (50, 50), (650, 330)).returncode, 0)


@tap.case
def triangles_across_what_nobody_touched_are_refused():
    # an L, turned by a slope of 0.2, so that it has no rows
    chosen = [(x + 0.2 * y, y - 0.2 * x + 240) for x, y in places(rows=range(0, 501, 100)) if x < 300 or y < 200]
    write_places("l.csv", chosen)
    refused(asked("l.csv", (90, 274), (456, 480)), 5, "--zero-at: the zero", "four times the usual distance")
    tap.equal(asked("l.csv", (90, 274), (620, 220)).returncode, 0)


@tap.case
def lines_that_were_left_out_all_along_are_no_map():
    write_places("gap.csv", places(columns=(0, 100, 200, 300, 800, 900, 1000)))
    refused(asked("gap.csv", (50, 50), (500, 350)), 5, "--zero-at: the zero", "two lines of touches that are 500.000 mm apart")
    for wanted in ((250, 350), (300, 350), (850, 350)):
        tap.equal(asked("gap.csv", (50, 50), wanted).returncode, 0, f"{wanted}")
    bed = subprocess.run([tap.program(), "bed", "gap.csv"], cwd=WORK.name, capture_output=True, text=True, check=False)
    assert "two lines of touches are 500.000 mm apart" in bed.stderr, bed.stderr
    write_places("uneven.csv", places(columns=(0, 100, 200, 300, 700, 800, 900, 1000)))
    tap.equal(asked("uneven.csv", (50, 50), (500, 350)).returncode, 0, "four times is not more than four times")


@tap.case
def a_chip_beside_a_place_is_named():
    write_places("chip.csv", places(), lift=lambda x, y: 0.6 * ((x, y) == (500, 300)))
    for wanted in ((500, 300), (520, 320), (420, 290)):
        refused(asked("chip.csv", (50, 50), wanted), 5, "--zero-at: the height at the zero",
                "rests on the touch at X 500.000 Y 300.000", "higher than its neighbours say", "touch it again")
    refused(asked("chip.csv", (520, 320), (50, 50)), 5, "--plate-at: the height at where the plate sat")
    elsewhere = asked("chip.csv", (50, 50), (820, 610))
    tap.equal(elsewhere.returncode, 0, elsewhere.stderr)
    assert "1 suspect place elsewhere" in elsewhere.stderr, elsewhere.stderr
    tap.near(json.loads(elsewhere.stdout)["bed_rise"], height(820, 610) - height(50, 50), 2e-5, "rise")


@tap.case
def of_several_series_one_has_to_be_named():
    rows = ["x,y,z,series"] + [f"{x},{y},{height(x, y):.5f},bed" for x, y in places()]
    (pathlib.Path(WORK.name) / "two.csv").write_text("\n".join(rows + ["350,350,-40,corner"]) + "\n")
    refused(asked("two.csv", (50, 50), (330, 330)), 2, "--map-series: two.csv has several series, bed and corner among them")
    refused(asked("two.csv", (50, 50), (330, 330), "--map-series", "bad"), 3, "--map-series: no series bad; there are bed, corner")
    named = asked("two.csv", (50, 50), (330, 330), "--map-series", "bed")
    tap.equal(named.returncode, 0, named.stderr)
    tap.near(json.loads(named.stdout)["zero"]["z"], height(330, 330), 1.1e-4, "zero")
    refused(zero("bottom", "--plate", "slab", "--z", "-70", "--map-series", "bed"), 2, "--map-series: names touches in a map")


@tap.case
def the_map_is_held_against_the_machines_travel():
    write_places("off.csv", places(columns=range(2000, 3101, 100)))
    refused(asked("off.csv", (2050, 50), (2500, 350)), 3, "off.csv:2: X 2000.000 is outside the travel of the machine")


@tap.case
def what_the_map_warns_of_is_passed_on():
    write_places("inch.csv", places(columns=range(0, 45, 4), rows=range(0, 29, 4)))
    done = asked("inch.csv", (5, 5), (21, 17))
    tap.equal(done.returncode, 0, done.stderr)
    assert "warning: map of the bed: the points take up very little room" in done.stderr, done.stderr
    assert "map of the bed: the points" in " ".join(json.loads(done.stdout)["warnings"]), done.stdout


@tap.case
def too_few_places_do_not_tell_how_well_they_foretell():
    write_places("eight.csv", places(columns=(0, 300, 600, 900), rows=(0, 600)))
    refused(asked("eight.csv", (50, 50), (500, 350)), 5, "--bed-map: 8 places are too few", "9 places or more")
    one = asked("eight.csv", (50, 50), (50, 50))
    tap.equal(one.returncode, 0, one.stderr)
    tap.near(json.loads(one.stdout)["zero"]["z"], height(50, 50), 1.1e-4, "zero where the plate sat")


tap.run()
