# SPDX-License-Identifier: GPL-3.0-or-later
"""Touching a bed's suspects again: the program of `bed --re-touch` on the virtual machine, and what becomes of
the first touches once its log is beside theirs."""
import json
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

numpy = tap.need("numpy", "python3-numpy")
FIXTURES = tap.ROOT / "fixtures"
SHOP = FIXTURES / "shop" / "shop.json"
CLAMPS = ["--keep-out", "240,300,300,380", "--keep-out", "820,420,880,500"]
CHIPS = [(550, 450, 0.3), (950, 250, 0.25)]
WORK = pathlib.Path(tempfile.mkdtemp())


def run(*words, code=0):
    done = subprocess.run([tap.program(), *map(str, words)], cwd=WORK, capture_output=True, text=True, check=False)
    tap.equal(done.returncode, code, done.stdout + done.stderr)
    return done


def answer(*words):
    return json.loads(run("bed", *words, "--json").stdout)


def rehearse(program, log, chips, start, offset=(0, 0, -80)):
    """Over the bed with those of the chips, from that place; touches none of the clamps."""
    scene = json.loads((FIXTURES / "scenes" / "bed-chips.json").read_text())
    for x, y, height in CHIPS:
        if (x, y) not in chips:
            scene["bed"]["map"]["rows"][y // 50][x // 50] -= height
    bed = scene["bed"]["map"]["rows"][round(start[1]) // 50][round(start[0]) // 50] - 80
    scene["start"] = {"x": start[0], "y": start[1], "z": round(bed + 5, 3)}
    scene["offsets"] = {"G54": dict(zip("xyz", offset)), "G55": dict(zip("xyz", offset))}
    (WORK / "scene.json").write_text(json.dumps(scene))
    (WORK / log).unlink(missing_ok=True)
    run("rehearse", program, "--scene", "scene.json", "--log", log)


def first_map():
    if not (WORK / "first.jsonl").exists():
        run("plan", "grid", "--shop", SHOP, "--cutter", "pin", "--area", "50,50,1150,750", "--columns", 12, "--rows", 8,
            *CLAMPS, "--out", "bed.ngc")
        rehearse("bed.ngc", "first.jsonl", [(550, 450), (950, 250)], (50, 50))
    return "first.jsonl"


def again(*logs, name="again.ngc", active="0,0,-80", more=()):
    return answer(*logs, "--shop", SHOP, "--cutter", "pin", "--active", active, *CLAMPS, "--re-touch", name, *more)


@tap.case
def two_chips_are_touched_again_and_the_second_touches_count():
    found = again(first_map())
    tap.equal({(s["x"], s["y"]) for s in found["suspects"]}, {(550, 450), (950, 250)})
    plan = found["re_touch"]
    tap.equal((plan["points"], plan["skipped"], plan["file"]), (5, 0, "again.ngc"))
    rehearse("again.ngc", "again.jsonl", [], (plan["start"]["x"], plan["start"]["y"]))
    after = answer("first.jsonl", "again.jsonl")
    tap.equal((after["renewed"], after["points"], after["suspects"]), (5, 94, []))
    tap.equal(after["warnings"], [])
    whole = run("bed", "first.jsonl", "again.jsonl").stdout.replace("\n", " ")
    assert "5 places were touched again: the later touches count, 15 earlier ones do not." in whole, whole
    # The same figures as those of a bed that never had chips; noise of 0.003 mm, a step of 0.0125 mm.
    rehearse("bed.ngc", "clean.jsonl", [], (50, 50))
    clean = answer("clean.jsonl")
    tap.near(after["flatness"]["minimum_zone"]["FLTt"], clean["flatness"]["minimum_zone"]["FLTt"], 0.02, "FLTt")
    order = answer("again.jsonl", "first.jsonl")
    tap.equal(order["flatness"], after["flatness"], "whatever the order of the files")


@tap.case
def another_tool_length_is_refused_and_named():
    plan = again(first_map())["re_touch"]
    rehearse("again.ngc", "again.jsonl", [], (plan["start"]["x"], plan["start"]["y"]))
    hits = [json.loads(line) for line in (WORK / "again.jsonl").read_text().splitlines()]
    for shift, code in ((0.3, 3), (-0.3, 3), (0.02, 0)):
        rows = [f"{h['x']},{h['y']},{h['z'] + shift:.4f},re-touch" for h in hits if h.get("ok")]
        (WORK / "longer.csv").write_text("\n".join(["x,y,z,series"] + rows) + "\n")
        done = run("bed", "first.jsonl", "longer.csv", code=code)
        if code:
            assert "longer.csv: all 3 places touched again that were no suspects come out" in done.stderr, done.stderr
            assert ("higher" if shift > 0 else "lower") + " than before: another tool length" in done.stderr


@tap.case
def what_is_found_again_stays_a_suspect():
    plan = again(first_map())["re_touch"]
    rehearse("again.ngc", "still.jsonl", [(550, 450)], (plan["start"]["x"], plan["start"]["y"]))
    found = answer("first.jsonl", "still.jsonl")
    tap.equal([(s["x"], s["y"]) for s in found["suspects"]], [(550, 450)])
    rehearse("again.ngc", "gone.jsonl", [], (plan["start"]["x"], plan["start"]["y"]))
    tap.equal(answer("first.jsonl", "still.jsonl", "gone.jsonl")["suspects"], [], "the last log counts")
    tap.equal(len(answer("first.jsonl", "gone.jsonl", "still.jsonl")["suspects"]), 1, "the last log counts")


@tap.case
def the_program_runs_in_the_coordinates_of_the_slot():
    found = again(first_map(), name="moved.ngc", active="100.5,-20.25,-60", more=("--slot", "G55"))
    start = found["re_touch"]["start"]
    assert "G55" in (WORK / "moved.ngc").read_text()
    x, y = start["x"] + 100.5, start["y"] - 20.25
    assert (x, y) == (50, 50), (x, y)  # the clean place in front comes first
    rehearse("moved.ngc", "moved.jsonl", [], (x, y), (100.5, -20.25, -60))
    tap.equal(answer("first.jsonl", "moved.jsonl")["suspects"], [])


@tap.case
def the_program_in_inches_finds_the_same_places():
    points = " ".join(again(first_map(), name="inch.ngc", active="0,0,0", more=("--unit", "mm"))["re_touch"].keys())
    assert "start" in points
    done = run("bed", "first.jsonl", "--shop", SHOP, "--cutter", "pin", "--active", "0in,0in,-3.15in", "--unit", "in",
               "--re-touch", "inch.ngc", "--json")
    plan = json.loads(done.stdout)["re_touch"]
    assert "G20" in (WORK / "inch.ngc").read_text()
    rehearse("inch.ngc", "inch.jsonl", [], (plan["start"]["x"], plan["start"]["y"]))
    found = answer("first.jsonl", "inch.jsonl")
    tap.equal((found["renewed"], found["suspects"]), (5, []))


@tap.case
def a_clean_bed_leaves_the_file_alone_and_says_so():
    (WORK / "kept.ngc").write_text("mine\n")
    rehearse("bed.ngc" if first_map() else "", "clean.jsonl", [], (50, 50))
    done = run("bed", "clean.jsonl", "--shop", SHOP, "--cutter", "pin", "--active", "0,0,-80", "--re-touch", "kept.ngc")
    assert "no suspects, so nothing to touch again: kept.ngc is not written" in done.stdout
    tap.equal((WORK / "kept.ngc").read_text(), "mine\n")
    tap.equal(again("clean.jsonl", name="kept.ngc")["re_touch"], {"points": 0})


@tap.case
def touches_again_that_meet_no_place_are_told():
    rows = [(x, y, -60) for x in range(0, 500, 100) for y in range(0, 400, 100)]
    numpy.savetxt(WORK / "a.csv", rows, delimiter=",", header="x,y,z", comments="")
    (WORK / "b.csv").write_text("x,y,z,series\n100,100.4,-60.2,re-touch\n200,150,-60,re-touch\n")
    done = run("bed", "a.csv", "b.csv")
    assert "of the series re-touch, 1 place lies further than 0.5 mm from all" in done.stderr, done.stderr
    tap.equal(answer("a.csv", "b.csv")["renewed"], 1)
    (WORK / "b.csv").write_text("x,y,z,series\n100,100,-60.2,re-touch\n200,150,-60,re-touch\n250,150,-60,re-touch\n")
    done = run("bed", "a.csv", "b.csv")
    assert "of the series re-touch, 2 places lie further than 0.5 mm from all" in done.stderr, done.stderr


@tap.case
def two_rounds_in_one_log_count_as_they_were_touched_last():
    found = again(first_map())["re_touch"]
    start = (found["start"]["x"], found["start"]["y"])
    rehearse("again.ngc", "one.jsonl", [(550, 450)], start)
    rehearse("again.ngc", "two.jsonl", [], start)
    rows = {}
    for name in ("one", "two"):
        hits = [json.loads(line) for line in (WORK / f"{name}.jsonl").read_text().splitlines()]
        rows[name] = [f"{h['x']},{h['y']},{h['z']},re-touch" for h in hits if "z" in h and h.get("ok", True)]
        assert len(rows[name]) >= 4, hits
    head = ["x,y,z,series"]
    (WORK / "both.csv").write_text("\n".join(head + rows["one"] + rows["two"]) + "\n")
    (WORK / "last.csv").write_text("\n".join(head + rows["two"]) + "\n")
    both, last = answer("first.jsonl", "both.csv"), answer("first.jsonl", "last.csv")
    tap.equal((both["renewed"], both["suspects"]), (5, []))
    tap.equal(both["flatness"], last["flatness"])
    (WORK / "back.csv").write_text("\n".join(head + rows["two"] + rows["one"]) + "\n")
    tap.equal(len(answer("first.jsonl", "back.csv")["suspects"]), 1)


@tap.case
def two_rounds_of_one_place_alone_in_one_file_are_refused():
    rows = [(x, y, -60) for x in range(0, 500, 100) for y in range(0, 400, 100)]
    numpy.savetxt(WORK / "a.csv", rows, delimiter=",", header="x,y,z", comments="")
    (WORK / "b.csv").write_text("x,y,z,series\n100,100,-60.2,re-touch\n100,100,-60,re-touch\n")
    done = run("bed", "a.csv", "b.csv", code=3)
    for words in ("b.csv:2 and b.csv:3 are of one place", "give each a file of its own, the newest last"):
        assert words in done.stderr, done.stderr
    (WORK / "b.csv").write_text("x,y,z,series\n100,100,-60.2,re-touch\n")
    (WORK / "c.csv").write_text("x,y,z,series\n100,100,-60,re-touch\n")
    tap.equal(answer("a.csv", "b.csv", "c.csv")["range_z"], 0.0)


@tap.case
def what_is_too_high_for_a_program_is_named_with_what_to_do():
    rows = [(x, y, -60 + 0.01 * ((x // 100 + 3 * y // 100) % 3)) for y in range(0, 800, 100) for x in range(0, 1100, 100)]
    rows[25] = (rows[25][0], rows[25][1], -36)
    numpy.savetxt(WORK / "clamp.csv", rows, delimiter=",", header="x,y,z", comments="", fmt="%.3f")
    done = run("bed", "clamp.csv", "--shop", SHOP, "--cutter", "pin", "--active", "0,0,-80", "--re-touch", "no.ngc", code=3)
    for words in ("--re-touch: the touched places differ by 24.000 mm", "over 19.5 mm at most",
                  "look at X 300.000 Y 200.000 (clamp.csv:27), 23.9", "higher than its neighbours say"):
        assert words in done.stderr, done.stderr
    assert "--variation" not in done.stderr and not (WORK / "no.ngc").exists()


try:
    tap.run()
finally:
    for item in WORK.iterdir():
        item.unlink()
    WORK.rmdir()
