#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every allocation, read, write, sync, rename, open and close of `trueup shop` fails once: the shop file
is the old one or the new one, a new one is there whole or not at all, a drawing goes with the answer,
nothing is left beside them, and exit code 4 with a reason where the work was not done. Where only the
answer was lost, the message says that the file was changed.

The failures come from tests/support/fail_preload.c. Without FAIL_PRELOAD (a build with a sanitizer,
which wants to be loaded first) the cases are skipped.
"""
import os
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

PRELOAD = os.environ.get("FAIL_PRELOAD", "")
LIMIT = 5000  # a run that still fails after so many calls is itself a fault
SHOP = """{"unit": "mm",
 "plates": [{"name": "p", "thickness": "9+-0.01"}],
 "table": {"things": [{"name": "clamp", "from": [0, 0, 0], "to": [9, 9, 9]}]}}
"""
# What is run, and whether there is a shop file before.
RUNS = {
    "add": (["add", "cutter", "eight", "shape=flat", "diameter=8+-0.01"], True),
    "remove": (["remove", "thing", "clamp", "--json"], True),
    "new": (["new", "unit=mm", "machine.step=0.01"], False),
    "show": (["show", "--svg", "t.svg"], True),
}


def run(folder, words, there, call="", how="", at=0):
    """A run with a failure planned; whether it came to pass, and the process."""
    for path in folder.iterdir():
        path.unlink()
    if there:
        (folder / "shop.json").write_text(SHOP)
    environment = {**os.environ, "FAIL_CALL": call, "FAIL_HOW": how, "FAIL_AT": str(at),
                   "FAIL_MARK": str(folder / "mark")}
    environment.pop("TRUEUP_SHOP", None)
    if call:
        environment["LD_PRELOAD"] = PRELOAD
    done = subprocess.run([str(pathlib.Path(tap.program()).resolve()), "shop", *words], cwd=folder,
                          env=environment, capture_output=True, text=True, timeout=60,
                          stdin=subprocess.DEVNULL)
    failed = (folder / "mark").exists()
    (folder / "mark").unlink(missing_ok=True)
    return failed, done, {path.name: path.read_text() for path in folder.iterdir()}


def judge(done, files, whole, new, there, what):
    """One run in which a call failed. whole: the answer; new: the files, both of a run without."""
    old = {"shop.json": SHOP} if there else {}
    shop = files.get("shop.json")
    if shop not in (old.get("shop.json"), new["shop.json"]):
        raise AssertionError(f"{what}: the shop file is neither the old nor the new one: {shop!r}")
    if set(files) - set(new):
        raise AssertionError(f"{what}: left {set(files) - set(new)}")
    if done.returncode == 0:
        tap.equal((files, done.stdout) == (new, whole), True, f"after success, {what}")
        return
    tap.equal(done.returncode, 4, f"exit code, {what}: {done.stderr}")
    if done.stdout == whole and what.startswith("close"):  # shown, only the end of the output failed
        tap.equal(files == new, True, f"after the whole answer, {what}")
        return
    tap.equal("t.svg" in files, False, f"drawing without its answer, {what}")
    last = done.stderr.splitlines()[-1] if done.stderr else ""
    if not what.startswith("write") and not last.startswith("trueup shop: "):
        raise AssertionError(f"{what}: {done.stderr!r}")
    changed = new["shop.json"] != old.get("shop.json")
    if changed and shop == new["shop.json"] and "all the same" not in last and last:
        raise AssertionError(f"{what}: changed, and nobody says so: {done.stderr!r}")


def fail_each(verb, call, how):
    if not PRELOAD:
        raise tap.Skip("no FAIL_PRELOAD in this build (sanitizers want to be loaded first)")
    words, there = RUNS[verb]
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        _, done, new = run(folder, words, there)
        tap.equal(done.returncode, 0, done.stderr)
        whole = done.stdout
        for at in range(1, LIMIT):
            failed, done, files = run(folder, words, there, call, how, at)
            if not failed:
                tap.equal((done.returncode, files), (0, new), f"no failure, {call} {at}")
                break
            judge(done, files, whole, new, there, f"{call} {at}")
        if at in (1, LIMIT - 1):
            raise AssertionError(f"{call}: {at - 1} calls failed")


CALLS = (("memory", "ENOMEM"), ("read", "EIO"), ("write", "ENOSPC"), ("write", "SHORT"),
         ("sync", "EIO"), ("rename", "EACCES"), ("open", "EMFILE"), ("close", "EIO"))
for verb in RUNS:
    for call, how in CALLS:
        if verb == "new" and call in ("read", "rename"):
            continue  # no such call; a new file takes its name by a link
        if verb == "show" and call not in ("memory", "open", "close"):
            continue  # thousands of writes of the frame, which other tests let fail
        tap.add(f"shop {verb}: {call} failing with {how}", fail_each, verb, call, how)
tap.run()
