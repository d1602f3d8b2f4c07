#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every allocation, read, write, sync, rename, open and close of `trueup plate --save` fails once: the
shop file is the old one or the new one, never anything else, nothing is left beside it, and exit code 4
with a reason where the work was not done. Where only the answer was lost, the message says that the
figures were saved.

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
SHOP = """{"unit": "mm",
 "plates": [{"name": "offcut", "thickness": "9.53+-0.02",
             "walls": {"a": {"offset": "6.35+-0.02", "faces": "outward", "touch_depth": 5}}}],
 "cutters": [{"name": "pin", "shape": "flat", "diameter": "6+-0.3"}]}
"""
ARGUMENTS = ["plate", "--shop", "shop.json", "--block-x", "60+-0.01", "--save",
             "--touch", "left/a/pin=100.000,100.002", "--touch", "right/a/pin=178.700,178.702",
             "--touch", "left/bare=106.350,106.352", "--touch", "face=-40.470,-40.472",
             "--touch", "seat=-50.000,-50.002"]


def run(folder, arguments, call="", how="", at=0):
    """A run with a failure planned; whether it came to pass, and the process."""
    mark = folder / "mark"
    (folder / "shop.json").write_text(SHOP)
    environment = {**os.environ, "FAIL_CALL": call, "FAIL_HOW": how, "FAIL_AT": str(at),
                   "FAIL_MARK": str(mark)}
    if call:
        environment["LD_PRELOAD"] = PRELOAD
    done = subprocess.run([str(pathlib.Path(tap.program()).resolve()), *arguments], cwd=folder,
                          env=environment, capture_output=True, text=True, timeout=60)
    failed = mark.exists()
    mark.unlink(missing_ok=True)
    return failed, done


def judge(folder, done, whole, new, what):
    """One run in which a call failed."""
    found = (folder / "shop.json").read_text()
    if found not in (SHOP, new):
        raise AssertionError(f"{what}: the shop file is neither the old nor the new one: {found!r}")
    tap.equal(sorted(path.name for path in folder.iterdir()), ["shop.json"], f"files left, {what}")
    if done.returncode == 0:
        tap.equal(found, new, f"shop file after success, {what}")
        tap.equal(done.stdout, whole, f"answer, {what}")
        return
    tap.equal(done.returncode, 4, f"exit code, {what}: {done.stderr}")
    last = done.stderr.splitlines()[-1] if done.stderr else ""
    if not what.startswith("write") and not last.startswith("trueup plate: "):
        raise AssertionError(f"{what}: {done.stderr!r}")
    if found == new and "saved" not in last and "Saved in" not in done.stdout and last:
        raise AssertionError(f"{what}: saved, and nobody says so: {done.stderr!r}")


def fail_each(call, how, *more):
    if not PRELOAD:
        raise tap.Skip("no FAIL_PRELOAD in this build (sanitizers want to be loaded first)")
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        arguments = [*ARGUMENTS, *more]
        _, done = run(folder, arguments)
        tap.equal(done.returncode, 0, done.stderr)
        whole, new = done.stdout, (folder / "shop.json").read_text()
        if new == SHOP:
            raise AssertionError("nothing was saved")
        for at in range(1, LIMIT):
            failed, done = run(folder, arguments, call, how, at)
            if not failed:
                tap.equal(done.returncode, 0, f"no failure, {call} {at}: {done.stderr}")
                break
            judge(folder, done, whole, new, f"{call} {at}")
        if at in (1, LIMIT - 1):
            raise AssertionError(f"{call}: {at - 1} calls failed")


for call, how in (("memory", "ENOMEM"), ("read", "EIO"), ("write", "ENOSPC"), ("write", "SHORT"),
                  ("sync", "EIO"), ("rename", "EACCES"), ("open", "EMFILE"), ("close", "EIO")):
    tap.add(f"{call} failing with {how}", fail_each, call, how)
tap.add("memory failing while JSON is written", fail_each, "memory", "ENOMEM", "--json")

if __name__ == "__main__":
    tap.run()
