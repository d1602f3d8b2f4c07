#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every allocation, read, write, sync, rename, open and close of `trueup bed --svg --re-touch` fails once:
map and program whole in their files and exit code 0, or exit code 4 with a line that says why and both
files as they were before. (The failures come from tests/support/fail_preload.c.)"""
import os
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

PRELOAD = os.environ.get("FAIL_PRELOAD", "")
LIMIT = 100000  # a run that still fails after so many calls is itself a fault
SHOP = """{"unit": "mm", "plates": [],
 "cutters": [{"name": "pin", "shape": "flat", "diameter": 6}]}
"""
FILES = ("map.svg", "again.ngc")
OLD = "what was there\n"


def heights(scattered):
    """A bed with a chip; scattered: its places stand in no rows, so that they are triangulated."""
    lines = ["x,y,z,series"]  # two of them, which are compared
    for i in range(6):
        for j in range(5):
            shift = 9 * ((3 * i + 5 * j) % 7) if scattered else 0
            z = -60 - 0.01 * i + 0.004 * i * j + (i == j == 2)
            lines.append(f"{100 * i + shift},{100 * j + 2 * shift},{z:.3f},{'ab'[i // 3]}")
    return "\n".join(lines) + "\n"


def run(folder, words, call="", how="", at=0):
    mark = folder / "mark"
    environment = {**os.environ, "FAIL_CALL": call, "FAIL_HOW": how, "FAIL_AT": str(at), "FAIL_MARK": str(mark)}
    if call:
        environment["LD_PRELOAD"] = PRELOAD
    done = subprocess.run([str(pathlib.Path(tap.program()).resolve()), "bed", "bed.csv", "--shop", "shop.json",
                           "--svg", "map.svg", "--re-touch", "again.ngc", "--active", "0,0,0", *words],
                          cwd=folder, env=environment, capture_output=True, text=True, timeout=60)
    failed = mark.exists()
    mark.unlink(missing_ok=True)
    return failed, done


def judge(folder, done, whole, what):
    found = [(folder / name).read_text() for name in FILES]
    if done.returncode == 0:
        tap.equal(found == whole, True, f"map and program whole, {what}")
        return
    tap.equal(done.returncode, 4, f"exit code, {what}: {done.stderr}")
    # Where syncing the folder or closing fails, the new text may stand; it is never a part of it.
    for name, text, new in zip(FILES, found, whole):
        if text not in (OLD, new):
            raise AssertionError(f"{what}: {name} is torn, {len(text)} bytes")
    last = done.stderr.splitlines()[-1] if done.stderr else ""
    if not what.startswith("write") and not last.startswith("trueup bed: "):
        raise AssertionError(f"{what}: {done.stderr!r}")
    if call_before_the_end(what) and found != [OLD, OLD]:
        raise AssertionError(f"{what}: failed, and files changed")


def call_before_the_end(what):
    return what.startswith(("memory", "read", "write"))


def fail_each(words, call, how, scattered=False):
    if not PRELOAD:
        raise tap.Skip("no FAIL_PRELOAD in this build (sanitizers want to be loaded first)")
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        (folder / "shop.json").write_text(SHOP)
        (folder / "bed.csv").write_text(heights(scattered))
        _, done = run(folder, words)
        tap.equal(done.returncode, 0, done.stderr)
        whole = [(folder / name).read_text() for name in FILES]
        at = 0
        while at < LIMIT:
            at += 97 if call == "write" else 1  # the map is thousands of writes
            for name in FILES:
                (folder / name).write_text(OLD)
            failed, done = run(folder, words, call, how, at)
            if not failed:
                tap.equal(done.returncode, 0, f"no failure, {call} {at}: {done.stderr}")
                break
            judge(folder, done, whole, f"{call} {at}")
        if at in (1, 97) or at >= LIMIT:
            raise AssertionError(f"{call}: {at - 1} calls failed")
        left = sorted(path.name for path in folder.iterdir())
        tap.equal(left, ["again.ngc", "bed.csv", "map.svg", "shop.json"], "files left")


for fails, with_what in (("memory", "ENOMEM"), ("read", "EIO"), ("write", "ENOSPC"), ("write", "SHORT"),
                         ("sync", "EIO"), ("rename", "EACCES"), ("open", "EMFILE"), ("close", "EIO")):
    tap.add(f"{fails} failing with {with_what}", fail_each, [], fails, with_what)
tap.add("memory failing while scattered places are triangulated", fail_each, [], "memory", "ENOMEM", True)
tap.add("memory failing while JSON is written", fail_each, ["--json", "--overcut", "0.1"], "memory", "ENOMEM")

if __name__ == "__main__":
    tap.run()
