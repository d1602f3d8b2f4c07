#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every allocation, read, write, sync, rename, open and close of `trueup trials --keep --svg` fails
once: the shop file is the old one or the new one, the picture is there whole or not at all, nothing is
left beside them, and exit code 4 with a reason where the work was not done.

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
LIMIT = 3000  # a run that still fails after so many calls is itself a fault
SHOP = '{"unit": "mm", "machine": {"step": 0.0025}}\n'
# Two seats, three touches each: every path of the figures, few calls.
TOUCHES = {"a.csv": "t,z,seat,dir\n0,1.0025,a,-\n20,1,b,-\n40,1.005,a,-\n60,1.0025,b,-\n80,0.9975,a,-\n"}
LOG = (tap.ROOT / "fixtures" / "trials" / "morning.hits.jsonl").read_bytes()
KEEP = ["trials", "a.csv", "--shop", "shop.json", "--keep", "--svg", "a.svg", "--chart"]
STUDY = ["trials", "a.csv", "--shop", "shop.json", "--by", "seat", "--svg", "a.svg", "--json"]
COMPARE = ["trials", "m.hits.jsonl", "--series", "warm", "--against", "cold", "--json"]
ONE_PASS = ["trials", "m.hits.jsonl", "a.csv", "--axis", "z", "--one-pass"]
INPUTS = ["a.csv", "m.hits.jsonl", "shop.json"]


def run(folder, arguments, call="", how="", at=0):
    """A run with a failure planned; whether it came to pass, and the process."""
    mark = folder / "mark"
    (folder / "shop.json").write_text(SHOP)
    (folder / "m.hits.jsonl").write_bytes(LOG)
    (folder / "a.svg").unlink(missing_ok=True)
    for name, text in TOUCHES.items():
        (folder / name).write_text(text)
    environment = {**os.environ, "FAIL_CALL": call, "FAIL_HOW": how, "FAIL_AT": str(at),
                   "FAIL_MARK": str(mark)}
    if call:
        environment["LD_PRELOAD"] = PRELOAD
    done = subprocess.run([str(pathlib.Path(tap.program()).resolve()), *arguments], cwd=folder,
                          env=environment, capture_output=True, text=True, timeout=60)
    failed = mark.exists()
    mark.unlink(missing_ok=True)
    return failed, done


def picture(folder):
    path = folder / "a.svg"
    return path.read_text() if path.exists() else ""


def judge(folder, done, good, what):
    """One run in which a call failed; good: answer, shop file, picture of a run without."""
    whole, shop, drawn = good
    found = (folder / "shop.json").read_text()
    if found not in (SHOP, shop):
        raise AssertionError(f"{what}: the shop file is neither the old nor the new one: {found!r}")
    left = sorted(path.name for path in folder.iterdir() if path.name != "a.svg")
    tap.equal(left, INPUTS, f"files left, {what}")
    if picture(folder) not in ("", drawn):
        raise AssertionError(f"{what}: half a picture")
    if done.returncode == 0:
        tap.equal((done.stdout, found, picture(folder)), good, f"success, {what}")
        return
    tap.equal(done.returncode, 4, f"exit code, {what}: {done.stderr}")
    last = done.stderr.splitlines()[-1] if done.stderr else ""
    if not what.startswith("write") and not last.startswith("trueup trials: "):
        raise AssertionError(f"{what}: {done.stderr!r}")
    if found == shop != SHOP and last and "kept" not in last and "Kept in" not in done.stdout:
        raise AssertionError(f"{what}: kept, and nobody says so: {done.stderr!r}")


def fail_each(arguments, call, how):
    if not PRELOAD:
        raise tap.Skip("no FAIL_PRELOAD in this build (sanitizers want to be loaded first)")
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        _, done = run(folder, arguments)
        tap.equal(done.returncode, 0, done.stderr)
        good = (done.stdout, (folder / "shop.json").read_text(), picture(folder))
        tap.equal(good[1] != SHOP, "--keep" in arguments, "whether something was kept")
        tap.equal(good[2] != "", "--svg" in arguments, "whether something was drawn")
        # a picture is thousands of writes, all on the same way: every 59th of them
        for at in range(1, LIMIT * 10, 59 if call == "write" else 1):
            failed, done = run(folder, arguments, call, how, at)
            if not failed:
                tap.equal(done.returncode, 0, f"no failure, {call} {at}: {done.stderr}")
                break
            judge(folder, done, good, f"{call} {at}")
        if at == 1 or failed:
            raise AssertionError(f"{call}: {at - 1} calls failed")


for call, how in (("memory", "ENOMEM"), ("read", "EIO"), ("write", "ENOSPC"), ("sync", "EIO"),
                  ("rename", "EACCES"), ("open", "EMFILE"), ("close", "EIO")):
    tap.add(f"{call} failing with {how} while a repeatability is kept", fail_each, KEEP, call, how)
tap.add("memory failing in a gauge study", fail_each, STUDY, "memory", "ENOMEM")
tap.add("memory failing in a comparison out of a log", fail_each, COMPARE, "memory", "ENOMEM")
tap.add("reading failing in a comparison out of a log", fail_each, COMPARE, "read", "EIO")
for call, how in (("memory", "ENOMEM"), ("read", "EIO"), ("open", "EMFILE")):
    tap.add(f"{call} failing with {how} in one pass", fail_each, ONE_PASS, call, how)

if __name__ == "__main__":
    tap.run()
