#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""From plan to zero on the command line: a planned program is rehearsed in a scene whose plate and
cutter are a few hundredths off, its log goes to zero, and the zero is the scene's true one within
what zero states and what the stock's angle does; a program that sets the offset sets the same."""
import json
import math
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

SHOP = str(tap.ROOT / "fixtures" / "shop" / "shop.json")
SCENES = tap.ROOT / "fixtures" / "scenes"
# plate, corner, cutter of the scene; the stock's angle in degrees moves X and Y besides
CHAINS = [("offcut", "front-left", "quarter", "front-left"),
          ("hook", "back-right", None, "hook-back-right"),
          ("ring", "front-right", "pin", "ring")]


def trueup(folder, *words):
    return subprocess.run([str(pathlib.Path(tap.program()).resolve()), *words], cwd=folder,
                          capture_output=True, text=True, timeout=60)


def good(folder, *words):
    done = trueup(folder, *words)
    tap.equal(done.returncode, 0, " ".join(words) + ": " + done.stderr)
    return done.stdout


def scene_in_window(folder, name, start, corner, stock):
    """The scene with its tip in the middle of the planned window."""
    scene = json.loads((SCENES / f"{name}.json").read_text())
    low = scene["stock"]["corner"]
    angle = math.radians(stock.get("angle_deg", 0))
    x, y = ("right" in corner) * stock["x"], ("back" in corner) * stock["y"]
    scene["start"]["x"] = low["x"] + x * math.cos(angle) - y * math.sin(angle) + start["x"]
    scene["start"]["y"] = low["y"] + x * math.sin(angle) + y * math.cos(angle) + start["y"]
    (pathlib.Path(folder) / "scene.json").write_text(json.dumps(scene))
    return scene


def chain(plate, corner, cutter, name, unit):
    scene = json.loads((SCENES / f"{name}.json").read_text())
    cutter = cutter or scene["cutter"]["name"]
    angle = abs(scene["stock"].get("angle_deg", 0))
    with tempfile.TemporaryDirectory() as folder:
        base = ["--shop", SHOP, "--plate", plate, "--cutter", cutter]
        plan = ["plan", "corner", f"{corner}-top", *base, "--unit", unit]
        summary = json.loads(good(folder, *plan, "--json"))
        scene_in_window(folder, name, summary["start"], corner, scene["stock"])
        good(folder, *plan, "--out", "touch.ngc")
        told = json.loads(good(folder, "rehearse", "touch.ngc", "--scene", "scene.json", "--json",
                               "--log", "touch.hits.jsonl"))
        tap.equal(told["verdict"], "clean")
        tap.equal(sum(hit["ok"] for hit in told["hits"]), summary["touches"], "touches that count")
        tap.equal(len(told["pauses"]), summary["pauses"], "pauses")
        zero = json.loads(good(folder, "zero", f"{corner}-top", *base, "--log", "touch.hits.jsonl",
                               "--json"))
        good(folder, *plan, "--set", "--out", "set.ngc")
        set_told = json.loads(good(folder, "rehearse", "set.ngc", "--scene", "scene.json",
                                   "--json"))
        for axis in "xyz":
            truth, found = told["truth"][axis], zero["zero"][axis]
            allowed = 1.5 * zero["uncertainty"][axis]["expanded"] + 0.0125
            if axis != "z":
                allowed += angle * 0.01746 * 40  # touched at most 40 mm from the corner
            if not abs(found - truth) <= allowed:
                raise AssertionError(f"{axis}: zero {found}, truth {truth}, allowed {allowed}")
            set_mm = set_told["offsets"][0][axis]
            # Another draw of the noise; three touches of 0.003 mm at most.
            if not abs(set_mm - found) <= 0.03:
                raise AssertionError(f"{axis}: set {set_mm}, zero {found}")


for plate_name, where, cutter_name, scene_name in CHAINS:
    for program_unit in ("mm", "in"):
        tap.add(f"{plate_name} on {where} in {program_unit}, planned, rehearsed, solved", chain,
                plate_name, where, cutter_name, scene_name, program_unit)


@tap.case
def a_start_outside_the_window_is_stopped_and_writes_no_log():
    with tempfile.TemporaryDirectory() as folder:
        good(folder, "plan", "corner", "front-left-top", "--shop", SHOP, "--plate", "offcut",
             "--cutter", "quarter", "--out", "touch.ngc")
        for name in ("start-outside", "clip-off", "plate-turned", "clamp"):
            done = trueup(folder, "rehearse", "touch.ngc", "--scene", str(SCENES / f"{name}.json"),
                          "--log", "touch.hits.jsonl")
            tap.equal(done.returncode, 1, name)
            tap.equal(done.stdout.startswith("Fault, line "), True, done.stdout)
            tap.equal((pathlib.Path(folder) / "touch.hits.jsonl").exists(), False, name)


@tap.case
def a_grid_goes_round_the_beds_clamps():
    scene = json.loads((SCENES / "bed.json").read_text())
    blocks = scene.get("blocks", [])
    tap.equal(len(blocks) > 0, True, "clamps in the scene")
    offset = scene["offsets"]["G54"]
    with tempfile.TemporaryDirectory() as folder:
        keep_outs = []
        for block in blocks:
            keep_outs.append("--keep-out=" + ",".join(
                str(block[end][axis] - offset[axis]) for end in ("from", "to") for axis in "xy"))
        start = scene["start"]
        area = f"{start['x'] - offset['x']},{start['y'] - offset['y']},950,650"
        plan = ["plan", "grid", "--shop", SHOP, "--cutter", "pin", "--area", area, "--columns", "8",
                "--rows", "10", "--repeats", "1", *keep_outs]
        summary = json.loads(good(folder, *plan, "--out", "bed.ngc", "--json"))
        tap.equal(summary["grid"]["points"] + summary["grid"]["skipped"], 80, "points")
        told = json.loads(good(folder, "rehearse", "bed.ngc", "--scene", str(SCENES / "bed.json"),
                               "--json"))
        tap.equal(told["verdict"], "clean", str(told.get("fault")))
        tap.equal(sum(hit["ok"] for hit in told["hits"]), summary["grid"]["points"], "heights")
        # The same area without keep-outs runs into one.
        good(folder, *plan[:-len(keep_outs)], "--out", "blind.ngc")
        done = trueup(folder, "rehearse", "blind.ngc", "--scene", str(SCENES / "bed.json"))
        tap.equal(done.returncode, 1, done.stdout)


@tap.case
def the_json_holds_the_program_that_goes_to_standard_output():
    with tempfile.TemporaryDirectory() as folder:
        plan = ["plan", "corner", "front-left-top", "--shop", SHOP, "--plate", "hook", "--cutter",
                "pin"]
        text = good(folder, *plan)
        told = json.loads(good(folder, *plan, "--json"))
        tap.equal("\n".join(told["program"]) + "\n", text)
        good(folder, *plan, "--out", "touch.ngc")
        tap.equal((pathlib.Path(folder) / "touch.ngc").read_text(), text)


if __name__ == "__main__":
    tap.run()
