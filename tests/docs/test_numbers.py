# SPDX-License-Identifier: GPL-3.0-or-later
"""The numbers of the worked examples in docs/geometry.md, computed again by the program."""
import json
import math
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

PAGE = (tap.ROOT / "docs" / "geometry.md").read_text(encoding="utf-8")
SHOP = {
    "unit": "mm",
    "plates": [
        {"name": "outside", "thickness": 9.53,
         "walls": {"a": {"offset": 6.35, "faces": "outward", "touch_depth": 5}}},
        {"name": "over", "thickness": 9.53,
         "walls": {"a": {"offset": -20, "faces": "inward", "touch_depth": 5}}}],
    "cutters": [
        {"name": "full", "shape": "flat", "diameter": 6.35},
        {"name": "fluted", "shape": "flat", "diameter": 6.35, "flutes": 2, "turned_within_deg": 5},
        {"name": "ball", "shape": "ball", "diameter": 6}],
}


def solve(*words):
    """The program's answer on the shop above."""
    with tempfile.TemporaryDirectory() as folder:
        shop = pathlib.Path(folder) / "shop.json"
        shop.write_text(json.dumps(SHOP), encoding="utf-8")
        done = subprocess.run([tap.program(), "zero", *words, "--shop", shop, "--json"],
                              capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


def is_on_the_page(text):
    tap.equal(text in PAGE, True, f"{text!r} on the page")


def edge(face, plate, position, printed):
    found = solve(face, "--plate", plate, "--cutter", "full", "--x", position)["zero"]["x"]
    tap.equal(f"{found:.3f}", printed)
    is_on_the_page(f"= {printed}")


tap.add("the left edge of the worked example lies at 109.525", edge, "left", "outside", "100.000", "109.525")
tap.add("the right edge of the worked example lies at 410.475", edge, "right", "outside", "420.000", "410.475")
tap.add("the wall over the stock that looks inward gives 76.825", edge, "left", "over", "100.000", "76.825")


@tap.case
def a_ball_of_6_mm_at_2_mm_reaches_what_the_page_says():
    found = solve("left", "--plate", "outside", "--cutter", "ball", "--x", "100", "--depth", "2")
    tap.equal(f"{found['effective_radius']['x']:.3f}", "2.828")
    is_on_the_page("√(2 · 4) = 2.828 mm")


@tap.case
def a_quarter_inch_cutter_turned_within_5_degrees_loses_what_the_page_says():
    found = solve("left", "--plate", "outside", "--cutter", "fluted", "--x", "100")
    tap.equal(f"{3.175 - found['effective_radius']['x']:.3f}", "0.004")
    is_on_the_page("0.004 mm on average")


@tap.case
def half_a_degree_on_300_mm_is_what_the_page_says():
    # A pencil: 300 mm times tan(0.5 degrees).
    tap.equal(f"{300 * math.tan(math.radians(0.5)):.1f}", "2.6")
    is_on_the_page("2.6 mm on\na stock of 300 mm")


tap.run()
