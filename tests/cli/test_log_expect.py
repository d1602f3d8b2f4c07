#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`trueup log --expect PLAN` against the virtual machine: programs that `trueup plan` writes are
rehearsed, the touches of the rehearsal come in as lines of a device, and the log must mark them as
the rehearsal did, which moves solids and knows nothing of this logger. Then touches are lost,
repeated by hand, or land elsewhere.
"""
import json
import pathlib
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

SHOP = tap.ROOT / "fixtures" / "shop" / "shop.json"
SCENES = tap.ROOT / "fixtures" / "scenes"
PROGRAMS = {
    "corner": (["corner", "front-left-top", "--plate", "offcut", "--cutter", "quarter"],
               "front-left"),
    "corner that sets": (["corner", "front-left-top", "--plate", "offcut", "--cutter", "quarter",
                          "--set"], "front-left"),
    "corner in inches": (["corner", "front-left-top", "--plate", "offcut", "--cutter", "quarter",
                          "--unit", "in"], "front-left"),
    "turned corner": (["corner", "back-right-top", "--plate", "hook", "--cutter", "ball6"],
                      "hook-back-right"),
    "bore": (["corner", "front-right-top", "--plate", "ring", "--cutter", "pin"], "ring"),
    "grid": (["grid", "--cutter", "pin", "--area", "0,0,300,200", "--columns", "7", "--rows", "5"],
             "bed"),
    "trials": (["trials", "front-left-top", "--plate", "offcut", "--cutter", "quarter", "--axis",
                "x", "--touches", "20", "--feeds", "20,60"], "front-left"),
}


def call(*arguments, **more):
    return subprocess.run([tap.program(), *map(str, arguments)], capture_output=True, text=True,
                          timeout=60, **more)


def hits_of(path):
    records = [json.loads(line) for line in path.read_text().splitlines()[1:]]
    return [r for r in records if "kind" not in r], [r for r in records if "kind" in r]


def rehearsed(folder, name):
    """The program, and the touches that the virtual machine made of it."""
    plan, scene = PROGRAMS[name]
    program, log = folder / "plan.ngc", folder / "rehearsed.hits.jsonl"
    done = call("plan", *plan, "--shop", SHOP, "--out", program)
    tap.equal(done.returncode, 0, done.stderr)
    log.unlink(missing_ok=True)
    done = call("rehearse", program, "--scene", SCENES / f"{scene}.json", "--log", log)
    if done.returncode > 1 or not log.exists():
        raise AssertionError(done.stdout + done.stderr)
    return program, hits_of(log)[0]


def sentence(number, hit, tells_way=True):
    """As trueup's own firmware would send it (docs/device-lines.md)."""
    way = hit["axis"].upper() + hit["dir"] if tells_way else ""
    body = (f"TUHIT,{number},{1000 * number},{way},{hit['x']:.4f},{hit['y']:.4f},{hit['z']:.4f},,")
    crc = 0
    for byte in body.encode():
        crc ^= byte
    return f"${body}*{crc:02X}\r\n"


def hello():
    return sentence_of("TUHLO,bench probe,1.0,0")


def sentence_of(body):
    crc = 0
    for byte in body.encode():
        crc ^= byte
    return f"${body}*{crc:02X}\r\n"


def record(folder, program, lines):
    log = folder / "recorded.hits.jsonl"
    log.unlink(missing_ok=True)
    done = call("log", "--port", "-", "--out", log, "--expect", program, input="".join(lines))
    return done, *hits_of(log)


def marks(hits):
    return [(h["series"], h["axis"], h["dir"], h["ok"]) for h in hits]


def each_touch_is_marked_as_the_rehearsal_marks_it(name, tells_way):
    with tempfile.TemporaryDirectory() as text:
        folder = pathlib.Path(text)
        program, made = rehearsed(folder, name)
        lines = [sentence(i, hit, tells_way) for i, hit in enumerate(made, 1)]
        done, hits, others = record(folder, program, [hello(), *lines, lines[-1]])
        tap.equal(done.returncode, 0, done.stderr)
        tap.equal(done.stderr, "", "warnings")
        tap.equal(marks(hits), marks(made), "marks")
        tap.equal([r["kind"] for r in others], ["start", "hello", "end"], "records")
        tap.equal(others[-1]["text"], "all touches of the program came", "it ends by itself")


for name in PROGRAMS:
    tap.add(f"{name}: touches are marked as the rehearsal marks them",
            each_touch_is_marked_as_the_rehearsal_marks_it, name, True)
    tap.add(f"{name}: also where the lines do not say which axis moved",
            each_touch_is_marked_as_the_rehearsal_marks_it, name, False)


@tap.case
def lost_touches_are_skipped_and_the_rest_keep_their_marks():
    with tempfile.TemporaryDirectory() as text:
        folder = pathlib.Path(text)
        program, made = rehearsed(folder, "grid")
        for gone in (range(0, 1), range(5, 8), range(9, 10), range(60, 90), range(138, 140)):
            lines = [hello()] + [sentence(i + 1, hit) for i, hit in enumerate(made)
                                 if i not in gone]
            done, hits, others = record(folder, program, lines)
            tap.equal(done.returncode, 3, "not all came")
            kept = [hit for i, hit in enumerate(made) if i not in gone]
            wanted = marks(kept)
            if gone == range(0, 1):  # it may as well be the fast one, and something else was lost
                wanted[0] = (*wanted[0][:3], False)
            tap.equal(marks(hits), wanted, f"marks without {gone}")
            if gone.stop < len(made):
                tap.equal([r["count"] for r in others if r["kind"] == "lost"], [len(gone)], "lost")


@tap.case
def touches_missing_without_a_gap_in_the_numbers_are_found_by_their_place():
    with tempfile.TemporaryDirectory() as text:
        folder = pathlib.Path(text)
        program, made = rehearsed(folder, "grid")
        kept = made[:8] + made[12:]  # one point of the grid is not there at all
        done, hits, _ = record(folder, program, [sentence(i, h) for i, h in enumerate(kept, 1)])
        tap.equal(done.returncode, 3, done.stderr)
        tap.equal(marks(hits), marks(kept), "marks")
        if "this is touch 13 of 140 (bed z 13" not in done.stderr or "4 before it" not in done.stderr:
            raise AssertionError(done.stderr)


@tap.case
def a_circuit_tested_by_hand_before_the_start_is_not_taken_for_a_touch():
    with tempfile.TemporaryDirectory() as text:
        folder = pathlib.Path(text)
        for name in ("grid", "corner"):
            program, made = rehearsed(folder, name)
            # by hand: where the tip stood before it was brought to its start
            test = {**made[0], "x": made[0]["x"] - 80, "z": made[0]["z"] + 30}
            for hits_by_hand in (1, 2):
                lines = [sentence(i, hit) for i, hit in enumerate([test] * hits_by_hand + made, 1)]
                done, hits, _ = record(folder, program, lines)
                tap.equal(done.returncode, 0, done.stderr)
                tap.equal(marks(hits[hits_by_hand:]), marks(made), f"marks, {name}")
                # a second one at the same place looks as the program's own would
                tap.equal(hits[0]["ok"], False, "the first touch by hand")
                wanted = "came twice" if hits_by_hand == 1 else "the program started anew"
                if wanted not in done.stderr:
                    raise AssertionError(done.stderr)


@tap.case
def a_program_that_is_stopped_and_started_again_is_followed():
    with tempfile.TemporaryDirectory() as text:
        folder = pathlib.Path(text)
        for name in ("grid", "corner"):
            program, made = rehearsed(folder, name)
            for stopped in (3, 6, 11):
                again = [{**h, "x": h["x"] + 2.5, "y": h["y"] - 1.5} for h in made]
                lines = [sentence(i, h) for i, h in enumerate(made[:stopped] + again, 1)]
                done, hits, _ = record(folder, program, lines)
                tap.equal(done.returncode, 0, f"{name} {stopped}: {done.stderr}")
                tap.equal(marks(hits), marks(made[:stopped] + made), f"marks, {name}, {stopped}")
                if "the program started anew" not in done.stderr:
                    raise AssertionError(done.stderr)


def zero_of(folder):
    done = call("zero", "front-left-top", "--shop", SHOP, "--plate", "offcut", "--cutter", "quarter",
                "--log", folder / "recorded.hits.jsonl", "--json")
    tap.equal((done.returncode, done.stderr), (0, ""), "zero")
    return json.loads(done.stdout)["zero"]


@tap.case
def a_zero_is_worked_out_from_the_run_that_came_to_its_end_alone():
    with tempfile.TemporaryDirectory() as text:
        folder = pathlib.Path(text)
        program, made = rehearsed(folder, "corner")
        # the plate was pushed by less than what touches of one place may differ by
        again = [{**h, "x": h["x"] + 0.3, "y": h["y"] - 0.2} for h in made]
        done, _, _ = record(folder, program, [sentence(i, h) for i, h in enumerate(again, 1)])
        alone, figures = zero_of(folder), done.stdout.splitlines()[-3:]
        for stopped in (6, 9, 11):
            lines = [sentence(i, h) for i, h in enumerate(made[:stopped] + again, 1)]
            done, _, others = record(folder, program, lines)
            tap.equal([r["count"] for r in others if r["kind"] == "withdrawn"], [stopped + 1],
                      "touches withdrawn")
            tap.equal(zero_of(folder), alone, f"stopped after {stopped}")
            tap.equal(done.stdout.splitlines()[-3:], figures, "the figures at the end")


@tap.case
def a_touch_that_was_not_the_programs_is_taken_back():
    with tempfile.TemporaryDirectory() as text:
        folder = pathlib.Path(text)
        program, made = rehearsed(folder, "corner")
        done, _, _ = record(folder, program, [sentence(i, h) for i, h in enumerate(made, 1)])
        alone, figures = zero_of(folder), done.stdout.splitlines()[-3:]
        # the last slow touch of Z, made by hand 0.3 mm too high, with and without a stray behind it
        by_hand = {**made[3], "z": made[3]["z"] + 0.3}
        stray = {**made[3], "x": made[3]["x"] + 40}
        for more in ([by_hand], [by_hand, stray]):
            lines = made[:3] + more + made[3:]
            done, _, others = record(folder, program,
                                     [sentence(i, h) for i, h in enumerate(lines, 1)])
            tap.equal([r["count"] for r in others if r["kind"] == "withdrawn"], [len(more)],
                      "touches withdrawn")
            tap.equal(zero_of(folder), alone, "zero")
            tap.equal(done.stdout.splitlines()[-3:], figures, "the figures at the end")


@tap.case
def a_touch_that_was_counted_as_lost_and_comes_after_all_takes_nothing_back():
    with tempfile.TemporaryDirectory() as text:
        folder = pathlib.Path(text)
        program, made = rehearsed(folder, "corner")
        # a line between Z 4 and X 1 was lost: chatter, not the touch that is due
        lines = [sentence(i + (i > 4), h) for i, h in enumerate(made, 1)]
        done, hits, others = record(folder, program, lines)
        tap.equal(done.returncode, 0, done.stderr)
        tap.equal(marks(hits), marks(made), "marks")
        tap.equal([r["kind"] for r in others], ["start", "lost", "astray", "end"], "records")
        if "which was counted as lost" not in done.stderr:
            raise AssertionError(done.stderr)


@tap.case
def a_touch_that_lands_elsewhere_is_named_and_does_not_count():
    with tempfile.TemporaryDirectory() as text:
        folder = pathlib.Path(text)
        program, made = rehearsed(folder, "grid")
        stray = {**made[21], "x": made[21]["x"] + 37, "y": made[21]["y"] - 11}
        lines = [sentence(i, h) for i, h in enumerate(made[:21] + [stray] + made[21:], 1)]
        done, hits, others = record(folder, program, lines)
        tap.equal(done.returncode, 0, done.stderr)
        tap.equal(marks(hits[:21] + hits[22:]), marks(made), "marks")
        tap.equal(hits[21]["ok"], False, "the stray")
        said = [r["text"] for r in others if r["kind"] == "astray"]
        tap.equal(len(said), 1, "said once")
        wanted = rf"landed elsewhere z- at {stray['x']:.1f}, {stray['y']:.1f}, .* touch 22 of 140 " \
                 rf"\(bed z 22, line \d+\) goes z- from {made[21]['x']:.1f}, {made[21]['y']:.1f}, "
        if not re.search(wanted, said[0]) or said[0] not in done.stderr:
            raise AssertionError(said)


@tap.case
def a_touch_the_other_way_or_of_another_axis_does_not_count():
    with tempfile.TemporaryDirectory() as text:
        folder = pathlib.Path(text)
        program, made = rehearsed(folder, "corner")
        for change in ({"dir": "+"}, {"axis": "y"}):
            lines = [sentence(i, h) for i, h in
                     enumerate(made[:2] + [{**made[2], **change}] + made[2:], 1)]
            done, hits, _ = record(folder, program, lines)
            tap.equal(done.returncode, 0, done.stderr)
            tap.equal(hits[2]["ok"], False, f"{change}")
            tap.equal(marks(hits[:2] + hits[3:]), marks(made), "marks")


@tap.case
def a_source_that_ends_early_says_how_many_came():
    with tempfile.TemporaryDirectory() as text:
        folder = pathlib.Path(text)
        program, made = rehearsed(folder, "corner")
        done, hits, _ = record(folder, program, [sentence(i, h) for i, h in enumerate(made[:7], 1)])
        tap.equal(done.returncode, 3, done.stderr)
        tap.equal(len(hits), 7, "touches")
        if f"of its {len(made)} touches 7 came" not in done.stderr:
            raise AssertionError(done.stderr)


if __name__ == "__main__":
    tap.run()
