#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every allocation, read, write, sync, rename, open and close of `trueup plan --out` fails once: the
whole program in its file and exit code 0, or exit code 4 with a line that says why and the file as it
was before. (The failures come from tests/support/fail_preload.c.)"""
import os
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

PRELOAD = os.environ.get("FAIL_PRELOAD", "")
LIMIT = 100000  # a run that still fails after so many calls is itself a fault
SHOP = """{"unit": "mm",
 "plates": [{"name": "offcut", "thickness": "9.53+-0.02",
             "walls": {"a": {"offset": 6, "faces": "outward", "touch_depth": 5}},
             "extent": {"a": [-60, 6], "b": [-60, 0]}}],
 "cutters": [{"name": "pin", "shape": "flat", "diameter": 6}]}
"""
OLD = "the old program\n"


def run(folder, words, call="", how="", at=0):
    mark = folder / "mark"
    environment = {**os.environ, "FAIL_CALL": call, "FAIL_HOW": how, "FAIL_AT": str(at),
                   "FAIL_MARK": str(mark)}
    if call:
        environment["LD_PRELOAD"] = PRELOAD
    done = subprocess.run([str(pathlib.Path(tap.program()).resolve()), "plan", *words, "--shop",
                           "shop.json", "--out", "touch.ngc"], cwd=folder, env=environment,
                          capture_output=True, text=True, timeout=60)
    failed = mark.exists()
    mark.unlink(missing_ok=True)
    return failed, done


def judge(folder, done, program, what):
    found = (folder / "touch.ngc").read_text()
    if done.returncode == 0:
        tap.equal(found, program, f"program, {what}")
        return
    tap.equal(done.returncode, 4, f"exit code, {what}: {done.stderr}")
    if found not in (OLD, program):
        raise AssertionError(f"{what}: a torn program, {len(found)} bytes")
    last = done.stderr.splitlines()[-1] if done.stderr else ""
    if not what.startswith("write") and not last.startswith("trueup plan: "):
        raise AssertionError(f"{what}: {done.stderr!r}")


def fail_each(words, call, how):
    if not PRELOAD:
        raise tap.Skip("no FAIL_PRELOAD in this build (sanitizers want to be loaded first)")
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        (folder / "shop.json").write_text(SHOP)
        _, done = run(folder, words)
        tap.equal(done.returncode, 0, done.stderr)
        program = (folder / "touch.ngc").read_text()
        at = 0
        while at < LIMIT:
            at += 1
            (folder / "touch.ngc").write_text(OLD)
            failed, done = run(folder, words, call, how, at)
            if not failed:
                tap.equal(done.returncode, 0, f"no failure, {call} {at}: {done.stderr}")
                break
            judge(folder, done, program, f"{call} {at}")
        if at == 1 or at >= LIMIT:
            raise AssertionError(f"{call}: {at - 1} calls failed")
        left = sorted(path.name for path in folder.iterdir())
        tap.equal(left, ["shop.json", "touch.ngc"], "files left")


CORNER = ["corner", "left"]
GRID = ["grid", "--area", "0,0,30,30", "--columns", "2", "--rows", "2", "--keep-out", "9,9,20,20"]
for fails, with_what in (("memory", "ENOMEM"), ("read", "EIO"), ("write", "ENOSPC"),
                         ("write", "SHORT"), ("sync", "EIO"), ("rename", "EACCES"),
                         ("open", "EMFILE"), ("close", "EIO")):
    tap.add(f"{fails} failing with {with_what}", fail_each, CORNER, fails, with_what)
tap.add("memory failing for a grid", fail_each, GRID, "memory", "ENOMEM")
tap.add("memory failing while JSON is written", fail_each, [*CORNER, "--json"], "memory", "ENOMEM")

if __name__ == "__main__":
    tap.run()
